"""Load one job with all its rows, and list the jobs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from sqlalchemy import Connection, select

from fieldbook.records.base import Record, table_of
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.job import Job
from fieldbook.store.errors import BookError
from fieldbook.store.journal.conflicts import broken_links_of, conflicts_of
from fieldbook.store.sqlite.row_statements import select_rows

_JOB, _ATTACHMENT = table_of(Job), table_of(Attachment)
_MOST_IDS = 500
"""As many ids are asked for at once: older SQLite takes at most 999 values in a statement."""
_Row = TypeVar("_Row", bound=Record)
_BY_NAME = ("valve_box", "cable")
"""Tables whose rows are read in the order of their names: A to Z before AA, 2 before 10."""
_ORDER = {
    "zone": ("number", "id"),
    "pipe_run": ("number", "id"),
    "conductor": ("position", "id"),
    "terminal": ("number", "id"),
}


def list_jobs(connection: Connection) -> list[Job]:
    """Every property on the board, by address."""
    on_board = select(_JOB).where(_JOB.c.off_board.is_not(True))
    rows = connection.execute(on_board.order_by(_JOB.c.address, _JOB.c.id)).mappings()
    return [Job(**row) for row in rows]


def list_attachments(connection: Connection, job_ids: Sequence[str]) -> dict[str, list[Attachment]]:
    """The attached files of these jobs, by job; a job without any is left out."""
    found: dict[str, list[Attachment]] = {}
    for at in range(0, len(job_ids), _MOST_IDS):
        some = select(_ATTACHMENT).where(_ATTACHMENT.c.job_id.in_(job_ids[at : at + _MOST_IDS]))
        for row in connection.execute(some.order_by(_ATTACHMENT.c.id)).mappings():
            found.setdefault(row["job_id"], []).append(Attachment.model_construct(**row))
    return found


def load_job(connection: Connection, job_id: str) -> LoadedJob:
    """Every row of one job. Raises BookError when the book has no such job."""
    found = connection.execute(select(_JOB).where(_JOB.c.id == job_id)).mappings().first()
    if found is None:
        raise BookError("That property is no longer in the book: open the board again.")

    def many(record: type[_Row]) -> tuple[_Row, ...]:
        table = table_of(record)
        rows = select_rows(connection, table, "job_id", job_id, _order_of(table.name))
        # Not validated again: what the book holds was checked on its way in, and this is on the
        # path of every key.
        return tuple(record.model_construct(**row) for row in rows)

    def one(record: type[_Row]) -> _Row | None:
        return next(iter(many(record)), None)

    job = LoadedJob(
        job=Job(**found),
        conflicts=conflicts_of(connection, job_id),
        **{
            FIELD_OF[name]: (one(record) if record.once else many(record))  # type: ignore[arg-type]
            for name, record in TABLES.items()
        },
    )
    gone = broken_links_of(connection, job)
    return replace(job, conflicts=(*job.conflicts, *gone)) if gone else job


def _order_of(table: str) -> str:
    """The order in which a crew reads a table's rows, as SQL. Rows without a number come first."""
    if table in _BY_NAME:
        return "length(name), name, id"
    return ", ".join(_ORDER.get(table, ("id",)))
