"""Pipe runs as a tree: which run feeds which, the path to each, and the rows that have none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Mapping
from dataclasses import dataclass
from typing import Literal

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone

Runs = tuple[PipeRun, ...]
_Failure = Literal["unfed", "looped"]


@dataclass(frozen=True)
class RunTree:
    """The runs of a lateral, or of the mainline, by the run that feeds each.

    path_to: by the id of a sound run, the runs from the start to it, itself last. unfed: fed by a
    run that has no path or does not exist. looped: fed by themselves, directly or through others.
    doubled: with a number that another run has too. None of these three has a path.
    """

    runs: Runs
    path_to: Mapping[str, Runs]
    unfed: Runs
    looped: Runs
    doubled: Runs

    @property
    def sound(self) -> bool:
        """Whether every run has a path."""
        return len(self.path_to) == len(self.runs)

    def paths(self) -> tuple[Runs, ...]:
        """The path to each sound run, in the order of the runs."""
        return tuple(self.path_to[run.id] for run in self.runs if run.id in self.path_to)


def tree(runs: Runs) -> RunTree:
    """Sort runs into a tree, whatever was entered; each run is walked over once."""
    counts: Counter[int | None] = Counter(run.number for run in runs if run.number is not None)
    doubled = {run.id for run in runs if counts[run.number] > 1}
    by_number = {run.number: run for run in runs if counts[run.number] == 1}
    path_to: dict[str, Runs] = {}
    failed: dict[str, _Failure] = {}
    for run in runs:
        if run.id not in doubled:
            _settle(run, by_number, path_to, failed)

    def those(ids: Container[str]) -> Runs:
        return tuple(run for run in runs if run.id in ids)

    unfed = {run_id for run_id, why in failed.items() if why == "unfed"}
    return RunTree(runs, path_to, those(unfed), those(failed.keys() - unfed), those(doubled))


def _settle(
    run: PipeRun,
    by_number: Mapping[int | None, PipeRun],
    path_to: dict[str, Runs],
    failed: dict[str, _Failure],
) -> None:
    """Follow a run up to the start, or to where that fails, and settle every run on the way."""
    chain: dict[str, PipeRun] = {}
    here: PipeRun | None = run
    while here is not None and not any(here.id in known for known in (path_to, failed, chain)):
        chain[here.id] = here
        here = by_number.get(here.after) if here.after is not None else None
    failure: _Failure | None = None
    path: Runs = ()
    if here is None:
        # The walk ended at the start, or at a number that no single run has.
        last = next(reversed(chain.values()))
        failure = None if last.after is None else "unfed"
    elif here.id in path_to:
        path = path_to[here.id]
    else:
        failure = failed.get(here.id, "looped")
    for settled in reversed(chain.values()):
        if failure is not None:
            failed[settled.id] = failure
        else:
            path = (*path, settled)
            path_to[settled.id] = path


def lateral_of(job: LoadedJob, zone: Zone) -> RunTree:
    """The tree of a zone's lateral."""
    return tree(job.runs_of(zone.id))


def mainline_to(job: LoadedJob, zone: Zone) -> Runs:
    """The mainline runs from the point of connection to a zone's valve.

    The valve names its run; without one it is at the last run, the one with the largest number.
    Empty where there is no mainline, or that run has no path.
    """
    runs = job.runs_of(None)
    valve = job.valve_of(zone.id)
    wanted = valve.main_run if valve is not None else None
    if wanted is None:
        wanted = max((run.number for run in runs if run.number is not None), default=None)
    paths = tree(runs).path_to
    last = next((run for run in runs if run.number == wanted and run.id in paths), None)
    return paths[last.id] if last is not None else ()
