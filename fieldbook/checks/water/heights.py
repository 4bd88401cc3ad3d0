"""Heights above the job's one datum: of the point of connection, and of the sprinkler heads.

A head stands at its entered elevation, else at the connection's elevation (0 when blank) plus the
rises of the mainline to its zone's valve and of the lateral to the head.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.checks.finding import CellRef
from fieldbook.checks.water.pipe_tree import Runs, lateral_of, mainline_to
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Head, Zone


@dataclass(frozen=True)
class HeadHeight:
    """A head, the run that it ends, and its height in ft above the datum.

    `measured`: its elevation, or a rise on the way to it, was entered.
    """

    head: Head
    run: PipeRun
    elevation_ft: float
    measured: bool


def connection_ft(job: LoadedJob) -> float:
    """The elevation in ft of the point of connection above the datum."""
    return amount(job.supply, "elevation_ft") or 0.0


def head_heights(job: LoadedJob, zone: Zone) -> tuple[HeadHeight, ...]:
    """Every head of a zone that stands at the end of a sound lateral path."""
    main, lateral = mainline_to(job, zone), lateral_of(job, zone)
    start = connection_ft(job) + _rise_ft(main)
    found = []
    for path in lateral.paths():
        head = job.head_at(path[-1].id)
        if head is None:
            continue
        entered = amount(head, "elevation_ft")
        rises = [amount(run, "rise_ft") for run in (*main, *path)]
        height = start + _rise_ft(path) if entered is None else entered
        measured = entered is not None or any(rise is not None for rise in rises)
        found.append(HeadHeight(head, path[-1], height, measured))
    return tuple(found)


@dataclass(frozen=True)
class Highest:
    """The highest thing of a zone, and the cells of what is not known to be lower.

    `top_ft` is above the datum; `run` is the pipe run that ends there, None for a zone that is as a
    whole said to be no higher than the connection. None for both while nothing is known.
    """

    top_ft: float | None
    run: PipeRun | None
    is_pipe: bool
    unknown: tuple[CellRef, ...]


def highest_of(job: LoadedJob, zone: Zone, *, raised: bool) -> Highest:
    """The highest of a zone's sprinklers and pipes, from elevations and rises that were entered.

    `raised`: a pop-up counts at its raised top. Where a zone is said to be no higher than the
    connection nothing of it is unknown, but an elevation that was entered still counts. A pipe's
    elevation is known where a rise was entered for every run on the way to it, a sprinkler's also
    by its own elevation.
    """
    main, lateral = mainline_to(job, zone), lateral_of(job, zone)
    paths = [main[: at + 1] for at in range(len(main))]
    paths += [(*main, *path) for path in lateral.paths()]
    unknown = [] if lateral.runs else [CellRef("zone", zone.id, "no_higher")]
    tops: list[tuple[float, PipeRun | None, bool]] = []
    for path in paths:
        found = list(_tops(job, path, raised=raised))
        tops += found
        if not found:
            unknown.append(_lacks(path, job.head_at(path[-1].id)))
    if zone.no_higher is True:
        tops.append((connection_ft(job), None, False))
        unknown.clear()
    top_ft, run, is_pipe = max(tops, key=lambda top: top[0], default=(None, None, False))
    return Highest(top_ft, run, is_pipe, tuple(dict.fromkeys(unknown)))


def _tops(job: LoadedJob, path: Runs, *, raised: bool) -> Iterator[tuple[float, PipeRun, bool]]:
    """The known heights at the end of a path: height in ft, run, whether it is the pipe's.

    A sprinkler of known height stands over its own riser, not over the pipe on the way to it, so
    it serves as well where the pipe's height is not known.
    """
    run, pipe_ft = path[-1], _known_ft(job, path)
    head = job.head_at(run.id)
    if pipe_ft is not None:
        yield pipe_ft, run, True
    head_ft = amount(head, "elevation_ft")
    head_ft = pipe_ft if head_ft is None else head_ft
    if head is not None and head_ft is not None:
        pop_up_ft = (amount(head, "pop_up_in") or 0.0) / 12.0 if raised else 0.0
        yield head_ft + pop_up_ft, run, False


def _known_ft(job: LoadedJob, path: Runs) -> float | None:
    """The elevation at the end of a path; None unless every rise on it was entered."""
    rises = [amount(run, "rise_ft") for run in path]
    known = [rise for rise in rises if rise is not None]
    return connection_ft(job) + sum(known) if len(known) == len(rises) else None


def _lacks(path: Runs, head: Head | None) -> CellRef:
    """The cell that would give the height: the head's at the end, else that of the first run."""
    if head is not None:
        return CellRef("head", head.id, "elevation_ft")
    run = next(run for run in path if amount(run, "rise_ft") is None)
    return CellRef("pipe_run", run.id, "rise_ft")


def _rise_ft(runs: Runs) -> float:
    return sum(amount(run, "rise_ft") or 0.0 for run in runs)
