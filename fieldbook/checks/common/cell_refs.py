"""The cells of rows that exist once, such as a zone's flush, whether or not the row exists yet."""

from __future__ import annotations

from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Record
from fieldbook.records.ids import (
    backfill_id,
    flush_id,
    once_id,
    pressure_test_id,
    valve_id,
)
from fieldbook.records.loaded_job import FIELD_OF, LoadedJob
from fieldbook.records.tables.zones import Zone


def once_cell(job: LoadedJob, table: str, column: str) -> CellRef:
    """A cell of the one row that a job has in a table, such as its supply."""
    row: Record | None = getattr(job, FIELD_OF[table])
    return _cell(table, row, once_id(job.job.id, table), column)


def flush_cell(job: LoadedJob, zone_id: str | None, column: str) -> CellRef:
    """A cell of the flush of a zone, or of the mainline (None)."""
    return _cell("flush", job.flush_of(zone_id), flush_id(zone_id or job.job.id), column)


def backfill_cell(job: LoadedJob, zone_id: str | None, column: str) -> CellRef:
    """A cell of the backfill of a zone's trenches, or of the mainline (None)."""
    return _cell("backfill", job.backfill_of(zone_id), backfill_id(job.job.id, zone_id), column)


def pressure_test_cell(job: LoadedJob, zone_id: str | None, column: str) -> CellRef:
    """A cell of the pressure test of a zone's lateral, or of the mainline (None)."""
    row = job.pressure_test_of(zone_id)
    return _cell("pressure_test", row, pressure_test_id(job.job.id, zone_id), column)


def valve_cell(job: LoadedJob, zone: Zone, column: str) -> CellRef:
    """A cell of a zone's valve."""
    return _cell("valve", job.valve_of(zone.id), valve_id(zone.id), column)


def _cell(table: str, row: Record | None, row_id: str, column: str) -> CellRef:
    return CellRef(table, row.id if row is not None else row_id, column)
