"""The conflicts of a job, each with the entries that differ."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import Connection

from fieldbook.records.column_values import column_accepts
from fieldbook.records.conflict import EVIDENCE, LOST, REMOVED, Conflict, Version
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.journal.entry import ADD, DELETED, Entry
from fieldbook.store.journal.latest_versions import entries_of_row
from fieldbook.store.journal.reassert import (
    ancestors_of,
    is_reassertion,
    original_entries,
    state_before,
)

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
    for one in job.broken_links():
        entries = entries_of_row(connection, one.to_table, one.to_row)
        removals = [entry for entry in entries if entry.op == DELETED]
        if removals:
            # To undo that it was put back removes it too, but is not why it went.
            told = [entry for entry in removals if entry.kind != "undo"] or removals
            last = max(told, key=lambda entry: entry.recency)
            held = state_before(connection, last).values or {}
            name = held.get("number") or held.get("name")
            version = Version(name, last.who, last.wall, last.origin)
            gone = (one.to_table, one.to_row)
            found.append(Conflict(one.table, one.row_id, one.column, LOST, (version,), gone))
    return tuple(found)


def _conflict(
    connection: Connection, table: str, row_id: str, column: str, kind: str, heads: str
) -> Conflict:
    known = {one.id: one for one in entries_of_row(connection, table, row_id)}
    found = [known[one] for one in json.loads(heads)]
    found.sort(key=lambda one: one.recency, reverse=True)
    if kind != EVIDENCE:
        found = original_entries(known, found, column)
    if kind == REMOVED:
        found += _unseen(known, found)
    versions = [_version(one, column, kind) for one in found]
    versions.sort(key=lambda one: not column_accepts(table, column, one.value))
    return Conflict(table, row_id, column, kind, tuple(versions))


def _unseen(known: dict[str, Entry], removals: list[Entry]) -> list[Entry]:
    """The latest change that the removals did not see."""
    seen = ancestors_of(known, removals)
    changes = [one for one in known.values() if one.op != DELETED and one.id not in seen]
    first = [one for one in changes if one.kind == "do" and not is_reassertion(known, one)]
    changes = [one for one in first if one.op != ADD or not one.parents] or first or changes
    return [max(changes, key=lambda one: one.recency)] if changes else []


def _version(entry: Entry, column: str, kind: str) -> Version:
    said: Any = None if kind == REMOVED else entry.value_of(column)
    if kind == REMOVED:
        said = "removed" if entry.op == column else "changed"
    elif entry.op != ADD and not column:
        said = entry.value_of(entry.op)
    return Version(said, entry.who, entry.wall, entry.origin)
