"""All laterals of a zone sized at least pipe cost: what passes every check, and nothing cheaper."""

from __future__ import annotations

from dataclasses import replace

from builders import lateral, put, sound_job, without

from fieldbook.checks.water.advice.lateral_sizes import LateralSizes, size_laterals
from fieldbook.checks.water.advice.zone_asked import changed
from fieldbook.checks.water.advice.zone_result import result_of
from fieldbook.checks.water.zone_solutions import zone_groups
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.pipes import PIPE_SIZES


def open_job(heads: int = 5) -> LoadedJob:
    """The sound job with one zone of heads of 2 gpm, its trenches open."""
    job = without(sound_job(1), "backfill")
    runs, tops = lateral(1, (2.0,) * heads, rise_ft=0.0)
    main = tuple(run for run in job.pipe_runs if run.zone_id is None)
    return replace(job, pipe_runs=(*main, *runs), heads=tops)


def sized(job: LoadedJob) -> LateralSizes:
    found = size_laterals(job, zone_groups(job)[0], job.zones[0])
    assert isinstance(found, LateralSizes)
    return found


def test_sizes_fall_along_the_lateral_and_pass_every_check() -> None:
    job = open_job()
    found = sized(job)
    sizes = [PIPE_SIZES.index(found.sizes[run.id]) for run in job.runs_of("zone-1")]
    assert sizes == sorted(sizes, reverse=True)
    assert found.result.met
    assert result_of(changed(job, found.changes)).met
    # 10 gpm in 3/4 in SDR 21 runs 4.7 ft/s at the minimum wall: the whole lateral may be 3/4 in.
    assert set(found.sizes.values()) == {"3/4"}
    assert found.proven
    assert found.feet == {"3/4": (0.0, 60.0), "1": (60.0, 0.0)}


def test_no_single_run_could_be_a_size_smaller() -> None:
    job = open_job(6)
    found = sized(job)
    # At the minimum wall of SDR 21 12 gpm run 5.67 ft/s in 3/4 in, 10 gpm 4.72: the limit is 5.
    assert list(found.sizes.values()) == ["1", *["3/4"] * 5]
    laid = changed(job, found.changes)
    assert not result_of(put(laid, "pipe_run", "run-1-1", size="3/4")).met


def test_no_lateral_is_larger_than_the_mainline() -> None:
    job = put(open_job(4), "pipe_run", "main-1", size="3/4", length_ft=5.0)
    found = size_laterals(job, zone_groups(job)[0], job.zones[0])
    if isinstance(found, LateralSizes):
        assert set(found.sizes.values()) == {"3/4"}


def test_where_no_sizes_are_enough_or_the_trench_is_closed_it_says_so() -> None:
    high = put(open_job(), "zone", "zone-1", needed_psi=70.0)
    said = size_laterals(high, zone_groups(high)[0], high.zones[0])
    assert isinstance(said, str)
    assert said.startswith("No sizes of its laterals were found")
    buried = sound_job(1)
    said = size_laterals(buried, zone_groups(buried)[0], buried.zones[0])
    assert isinstance(said, str)
    assert "signed as buried" in said
    missing = put(open_job(), "pipe_run", "run-1-2", length_ft=None)
    said = size_laterals(missing, zone_groups(missing)[0], missing.zones[0])
    assert isinstance(said, str)
    assert "the length of run 2 of zone 1" in said
