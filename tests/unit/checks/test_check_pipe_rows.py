"""Flags on impossible pipe rows, instead of an error."""

from __future__ import annotations

import pytest
from builders import bare_job, codes, lateral, mend, only, put, sound_job, zone

from fieldbook.checks.water.pipe_tree import tree
from fieldbook.records.loaded_job import LoadedJob


def rows_job(*after: int | None) -> LoadedJob:
    """A zone whose runs 1, 2 ... come after these."""
    runs, heads = lateral(1, (2.0,) * len(after))
    job = bare_job(zones=(zone(1),), pipe_runs=runs, heads=heads)
    for number, before in enumerate(after, start=1):
        job = put(job, "pipe_run", f"run-1-{number}", after=before)
    return job


@pytest.mark.parametrize("after", [(None, 1, 2), (None, 1, 1, 2), (None, None), (2, None)])
def test_rows_that_make_a_tree_have_no_flags(after: tuple[int | None, ...]) -> None:
    job = rows_job(*after)
    assert codes(job) == []
    assert tree(job.runs_of("zone-1")).sound


def test_a_run_fed_by_a_run_that_does_not_exist_is_flagged() -> None:
    job = rows_job(None, 7, 2)
    lost = only(job, "run fed by nothing")
    assert codes(job) == ["run fed by nothing"]
    assert lost.sentence == "Lateral run 2 of zone 1 is fed by run 7, which does not exist."
    assert (lost.severity, lost.place, lost.at.row_id) == ("fix", "ground", "run-1-2")
    assert codes(mend(job, lost, 1)) == []


@pytest.mark.parametrize("after", [(1,), (2, 1), (None, 3, 4, 2)])
def test_runs_in_a_circle_are_flagged(after: tuple[int | None, ...]) -> None:
    job = rows_job(*after)
    ring = only(job, "runs in a circle")
    assert codes(job) == ["runs in a circle"]
    assert codes(mend(job, ring, None)) == []


def test_a_run_number_used_twice_is_flagged() -> None:
    job = put(rows_job(None, 1, 2), "pipe_run", "run-1-3", number=2)
    assert "run number twice" in codes(job)


def test_a_size_that_the_class_is_not_made_in_is_flagged() -> None:
    job = put(rows_job(None, 1), "pipe_run", "run-1-2", size="1/2", pipe_class="pvc sdr 26")
    odd = only(job, "size not made")
    assert (odd.severity, odd.at.column) == ("fix", "size")
    assert "1/2 in pvc sdr 26" in odd.sentence
    assert codes(mend(job, odd, "1")) == []


def test_a_service_line_in_a_size_that_the_class_is_not_made_in_is_flagged() -> None:
    job = sound_job()
    assert job.supply is not None
    job = put(job, "supply", job.supply.id, service_class="pvc sdr 26", service_size="3/4")
    odd = only(job, "size not made")
    assert (odd.place, odd.at.column) == ("street", "service_size")


def test_a_long_lateral_is_sorted_quickly() -> None:
    job = rows_job(None, *range(1, 300))
    assert len(tree(job.runs_of("zone-1")).path_to["run-1-300"]) == 300
