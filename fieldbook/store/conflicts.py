"""The conflicts of a job, each with the entries that differ."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import Connection

from fieldbook.records.conflicts import LOST, REMOVED, Conflict, Version
from fieldbook.records.loaded import LoadedJob
from fieldbook.records.lost import lost
from fieldbook.records.readable import readable
from fieldbook.store.heads import entries_of
from fieldbook.store.sealed import ADD, DELETED, SELECT, Sealed, from_row

_OF_JOB = """
SELECT "table", row_id, "column", kind, heads FROM conflict
WHERE job_id = ? ORDER BY "table", row_id, "column"
"""


def conflicts_of(connection: Connection, job_id: str) -> tuple[Conflict, ...]:
    """What is in conflict in a job."""
    rows = connection.exec_driver_sql(_OF_JOB, (job_id,)).all()
    return tuple(_conflict(connection, *row) for row in rows)


def in_conflict(connection: Connection) -> list[str]:
    """The addresses of the jobs on the board of which a cell or row is in conflict."""
    rows = connection.exec_driver_sql(
        "SELECT DISTINCT job.address FROM conflict JOIN job ON job.id = conflict.job_id "
        "WHERE job.off_board IS NOT 1 ORDER BY job.address"
    )
    return [str(row[0]) for row in rows]


def lost_in(connection: Connection, job: LoadedJob) -> tuple[Conflict, ...]:
    """Rows of a job that name what was removed meanwhile."""
    found = []
    for one in lost(job):
        entries = entries_of(connection, one.to_table, one.to_row)
        removals = [entry for entry in entries if entry.op == DELETED]
        if removals:
            last = max(removals, key=lambda entry: entry.age)
            version = Version("removed", last.who, last.wall, last.origin)
            gone = (one.to_table, one.to_row)
            found.append(Conflict(one.table, one.row_id, one.column, LOST, (version,), gone))
    return tuple(found)


def _conflict(
    connection: Connection, table: str, row_id: str, column: str, kind: str, heads: str
) -> Conflict:
    query = f"{SELECT} WHERE id = ?"
    found = [from_row(connection.exec_driver_sql(query, (one,)).one()) for one in json.loads(heads)]
    if kind == REMOVED:
        found += _stays(connection, table, row_id, found)
    found.sort(key=lambda one: one.age, reverse=True)
    versions = [_version(one, column, kind) for one in found]
    versions.sort(key=lambda one: not readable(table, column, one.value))
    return Conflict(table, row_id, column, kind, tuple(versions))


def _stays(connection: Connection, table: str, row_id: str, removals: list[Sealed]) -> list[Sealed]:
    """The latest change that the removals did not see."""
    query = f'{SELECT} WHERE row_id = ? AND "table" = ? AND op != ? ORDER BY clock DESC, id DESC'
    found = connection.exec_driver_sql(query, (row_id, table, removals[0].op)).first()
    return [] if found is None else [from_row(found)]


def _version(entry: Sealed, column: str, kind: str) -> Version:
    said: Any = None if kind == REMOVED else entry.said(column)
    if kind == REMOVED:
        said = "removed" if entry.op == column else "changed"
    elif entry.op != ADD and not column:
        said = entry.said(entry.op)
    return Version(said, entry.who, entry.wall, entry.origin)
