"""Flags on a zone's water: their severity, their cell, and when there are none yet."""

from __future__ import annotations

import pytest
from builders import (
    bare_job,
    codes,
    lateral,
    mend,
    only,
    own_values,
    put,
    row,
    sound_job,
    valve,
    without,
    zone,
)

from fieldbook.checks.finding import Finding
from fieldbook.checks.water.zone_solutions import speeds, zone_groups
from fieldbook.records.ids import head_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun


def last_psi(job: LoadedJob) -> float:
    """The pressure that zone 1's last head gets."""
    (water,) = zone_groups(job)
    return water.heads_of(job.zones[0])[-1][1].psi


def number(finding: Finding, name: str) -> float:
    """One figure of a flag."""
    return next(one.value for one in finding.numbers if one.name == name)


def job_at(part: float, **head: float | None) -> LoadedJob:
    """The sound job with zone 1 needing so much that its last head has `part` of it.

    Its heads get the columns given.
    """
    job = sound_job(1)
    job = put(job, "zone", "zone-1", needed_psi=last_psi(job) / part)
    for number in (1, 2, 3):
        job = put(job, "head", head_id(f"run-1-{number}"), **head)
    return job


@pytest.mark.parametrize(
    ("part", "code", "severity"),
    [
        (0.89, "pressure too low", "stop"),
        (0.91, "pressure too low", "fix"),
        (0.999, "pressure too low", "fix"),
        (1.01, "little pressure to spare", "note"),
        (1.09, "little pressure to spare", "note"),
    ],
)
def test_pressure_is_judged_by_what_the_zone_needs(part: float, code: str, severity: str) -> None:
    job = job_at(part)
    flag = only(job, code)
    assert (flag.severity, flag.place) == (severity, "ground")
    assert "run 3 of zone 1" in flag.sentence
    assert number(flag, "margin") == pytest.approx(last_psi(job) * (1 - 1 / part), abs=1e-6)


def test_a_tenth_and_3_psi_to_spare_have_no_flag() -> None:
    assert codes(job_at(1.11)) == []


def test_under_3_psi_to_spare_is_a_note_even_over_a_tenth() -> None:
    job = without(sound_job(1), "flow_test_point")
    job = put(job, "supply", "x", **_supply(job, 31.0))
    for run in (1, 2, 3):
        job = put(job, "head", head_id(f"run-1-{run}"), regulated_psi=None)
    psi = last_psi(job)
    assert 0 < psi < 30.0
    job = put(job, "zone", "zone-1", needed_psi=psi - 2.9)
    assert 2.9 / (psi - 2.9) > 0.1
    assert codes(job) == ["little pressure to spare"]
    assert codes(put(job, "zone", "zone-1", needed_psi=psi - 3.1)) == []


def _supply(job: LoadedJob, static_psi: float) -> dict[str, object]:
    """The job's supply with another static pressure."""
    assert job.supply is not None
    return {**own_values(job.supply), "static_psi": static_psi}


def test_a_published_minimum_decides_the_stop() -> None:
    psi = last_psi(sound_job(1))
    assert only(job_at(0.5, min_psi=psi - 1), "pressure too low").severity == "fix"
    low = only(job_at(0.95, min_psi=psi + 1), "pressure too low")
    assert low.severity == "stop"
    assert "minimum" in low.sentence
    assert number(low, "needed") == pytest.approx(psi + 1)


def test_a_head_whose_needed_pressure_is_unknown_has_no_flag() -> None:
    job = sound_job(1)
    for number_ in (1, 2, 3):
        job = put(job, "head", head_id(f"run-1-{number_}"), rated_psi=None)
    assert codes(job) == []


def test_the_worst_head_of_a_zone_is_named_once() -> None:
    job = put(job_at(0.95), "head", head_id("run-1-2"), elevation_ft=40.0)
    low = only(job, "pressure too low")
    assert "run 2 of zone 1" in low.sentence
    assert low.severity == "stop"


def test_uphill_costs_0_433_psi_a_foot() -> None:
    """International Plumbing Code, Appendix E, E103.2.2."""
    job = sound_job(1)
    uphill = put(job, "pipe_run", "main-1", rise_ft=10.0)
    assert last_psi(job) - last_psi(uphill) == pytest.approx(4.33, abs=1e-9)
    raised = put(job, "supply", job.supply.id, elevation_ft=100.0) if job.supply else job
    assert last_psi(raised) == pytest.approx(last_psi(job))


def test_a_valve_ends_at_its_own_main_run() -> None:
    job = put(
        sound_job(1),
        "pipe_run",
        "main-2",
        number=2,
        after=1,
        size="1",
        pipe_class="pvc sch 40",
        length_ft=100.0,
    )
    near = put(job, "valve", valve_id("zone-1"), main_run=1)
    assert last_psi(near) == pytest.approx(last_psi(sound_job(1)))
    assert last_psi(job) < last_psi(near)


def test_a_lateral_run_carries_the_heads_beyond_it() -> None:
    job = sound_job(1)
    flows = {
        speed.run.id: speed.flow_gpm
        for speed in speeds(job, zone_groups(job)[0])
        if speed.run is not None
    }
    assert flows == pytest.approx({"main-1": 6.0, "run-1-1": 6.0, "run-1-2": 4.0, "run-1-3": 2.0})


@pytest.mark.parametrize(
    ("table", "row_id", "column"),
    [
        ("pipe_run", "run-1-1", "length_ft"),
        ("pipe_run", "main-1", "size"),
        ("head", head_id("run-1-2"), "nozzle_gpm"),
    ],
)
def test_nothing_is_solved_while_a_figure_is_missing(table: str, row_id: str, column: str) -> None:
    job = put(job_at(0.5), table, row_id, **{column: None})
    assert "pressure too low" not in codes(job)


@pytest.mark.parametrize("table", ["supply", "zone", "pipe_run", "head"])
def test_a_half_entered_job_is_not_flagged(table: str) -> None:
    assert codes(without(job_at(0.5), "backfill", "valve", "terminal", table)) == []


def test_flow_over_the_supply_is_flagged_with_its_mend() -> None:
    job = put(sound_job(1), "zone", "zone-1", design_flow_gpm=20.0)
    over = only(job, "flow over supply")
    assert (over.severity, over.place) == ("stop", "ground")
    assert over.sentence.startswith("Zone 1 (lawn 1) draws 20 gpm, but ")
    assert "flow over supply" not in codes(mend(job, over, number(over, "available flow")))
    metric = only(_metric(job), "flow over supply").sentence
    assert "L/min" in metric
    assert "gpm" not in metric


def _metric(job: LoadedJob) -> LoadedJob:
    return bare_job(
        "metric",
        **{
            "supply": job.supply,
            "zones": job.zones,
            "pipe_runs": job.pipe_runs,
            "heads": job.heads,
        },
    )


def test_the_worst_run_of_a_lateral_is_named_and_larger_pipe_mends_it() -> None:
    runs, heads = lateral(1, (2.0,) * 6, size="3/4")
    job = bare_job(zones=(zone(1),), pipe_runs=runs, heads=heads)
    fast = only(job, "water too fast")
    assert (fast.severity, fast.at.row_id, fast.at.column) == ("fix", "run-1-1", "size")
    # 0.4085 x 12 / 0.910^2: average bores, as nothing else is chosen.
    assert number(fast, "velocity") == pytest.approx(5.92, abs=0.01)
    assert codes(mend(job, fast, "1")) == []


def test_a_fast_mainline_is_flagged_once_with_its_worst_zone() -> None:
    main = row(PipeRun, "main-1", number=1, size="3/4", pipe_class="pvc sch 40", length_ft=40.0)
    zones = (zone(1, design_flow_gpm=9.0), zone(2, design_flow_gpm=12.0))
    job = bare_job(zones=zones, pipe_runs=(main,), valves=(valve(1, None),))
    fast = only(job, "water too fast")
    assert "with zone 2 on" in fast.sentence
    # 0.4085 x 12 / 0.804^2
    assert number(fast, "velocity") == pytest.approx(7.58, abs=0.01)
    assert codes(mend(job, fast, "1")) == []


def test_a_service_line_too_small_is_one_stop_not_two_flags() -> None:
    job = put(sound_job(1), "supply", "s", **{**_supply(sound_job(1), 62.0), "service_size": "1/2"})
    fast = [code for code in codes(job) if code in ("water too fast", "flow over supply")]
    assert fast == ["flow over supply"]


def test_a_master_valve_loses_pressure_too() -> None:
    job = sound_job(1)
    with_master = put(job, "valve", "master", kind="master", loss_psi=2.5)
    assert last_psi(job) - last_psi(with_master) == pytest.approx(2.5)
