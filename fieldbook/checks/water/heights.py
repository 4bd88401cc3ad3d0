"""Heights above the job's one datum: of the point of connection, and of the sprinkler heads.

A head stands at its entered elevation, else at the connection's elevation (0 when blank) plus the
rises of the mainline to its zone's valve and of the lateral to the head.
"""

from __future__ import annotations

from dataclasses import dataclass

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


def _rise_ft(runs: Runs) -> float:
    return sum(amount(run, "rise_ft") or 0.0 for run in runs)
