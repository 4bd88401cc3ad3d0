"""Pipe runs as a tree: which run feeds which, the path to each, and what can't be a tree."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone

Line = tuple[PipeRun, ...]


@dataclass(frozen=True)
class Tree:
    """The runs of one line (a lateral, or the mainline) by what feeds them.

    path_to: for each sound run's id, the runs from the line's start to it, itself last.
    lost: runs fed by a run that does not exist. looped: runs that feed themselves, through others
    or at once. doubled: runs whose number another run has. None of these three has a path.
    """

    runs: Line
    path_to: dict[str, Line]
    lost: Line
    looped: Line
    doubled: Line

    @property
    def sound(self) -> bool:
        """Whether every run has a path."""
        return len(self.path_to) == len(self.runs)

    def paths(self) -> tuple[Line, ...]:
        """The path to each sound run, in the order of the runs."""
        return tuple(self.path_to[run.id] for run in self.runs if run.id in self.path_to)


def tree(runs: Line) -> Tree:
    """Sort one line's runs into a tree, whatever was entered; takes time linear in the runs."""
    counts = Counter(run.number for run in runs if run.number is not None)
    doubled = tuple(run for run in runs if run.number is not None and counts[run.number] > 1)
    by_number = {run.number: run for run in runs if counts.get(run.number or 0) == 1}
    bad = {run.id for run in doubled}
    path_to: dict[str, Line] = {}
    state: dict[str, str] = {}
    for run in runs:
        if run.id not in bad:
            _walk(run, by_number, path_to, state)
    return Tree(
        runs,
        path_to,
        tuple(run for run in runs if state.get(run.id) == "lost"),
        tuple(run for run in runs if state.get(run.id) == "looped"),
        doubled,
    )


def _walk(
    run: PipeRun,
    by_number: dict[int | None, PipeRun],
    path_to: dict[str, Line],
    state: dict[str, str],
) -> None:
    """Follow a run up to the start, or to where it fails, and settle every run on the way."""
    chain: list[PipeRun] = []
    seen: set[str] = set()
    here: PipeRun | None = run
    verdict = ""
    base: Line = ()
    while here is not None and not verdict:
        if here.id in seen:
            verdict = "looped"
        elif here.id in path_to:
            base, here = path_to[here.id], None
        elif here.id in state:
            verdict = state[here.id]
        else:
            seen.add(here.id)
            chain.append(here)
            if here.after is None:
                here = None
            else:
                here = by_number.get(here.after)
                verdict = "" if here is not None else "lost"
    for one in reversed(chain):
        if verdict:
            state[one.id] = verdict
        else:
            base = (*base, one)
            path_to[one.id] = base


def lateral_of(job: LoadedJob, zone: Zone) -> Tree:
    """A zone's lateral."""
    return tree(job.runs_of(zone.id))


def mainline_to(job: LoadedJob, zone: Zone) -> Line:
    """The mainline runs from the point of connection to a zone's valve.

    The valve's main run, else the last run (largest number); none where there is no mainline, or
    where that run has no path.
    """
    runs = job.runs_of(None)
    valve = job.valve_of(zone.id)
    wanted = valve.main_run if valve is not None and valve.main_run is not None else None
    if wanted is None:
        wanted = max((run.number for run in runs if run.number is not None), default=None)
    paths = tree(runs).path_to
    last = next((run for run in runs if run.number == wanted and run.id in paths), None)
    return paths[last.id] if last is not None else ()
