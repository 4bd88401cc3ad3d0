"""Load one job with all its rows, and list the jobs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from fieldbook.records.base import Record
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.job import Job
from fieldbook.store.errors import BookError
from fieldbook.store.find_neighbours import neighbours_of
from fieldbook.store.journal.conflicts import broken_links_of, conflicts_of
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.row_statements import select_rows, select_where

_MOST_IDS = 500
"""As many ids are asked for at once: older SQLite takes at most 999 values in a statement."""
_Row = TypeVar("_Row", bound=Record)
_BY_NAME = ("valve_box", "cable", "two_wire_path", "other_controller", "programme")
"""Tables whose rows are read in the order of their names: A to Z before AA, 2 before 10."""
_ORDER = {
    "zone": ("number", "id"),
    "pipe_run": ("number", "id"),
    "conductor": ("position", "id"),
    "terminal": ("number", "id"),
    "decoder": ("address", "id"),
    "catch_can": ("number", "id"),
    "change_order": ("number", "id"),
    "visit": ("held_on", "id"),
    "visit_step": ("number", "id"),
}


def list_jobs(connection: Connection) -> list[Job]:
    """Every property on the board, by address."""
    where = "WHERE job.off_board IS NOT 1 ORDER BY job.address, job.id"
    return [Job(**row) for row in select_where(connection, Job, where)]


def list_attachments(connection: Connection, job_ids: Sequence[str]) -> dict[str, list[Attachment]]:
    """The attached files of these jobs, by job; a job without any is left out."""
    found: dict[str, list[Attachment]] = {}
    for at in range(0, len(job_ids), _MOST_IDS):
        some = job_ids[at : at + _MOST_IDS]
        marks = ", ".join("?" * len(some))
        where = f"WHERE attachment.job_id IN ({marks}) ORDER BY attachment.id"
        for row in select_where(connection, Attachment, where, some):
            found.setdefault(row["job_id"], []).append(Attachment(**row))
    return found


def load_job(connection: Connection, job_id: str) -> LoadedJob:
    """Every row of one job. Raises BookError when the book has no such job."""
    found = next(select_rows(connection, Job, "id", job_id), None)
    if found is None:
        raise BookError("That property is no longer in the book: open the board again.")

    def many(record: type[_Row]) -> tuple[_Row, ...]:
        rows = select_rows(connection, record, "job_id", job_id, _order_of(record.table_name))
        return tuple(record(**row) for row in rows)

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
    gone, near = broken_links_of(connection, job), neighbours_of(connection, job.job)
    return replace(job, conflicts=(*job.conflicts, *gone), neighbours=near) if gone or near else job


def _order_of(table: str) -> str:
    """The order in which a crew reads a table's rows, as SQL. Rows without a number come first."""
    if table in _BY_NAME:
        return "length(name), name, id"
    return ", ".join(_ORDER.get(table, ("id",)))
