"""Pipe rows that can't be: runs fed by nothing or by themselves, numbers twice, sizes not made."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed, run_name, sentence, short, zone_name
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.water.pipe_tree import Line, tree
from fieldbook.checks.water.zone_flow import is_made
from fieldbook.records.loaded_job import LoadedJob

_RECORD = "The record itself: water reaches a run through the run before it."
_SIZES = "The published dimensions of that class do not list the size."


def check_pipe_rows(job: LoadedJob) -> Iterator[Finding]:
    """Flags on the mainline's rows, then on each lateral's."""
    yield from _line(job, job.runs_of(None), "the mainline")
    for zone in job.zones:
        yield from _line(job, job.runs_of(zone.id), f"the lateral of {zone_name(zone)}")
    yield from _sizes(job)


def _line(job: LoadedJob, runs: Line, where: str) -> Iterator[Finding]:
    """Runs of one line that have no path to its start; one flag for each kind of mistake."""
    line = tree(runs)
    numbers = {run.number for run in runs}
    if line.doubled:
        yield Finding(
            "run number twice",
            "fix",
            f"In {where} more than one run has the number {line.doubled[-1].number}.",
            f"Give each run of {where} its own number by adding it again at the ground.",
            CellRef("pipe_run", line.doubled[-1].id, "after"),
            source=_RECORD,
        )
    unfed = [run for run in line.lost if run.after not in numbers]
    if unfed:
        first = unfed[0]
        yield Finding(
            "run fed by nothing",
            "fix",
            f"{sentence(run_name(job, first))} is fed by run {first.after}, which does not exist.",
            f"Correct After of {run_name(job, first)} at the ground; blank is the line's start.",
            CellRef("pipe_run", first.id, "after"),
            source=_RECORD,
        )
    if line.looped:
        names = listed([str(run.number) for run in line.looped])
        plural = "runs" if len(line.looped) > 1 else "run"
        feed = "feed themselves" if len(line.looped) > 1 else "feeds itself"
        yield Finding(
            "runs in a circle",
            "fix",
            f"In {where} {plural} {names} {feed} in a circle, so no water reaches them.",
            f"Correct After of run {line.looped[0].number} of {where} at the ground.",
            CellRef("pipe_run", line.looped[0].id, "after"),
            source=_RECORD,
        )


def _sizes(job: LoadedJob) -> Iterator[Finding]:
    """Sizes that their class is not made in: the first such run of each kind, and the service."""
    seen: set[tuple[str | None, str, str]] = set()
    for run in job.pipe_runs:
        if not run.size or not run.pipe_class or is_made(run.pipe_class, run.size):
            continue
        if (run.zone_id, run.pipe_class, run.size) in seen:
            continue
        seen.add((run.zone_id, run.pipe_class, run.size))
        yield Finding(
            "size not made",
            "fix",
            f"{sentence(run_name(job, run))} is {short(run.size)} in {short(run.pipe_class)}, a "
            "size that class is not listed in.",
            f"Read the print along the pipe of {run_name(job, run)} again and correct its size or "
            "class at the ground.",
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
            "size that class is not listed in.",
            "Look at the service line again and correct its size or class at the street.",
            CellRef("supply", supply.id, "service_size"),
            source=_SIZES,
        )
