"""What a check looked at: one zone, cable, assembly or the whole property, and what it lacks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from fieldbook.checks.finding import CellRef, Missing
from fieldbook.records.ids import (
    backfill_id,
    flush_id,
    head_id,
    pressure_test_id,
    terminal_id,
    valve_id,
    zone_watering_id,
)
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.zones import Zone

Stage = Literal[
    "survey", "design", "dig", "lay", "wire", "bury", "control", "service", "handover", "close"
]
"""The work of a job in its usual order; `progress.stages` tells how far a job is."""
STAGES: tuple[Stage, ...] = get_args(Stage)
PROPERTY = "the property"


@dataclass(frozen=True)
class Looked:
    """One thing that a check looked at, for every thing it looks at, flagged or not.

    `rows` are the ids of the rows that belong to it, so that a flag on one of them is a flag on it;
    one of the whole property has none and takes every flag of its check. `missing` is what the
    check must still know before it can call the thing sound. `due` is the work at which it becomes
    due, where that differs from the check's.
    """

    name: str
    rows: frozenset[str] = frozenset()
    missing: tuple[Missing, ...] = ()
    due: Stage | None = None

    def covers(self, at: CellRef) -> bool:
        """Whether a flag at this cell is a flag on the thing."""
        return not self.rows or at.row_id in self.rows


def zone_rows(job: LoadedJob, zone: Zone) -> frozenset[str]:
    """The ids of every row that belongs to a zone, also of rows that do not exist yet."""
    # Nearly every check asks for them, and each finding asks of each zone.
    kept = _rows_of_zones(job)
    if zone.id not in kept:
        kept[zone.id] = frozenset(_rows_of(job, zone))
    return kept[zone.id]


@once_per_job
def _rows_of_zones(_job: LoadedJob) -> dict[str, frozenset[str]]:
    """The answers of `zone_rows` so far."""
    return {}


def _rows_of(job: LoadedJob, zone: Zone) -> set[str]:
    found = {zone.id, valve_id(zone.id), flush_id(zone.id), zone_watering_id(zone.id)}
    found |= {pressure_test_id(job.job.id, zone.id), backfill_id(job.job.id, zone.id)}
    found |= {run.id for run in job.runs_of(zone.id)}
    found |= {head_id(run.id) for run in job.runs_of(zone.id)}
    found |= {head.id for head in job.heads_of(zone.id)}
    for rows in (job.flushes, job.backfills, job.pressure_tests, job.valves):
        found |= {row.id for row in rows if row.zone_id == zone.id}
    found |= {one.id for one in job.terminals if job.terminal_zone(one) is zone}
    found |= {one.id for one in job.decoders if one.zone_id == zone.id}
    if zone.number is not None:
        found.add(terminal_id(job.job.id, "zone", zone.number))
    return found


def stretch_rows(job: LoadedJob, zone_id: str | None) -> frozenset[str]:
    """The ids of the rows of a zone, or of the mainline (None)."""
    zone = job.zone(zone_id)
    if zone is not None:
        return zone_rows(job, zone)
    found = {pressure_test_id(job.job.id, None), backfill_id(job.job.id, None)}
    found |= {flush_id(job.job.id)} | {run.id for run in job.runs_of(None)}
    for rows in (job.flushes, job.backfills, job.pressure_tests):
        found |= {row.id for row in rows if row.zone_id is None}
    return frozenset(found)


def zone_of(job: LoadedJob, at: CellRef) -> Zone | None:
    """The zone that a cell belongs to; None for the mainline's and the whole property's."""
    return next((zone for zone in job.zones if at.row_id in zone_rows(job, zone)), None)
