"""Heights above the job's one datum: of the ground at the connection, and of the heads.

A head stands at its entered elevation, else at the connection's elevation (0 when blank) plus the
rises of the mainline to its zone's valve and of the lateral to the head.
"""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.checks.water.pipe_tree import Line, lateral_of, mainline_to
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Head, Zone


@dataclass(frozen=True)
class HeadHeight:
    """A head, the run it ends, its height; `measured`: an elevation or a rise was entered."""

    head: Head
    run: PipeRun
    elevation_ft: float
    measured: bool


def connection_ft(job: LoadedJob) -> float:
    """The elevation of the point of connection above the datum."""
    return amount(job.supply, "elevation_ft") or 0.0


def heads_by_run(job: LoadedJob) -> dict[str, Head]:
    """The head at the end of each run, by the run's id; the first where there are two."""
    return {head.run_id: head for head in reversed(job.heads)}


def head_heights(job: LoadedJob, zone: Zone) -> tuple[HeadHeight, ...]:
    """Every head of a zone that stands at the end of a sound lateral path."""
    main, lateral = mainline_to(job, zone), lateral_of(job, zone)
    start, heads = connection_ft(job) + _rise(main), heads_by_run(job)
    found = []
    for path in lateral.paths():
        head = heads.get(path[-1].id)
        if head is None:
            continue
        entered = amount(head, "elevation_ft")
        rises = [amount(run, "rise_ft") for run in (*main, *path)]
        height = start + _rise(path) if entered is None else entered
        measured = entered is not None or any(rise is not None for rise in rises)
        found.append(HeadHeight(head, path[-1], height, measured))
    return tuple(found)


def _rise(runs: Line) -> float:
    return sum(amount(run, "rise_ft") or 0.0 for run in runs)
