"""Flags on impossible pipe rows: fed by nothing or by themselves, numbers twice, wrong sizes."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed, run_name, sentence, short, zone_name
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.water.pipe_tree import Runs, tree
from fieldbook.checks.water.zone_flow import is_made
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone

_RECORD = "The record itself: water reaches a run through the run before it."
_SIZES = "The published dimensions of that class do not list the size."


def check_pipe_rows(job: LoadedJob) -> Iterator[Finding]:
    """Flags on the mainline's rows, then on each lateral's, then on sizes."""
    yield from _runs(job, job.runs_of(None), "the mainline")
    for zone in job.zones:
        yield from _runs(job, job.runs_of(zone.id), f"the lateral of {zone_name(zone)}")
    yield from _sizes(job, job.pipe_runs)


def check_rows_of(job: LoadedJob, zone: Zone) -> Iterator[Finding]:
    """Flags on the rows that feed one zone: the mainline, its lateral, sizes, the service line."""
    main, own = job.runs_of(None), job.runs_of(zone.id)
    yield from _runs(job, main, "the mainline")
    yield from _runs(job, own, f"the lateral of {zone_name(zone)}")
    yield from _sizes(job, (*main, *own))


def _runs(job: LoadedJob, runs: Runs, where: str) -> Iterator[Finding]:
    """Runs without a path to the start; one flag for each kind of mistake."""
    sorted_runs = tree(runs)
    numbers = {run.number for run in runs}
    for run in sorted_runs.doubled[-1:]:
        yield Finding(
            "run number twice",
            "fix",
            f"In {where} more than one run has the number {run.number}.",
            f"Give each run of {where} its own number by adding it again at the ground.",
            CellRef("pipe_run", run.id, "after"),
            source=_RECORD,
        )
    # Runs behind this one have no path either; correcting it gives them theirs.
    unfed = [run for run in sorted_runs.unfed if run.after not in numbers]
    for run in unfed[:1]:
        yield Finding(
            "run fed by nothing",
            "fix",
            f"{sentence(run_name(job, run))} is fed by run {run.after}, which does not exist.",
            f"Correct After of {run_name(job, run)} at the ground; leave it blank for the first.",
            CellRef("pipe_run", run.id, "after"),
            source=_RECORD,
        )
    looped = sorted_runs.looped
    if looped:
        names = listed([str(run.number) for run in looped])
        feed = f"runs {names} feed themselves" if looped[1:] else f"run {names} feeds itself"
        yield Finding(
            "runs in a circle",
            "fix",
            f"In {where} {feed} in a circle, so no water reaches them.",
            f"Correct After of run {looped[0].number} of {where} at the ground.",
            CellRef("pipe_run", looped[0].id, "after"),
            source=_RECORD,
        )


def _sizes(job: LoadedJob, runs: Runs) -> Iterator[Finding]:
    """Sizes that their class is not made in: the first run of each kind, and the service line."""
    seen: set[tuple[str | None, str, str]] = set()
    for run in runs:
        if not run.size or not run.pipe_class or is_made(run.pipe_class, run.size):
            continue
        if (run.zone_id, run.pipe_class, run.size) in seen:
            continue
        seen.add((run.zone_id, run.pipe_class, run.size))
        yield Finding(
            "size not made",
            "fix",
            f"{sentence(run_name(job, run))} is {short(run.size)} in {short(run.pipe_class)}, a "
            "size in which that class is not made.",
            f"Read the print along {run_name(job, run)} again and correct its size or class at "
            "the ground.",
            CellRef("pipe_run", run.id, "size"),
            source=_SIZES,
        )
    supply = job.supply
    if supply is None or not supply.service_class or not supply.service_size:
        return
    if not is_made(supply.service_class, supply.service_size):
        yield Finding(
            "size not made",
            "fix",
            f"The service line is {short(supply.service_size)} in {short(supply.service_class)}, a "
            "size in which that class is not made.",
            "Look at the service line again and correct its size or class at the street.",
            CellRef("supply", supply.id, "service_size"),
            source=_SIZES,
        )
