"""Load one job whole, and list the jobs."""

from __future__ import annotations

from typing import Any, TypeVar

from sqlalchemy import Connection, Table, func, select

from fieldbook.records.base import Record, table_of
from fieldbook.records.job import Job
from fieldbook.records.loaded import FIELD_OF, TABLES, LoadedJob
from fieldbook.store.errors import BookError

_JOB = table_of(Job)
_Row = TypeVar("_Row", bound=Record)
_LAST = 1_000_000
_BY_NAME = ("valve_box", "cable")
"""Tables in the order of their names: A to Z, then 27; 2 before 10."""
_ORDER = {
    "zone": ("number", "id"),
    "pipe_run": ("number", "id"),
    "conductor": ("position", "id"),
    "terminal": ("number", "id"),
}


def list_jobs(connection: Connection) -> list[Job]:
    """Every property on the board, in the order of their addresses."""
    there = select(_JOB).where(_JOB.c.off_board.is_not(True))
    rows = connection.execute(there.order_by(_JOB.c.address, _JOB.c.id)).mappings()
    return [Job(**row) for row in rows]


def load_job(connection: Connection, job_id: str) -> LoadedJob:
    """Every row of one job. Raises BookError when the book has no such job."""
    found = connection.execute(select(_JOB).where(_JOB.c.id == job_id)).mappings().first()
    if found is None:
        raise BookError("That property is no longer in the book: open the board again.")

    def many(record: type[_Row]) -> tuple[_Row, ...]:
        return tuple(record(**row) for row in _rows(connection, table_of(record), job_id))

    def one(record: type[_Row]) -> _Row | None:
        return next(iter(many(record)), None)

    return LoadedJob(
        job=Job(**found),
        **{
            FIELD_OF[name]: (one(record) if record.once else many(record))  # type: ignore[arg-type]
            for name, record in TABLES.items()
        },
    )


def _rows(connection: Connection, table: Table, job_id: str) -> list[dict[str, Any]]:
    """A table's rows of a job as dicts, in the order a crew reads them."""
    order: list[Any] = [table.c[name] for name in _ORDER.get(table.name, ("id",))]
    if table.name in _BY_NAME:
        order = [func.length(table.c.name), table.c.name, table.c.id]
    query = select(table).where(table.c.job_id == job_id).order_by(*order)
    return [dict(row) for row in connection.execute(query).mappings()]
