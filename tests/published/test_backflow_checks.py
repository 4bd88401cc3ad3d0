"""Backflow heights through the whole job record, against published rules.

Height is measured from the critical level to the top of the highest retracted pop-up
(30 Tex. Admin. Code 344.50). Elevations are above one datum, the ground at the connection.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import (
    assembly,
    bare_job,
    checked,
    codes,
    field_test,
    lateral,
    mend,
    only,
    open_words,
    put,
    row,
    ruled,
    sound_job,
    without,
    words_of,
    zone,
)

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly

MOST_RP = "backflow_above_grade_most_in.RP"
TOO_NEAR, TOO_HIGH = "backflow too near grade", "backflow too high"


def heights_job(
    kind: str, level_in: float | None, head_in: float, local_in: float | None = None, **more: object
) -> LoadedJob:
    """One assembly over one zone of three heads, the middle one `head_in` above the datum."""
    runs, heads = lateral(1, (2.0, 2.0, 2.0))
    level_ft = None if level_in is None else level_in / 12.0
    job = bare_job(
        zones=(zone(1),),
        pipe_runs=runs,
        heads=heads,
        backflow_assemblies=(
            row(BackflowAssembly, "backflow-1", kind=kind, critical_level_ft=level_ft, **more),
        ),
    )
    job = put(job, "head", heads[1].id, elevation_ft=head_in / 12.0)
    if local_in is not None:
        rules = {"backflow_height_in": local_in, "backflow_code": "City Code 51"}
        job = put(job, "local_rules", "rules", **rules)
    return job


@pytest.mark.parametrize("kind", ["PVB", "SVB"])
@pytest.mark.parametrize(("level_in", "expected"), [(12.0, []), (11.9, ["backflow too low"])])
def test_a_vacuum_breaker_stands_12_in_over_the_highest_head(
    kind: str, level_in: float, expected: list[str]
) -> None:
    """30 Tex. Admin. Code 344.50(b)(3) and (4): 12 in; 11.9 in fails."""
    assert codes(heights_job(kind, level_in, 0.0)) == expected


def test_height_is_measured_to_a_head_on_a_bank_not_to_grade() -> None:
    """30 Tex. Admin. Code 344.50(b)(3): 18 in above grade, head 10 in above grade, 8 in clear."""
    job = heights_job("PVB", 18.0, 10.0)
    low = only(job, "backflow too low")
    assert low.severity == "stop"
    assert low.numbers[0].value == pytest.approx(8.0, abs=1e-9)
    assert "8 in over" in low.sentence
    assert "12 in" in low.sentence
    assert codes(mend(job, low, 22.0 / 12.0)) == []


@pytest.mark.parametrize(
    ("least_in", "expected"),
    [(6.0, []), (12.0, ["backflow too low"]), (18.0, ["backflow too low"])],
)
def test_an_atmospheric_vacuum_breaker_by_the_local_profile(
    least_in: float, expected: list[str]
) -> None:
    """6 in: Fort Worth TX City Code; 12 in: stricter common practice; 18 in: Ponca NE ch. 51."""
    job = heights_job("AVB", 6.0, 0.0, least_in)
    assert codes(job) == expected
    if expected:
        assert "City Code 51" in only(job, "backflow too low").source


@pytest.mark.parametrize("kind", ["AVB", "anti-siphon valves"])
def test_the_generic_default_is_the_stricter_12_in(kind: str) -> None:
    """Common practice, no source."""
    assert codes(heights_job(kind, 11.9, 0.0)) == ["backflow too low"]
    assert codes(heights_job(kind, 12.0, 0.0)) == []


@pytest.mark.parametrize(
    ("above_in", "expected"), [(11.0, ["backflow too near grade"]), (12.0, [])]
)
def test_an_rp_stands_12_in_above_grade(above_in: float, expected: list[str]) -> None:
    """30 Tex. Admin. Code 344.50(b)(2)."""
    job = heights_job("RP", None, 40.0, above_grade_in=above_in)
    assert codes(job) == expected


@pytest.mark.parametrize("kind", ["DC", "RP"])
def test_check_valve_assemblies_have_no_height_over_the_heads(kind: str) -> None:
    """30 Tex. Admin. Code 344.50 gives heights over the heads for vacuum breakers alone."""
    assert "backflow too low" not in codes(heights_job(kind, 0.0, 100.0))


def test_the_highest_head_of_every_zone_served_counts() -> None:
    """30 Tex. Admin. Code 344.50: the highest sprinkler downstream, whichever zone it is in."""
    job = heights_job("PVB", 14.0, 0.0)
    runs, heads = lateral(2, (2.0,))
    job = put(job, "zone", "zone-2", number=2)
    job = put(job, "pipe_run", runs[0].id, zone_id="zone-2", number=1, rise_ft=0.25)
    job = put(job, "head", heads[0].id, run_id=runs[0].id)
    low = only(job, "backflow too low")
    assert low.numbers[0].value == pytest.approx(11.0, abs=1e-9)
    assert "zone 2" in low.sentence


def test_the_rises_of_mainline_and_lateral_add_up_where_no_elevation_is_entered() -> None:
    """Geometry: 1.5 ft connection + 0.5 ft main + 2 x 0.25 ft lateral = 2.5 ft."""
    job = heights_job("PVB", 42.0, 0.0)
    job = put(job, "supply", "supply", elevation_ft=1.5)
    job = put(job, "pipe_run", "main-1", number=1, rise_ft=0.5)
    for number in (1, 2):
        job = put(job, "pipe_run", f"run-1-{number}", rise_ft=0.25)
    job = put(job, "head", job.heads[1].id, elevation_ft=None)
    assert codes(job) == []
    low = only(
        put(job, "backflow_assembly", "backflow-1", critical_level_ft=3.4), "backflow too low"
    )
    assert low.numbers[0].value == pytest.approx((3.4 - 2.5) * 12.0)


@pytest.mark.parametrize(
    ("table", "row_id", "column", "words"),
    [
        ("backflow_assembly", "backflow-1", "critical_level_ft", "the critical level"),
        ("pipe_run", "run-1-2", "rise_ft", "the elevation of everything in zone 1"),
        ("pipe_run", "main-1", "rise_ft", "the elevation of everything in zone 1"),
    ],
)
def test_a_height_is_not_sound_while_an_elevation_is_unknown(
    table: str, row_id: str, column: str, words: str
) -> None:
    """30 Tex. Admin. Code 344.50(b)(3): over "any downstream piping and the highest opening"."""
    assert words_of(sound_job(1), "backflow height") == {"sound"}
    job = put(sound_job(1), table, row_id, **{column: None})
    heights = [one for one in checked(job).answers if one.thing.startswith("height of")]
    assert [one.word for one in heights] == ["not checked"]
    assert any(said.startswith(words) for said in open_words(job, "backflow height"))


def test_a_pipe_over_the_assembly_counts_as_well_as_a_sprinkler() -> None:
    """30 Tex. Admin. Code 344.50(b)(3): 12 in over every head, but 10 in over a pipe, fails."""
    job = put(sound_job(1), "backflow_assembly", "backflow-1", critical_level_ft=1.0)
    assert codes(job) == []
    hump = put(job, "pipe_run", "run-1-1", rise_ft=2.0 / 12.0)
    hump = put(hump, "pipe_run", "run-1-2", rise_ft=-2.0 / 12.0)
    for head in hump.heads:
        hump = put(hump, "head", head.id, elevation_ft=0.0)
    low = only(hump, "backflow too low")
    assert low.numbers[0].value == pytest.approx(10.0)
    assert "pipe" in low.sentence


def test_a_zone_said_to_be_no_higher_is_sound_unless_an_elevation_says_otherwise() -> None:
    """30 Tex. Admin. Code 344.50(b)(3); the connection is at the datum."""
    job = put(sound_job(1), "pipe_run", "run-1-2", rise_ft=None)
    job = put(job, "zone", "zone-1", no_higher=True)
    assert words_of(job, "backflow height") == {"sound"}
    high = put(job, "head", job.heads[0].id, elevation_ft=1.0)
    assert only(high, "backflow too low").numbers[0].value == pytest.approx(6.0)


@pytest.mark.parametrize(
    ("key", "kind", "least_in", "stands", "code"),
    [
        # Ponca, Nebraska, chapter 51: 18 in above the highest point.
        ("backflow_height_in.AVB", "AVB", 18, {"critical_level_ft": 17.9 / 12}, "backflow too low"),
        ("backflow_height_in.AVB", "AVB", 18, {"critical_level_ft": 1.5}, None),
        # 30 Tex. Admin. Code 344.50(b)(2): an RP 12 in above the ground.
        ("backflow_above_grade_in.RP", "RP", 12, {"above_grade_in": 11.9}, TOO_NEAR),
        ("backflow_above_grade_in.RP", "RP", 12, {"above_grade_in": 12.0}, None),
        # Beverly Hills, California: an RP 12 to 36 in above the ground.
        (
            MOST_RP,
            "RP",
            36,
            {"above_grade_in": 40.0},
            TOO_HIGH,
        ),
        (MOST_RP, "RP", 36, {"above_grade_in": 36.0}, None),
    ],
)
def test_an_assembly_stands_as_the_local_set_says(
    key: str, kind: str, least_in: float, stands: dict[str, object], code: str | None
) -> None:
    job = replace(sound_job(1), backflow_assemblies=(assembly(kind, **stands),))
    if kind == "RP":
        job = replace(job, backflow_tests=(field_test(kind),))
    else:
        job = without(job, "backflow_test")
    assert codes(ruled(job, key, least_in)) == ([code] if code else [])


def test_an_rp_without_its_height_over_the_soil_is_not_checked() -> None:
    """30 Tex. Admin. Code 344.50(b)(2)."""
    job = replace(sound_job(1), backflow_assemblies=(assembly("RP", above_grade_in=None),))
    said = open_words(job, "backflow height")
    assert said == ["the height of the RP (left of the garage) over the soil"]


def test_pvc_in_the_sun_has_to_be_painted() -> None:
    """Plastic pipe association report UNI-TR-5."""
    job = heights_job("PVB", 24.0, 0.0, exposed_pvc=True, pvc_painted=False)
    sun = only(job, "pvc in the sun")
    assert (sun.severity, sun.place) == ("fix", "street")
    assert codes(mend(job, sun, True)) == []
    assert codes(heights_job("PVB", 24.0, 0.0, exposed_pvc=True)) == []
    assert codes(heights_job("PVB", 24.0, 0.0, exposed_pvc=False, pvc_painted=False)) == []


def test_local_rules_without_a_height_leave_the_default() -> None:
    """Common practice, no source: a blank cell takes the generic default."""
    job = heights_job("PVB", 11.0, 0.0)
    job = put(job, "local_rules", "rules", backflow_code="never used")
    assert "never used" not in only(job, "backflow too low").source


def test_zones_on_another_assembly_do_not_count() -> None:
    """30 Tex. Admin. Code 344.50: what is downstream of this assembly, and nothing else."""
    job = put(heights_job("PVB", 12.0, 0.0), "zone", "zone-1", backflow_id="backflow-1")
    runs, heads = lateral(2, (2.0,))
    job = put(job, "backflow_assembly", "backflow-2", kind="PVB", critical_level_ft=6.0)
    job = put(job, "zone", "zone-2", number=2, backflow_id="backflow-2")
    job = put(job, "pipe_run", runs[0].id, zone_id="zone-2", number=1)
    job = put(job, "head", heads[0].id, run_id=runs[0].id, elevation_ft=5.0)
    assert codes(job) == []
    low = only(put(job, "zone", "zone-2", backflow_id="backflow-1"), "backflow too low")
    assert low.at.row_id == "backflow-1"


def test_each_zone_says_which_of_several_assemblies_it_is_behind() -> None:
    """30 Tex. Admin. Code 344.50(b): each assembly over everything downstream of it."""
    job = sound_job(2)
    second = row(BackflowAssembly, "backflow-2", **{**_values(assembly()), "name": "by the well"})
    job = replace(job, backflow_assemblies=(*job.backflow_assemblies, second))
    missing = open_words(job, "backflow height")
    assert [f"the backflow assembly of zone {no} (lawn {no})" for no in (1, 2)] == missing[:2]
    for no, behind in ((1, "backflow-1"), (2, "backflow-2")):
        job = put(job, "zone", f"zone-{no}", backflow_id=behind)
    assert open_words(job, "backflow height") == []


def _values(held: BackflowAssembly) -> dict[str, object]:
    return {key: value for key, value in held.values().items() if key not in ("id", "job_id")}
