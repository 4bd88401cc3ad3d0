"""Closing with air: volumes, the most pressure and the order; each test names its source."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from builders import put, ruled, sound_job
from seasons.season_jobs import CLOSING, OPENING, closed, opened, piped

from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import verdicts
from fieldbook.checks.season.blow_out import air_limit, in_order, zone_air
from fieldbook.checks.verdicts import Answer
from fieldbook.records.ids import season_work_id, season_zone_id
from fieldbook.records.loaded_job import LoadedJob

NOW = datetime(2026, 11, 3, 12)
WORK = season_work_id(CLOSING)


def answer(job: LoadedJob) -> Answer:
    (found,) = [one for one in verdicts(job, NOW).answers if one.check == "season"]
    return found


def flags(job: LoadedJob) -> list[Finding]:
    return list(answer(job).flags)


def test_the_air_of_a_zone_is_that_of_its_pipe_in_the_record() -> None:
    """(pi/4)(d/12)^2 L at the minimum wall of ASTM D1785 and D2241; 64.7/14.7 at 50 psi."""
    job = piped(
        ("zone-1", "pvc sch 40", "1", 200.0),
        ("zone-1", "pvc sdr 21", "1", 120.0),
        ("zone-1", "pvc sdr 21", "3/4", 100.0),
    )
    air = zone_air(job, job.zones[0], 50.0)
    assert air.volume_ft3 == pytest.approx(2.597, abs=0.001)
    assert air.free_ft3 == pytest.approx(11.43, abs=0.01)
    assert air.seconds(10.0) == pytest.approx(69.0, abs=0.5)
    assert air.seconds(None) is None


def test_the_air_at_the_flow_of_a_zone() -> None:
    """Gpm / 7.48 x (p + 14.7) / 14.7: 17.3 gpm at 50 psi take 10.2 cfm of free air."""
    job = put(sound_job(1), "zone", "zone-1", design_flow_gpm=17.3)
    assert zone_air(job, job.zones[0], 50.0).pushing_cfm == pytest.approx(10.2, abs=0.1)


def test_a_run_without_its_size_leaves_the_time_unknown() -> None:
    job = piped(("zone-1", "pvc sch 40", "1", 200.0))
    job = put(job, "pipe_run", "run-zone-1-1", size=None)
    air = zone_air(job, job.zones[0], 50.0)
    assert [missing.words for missing in air.missing] == ["the size of lateral run 1 of zone 1"]
    assert air.seconds(10.0) is None


@pytest.mark.parametrize(
    ("pipe_class", "rating_psi", "psi"),
    [
        ("pvc sch 40", None, 50.0),  # a Texas water agency: at most 50 psi for PVC
        ("copper L", None, 80.0),  # the same: 80 psi for metal
        ("pe sidr", 80.0, 50.0),
        ("pe sidr", 40.0, 40.0),  # never over the lowest rating
        (None, None, 50.0),  # an unknown class is taken for plastic
    ],
)
def test_the_most_air_is_the_least_that_any_pipe_may_bear(
    pipe_class: str | None, rating_psi: float | None, psi: float
) -> None:
    job = piped(("zone-1", "pvc sch 40", "1", 50.0))
    job = put(job, "pipe_run", "run-zone-1-1", pipe_class=pipe_class, rating_psi=rating_psi)
    assert air_limit(job).psi == psi


def test_hot_air_takes_strength_from_pvc() -> None:
    """PVC at 140 F bears 0.22 of its rating: SDR 26, 160 psi, bears 35.2."""
    job = piped(("zone-1", "pvc sdr 26", "1", 50.0))
    assert air_limit(job, 140.0).psi == pytest.approx(35.2)
    assert air_limit(job, 73.0).psi == 50.0
    assert [flag.code for flag in flags(closed(job, air_deg_f=140))] == ["air over the limit"]
    assert flags(closed(job, air_deg_f=70)) == []


@pytest.mark.parametrize(("psi", "is_over"), [(45.0, False), (50.0, False), (51.0, True)])
def test_a_regulator_over_the_limit_is_a_stop_while_the_visit_goes_on(
    psi: float, is_over: bool
) -> None:
    found = flags(closed(regulator_psi=psi))
    assert [(flag.code, flag.severity) for flag in found] == (
        [("air over the limit", "stop")] if is_over else []
    )
    ended = put(closed(regulator_psi=psi), "visit", CLOSING, ended=True)
    assert [flag.severity for flag in flags(ended)] == (["fix"] if is_over else [])


def test_air_never_goes_through_the_assembly() -> None:
    """Coeur d'Alene, Idaho (2014): the air port is downstream of the assembly."""
    (found,) = flags(closed(air_enters="before the assembly"))
    assert (found.code, found.severity) == ("air through the assembly", "stop")
    assert "Coeur d'Alene" in found.source


@pytest.mark.parametrize("kind", ["PVB", "AVB", "RP", "DC"])
@pytest.mark.parametrize("off", [None, False, True])
def test_a_vacuum_breaker_is_removed_first(kind: str, off: bool | None) -> None:
    """Coeur d'Alene, Idaho (2014): a PVB or AVB is removed before air goes in."""
    job = put(sound_job(1), "backflow_assembly", "backflow-1", kind=kind)
    found = [flag for flag in flags(closed(job, breaker_off=off)) if "breaker" in flag.code]
    wanted = kind in ("PVB", "AVB") and off is not True
    assert [flag.code for flag in found] == (["remove the vacuum breaker first"] if wanted else [])
    for flag in found:
        assert "is to be removed first" in flag.sentence
    elsewhere = ruled(closed(job, breaker_off=off), "breaker_removed_for_air", False)
    assert not [flag for flag in flags(elsewhere) if "breaker" in flag.code]


def test_the_two_orders_of_the_zones() -> None:
    """Nearest first: a golf body, 2015; farthest and highest first: common practice, no source."""
    job = piped(
        (None, "pvc sch 40", "1", 40.0),
        (None, "pvc sch 40", "1", 60.0),
        ("zone-1", "pvc sch 40", "1", 10.0),
        ("zone-2", "pvc sch 40", "1", 30.0),
    )
    # Zone 2 is on the first run of the mainline, zone 1 at its end: 70 ft and 110 ft away.
    job = put(job, "valve", job.valves[1].id, main_run=1)
    assert [zone.number for zone in in_order(job, "nearest first")] == [2, 1]
    assert [zone.number for zone in in_order(job, "farthest and highest first")] == [1, 2]
    assert [zone.number for zone in in_order(job, None)] == [1, 2]


def test_a_closing_that_lacks_nothing_is_sound_and_each_thing_it_lacks_is_named() -> None:
    assert answer(closed()).word == "sound"
    for column, words in (
        ("eyes_covered", "that all eyes are covered"),
        ("regulator_psi", "what the regulator is set to"),
        ("air_enters", "where the air enters"),
        ("supply_shut", "that the system's water is shut"),
    ):
        found = answer(put(closed(), "season_work", WORK, **{column: None}))
        assert (found.word, found.missing[0].words) == ("not checked", words)
    job = put(closed(), "season_zone", season_zone_id(CLOSING, "zone-1"), emptied=None)
    assert [missing.words for missing in answer(job).missing] == ["zone 1 (lawn 1) emptied"]


def test_nothing_of_the_season_is_due_before_the_handover() -> None:
    lacking = {"eyes_covered": None, "regulator_psi": None}
    assert answer(put(closed(), "season_work", WORK, **lacking)).word == "not checked"
    assert answer(put(closed(sound_job(1)), "season_work", WORK, **lacking)).word == "not due"


def test_drained_pipe_needs_no_air_and_a_place_without_frost_nothing() -> None:
    drained = closed(way="drained by hand", air_enters=None, regulator_psi=None, eyes_covered=None)
    assert answer(drained).word == "sound"
    mild = put(sound_job(1), "visit", CLOSING, reason="winterising", held_on="2026-11-02")
    mild = put(mild, "season_work", WORK, visit_id=CLOSING, way="no frost here")
    assert answer(mild).word == "sound"


def test_a_small_compressor_is_a_note() -> None:
    job = put(sound_job(1), "zone", "zone-1", design_flow_gpm=17.3)
    (found,) = flags(closed(job, compressor_cfm=5.0))
    assert (found.code, found.severity) == ("small compressor", "note")
    assert "10.2 cfm" in found.sentence
    assert flags(closed(job, compressor_cfm=12.0)) == []


def test_the_meter_stands_still_in_spring() -> None:
    """A trade journal (2018): meter still with all shut is no leak."""
    assert answer(opened(held_on="2026-05-09")).word == "sound"
    (leak,) = flags(opened(held_on="2026-05-09", meter_still=False))
    assert (leak.code, leak.severity) == ("meter moves with all shut", "fix")
    assert answer(opened(meter_still=None)).word == "not checked"


def test_a_test_of_the_assembly_that_is_due_belongs_to_the_start_up() -> None:
    """Coeur d'Alene, Idaho (2014): the yearly test is made at the start-up."""
    found = answer(opened(held_on="2027-06-20"))
    assert any("that is due" in missing.words for missing in found.missing)
    assert answer(opened(held_on="2026-05-20")).word == "sound"


def test_only_the_newest_visit_of_the_season_is_looked_at() -> None:
    wrong_last_year = closed(regulator_psi=90.0)
    assert [flag.code for flag in flags(wrong_last_year)] == ["air over the limit"]
    later = opened(wrong_last_year)
    assert answer(later).thing == f"the start-up of {date(2027, 4, 20)}"
    assert flags(later) == []
    assert later.visits[-1].id == OPENING


def test_no_visit_of_the_season_is_nothing_to_check() -> None:
    job = put(sound_job(1), "visit", "visit-1", reason="repair", held_on="2026-08-01")
    assert not [one for one in verdicts(job, NOW).answers if one.check == "season"]
