"""Rebuild rows of the record from their entries: a batch of rows of one table at a time.

Received entries may be thousands, and nearly all of the time of a statement goes into starting it.
So entries, stored rows and conflicts are each read for a whole batch, and rows written together.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

from fieldbook.records.base import Row, columns_of, once_per_table
from fieldbook.records.column_values import column_accepts
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.journal.latest_versions import (
    states_of_rows,
    store_conflicts_of_rows,
    store_latest_of_rows,
)
from fieldbook.store.journal.merge import NEVER_CHANGED
from fieldbook.store.journal.triggers import guard, unguard
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.row_statements import column_list, delete_row, insert_rows, update_row

_TOUCHED = 'SELECT DISTINCT "table", row_id FROM journal WHERE job_id = ?'
_BATCH = 500
"""Rows that are rebuilt at a time; more would only take more memory."""


def rebuild_rows(connection: Connection, rows: Iterable[tuple[str, str]]) -> set[str]:
    """Make rows (table, id) what their entries say; returns the ids of entries that wait.

    A row is shown only once its property is here, so properties come first.
    """
    left = {(table, row_id) for table, row_id in rows if table in RECORDS}
    waiting: set[str] = set()
    for job_ids in _batches(sorted(row_id for table, row_id in left if table == "job")):
        were_here = _jobs_here(connection, job_ids)
        waiting |= _rebuild_batch(connection, "job", job_ids)
        for job_id in sorted(_jobs_here(connection, job_ids) - were_here):
            left |= _rows_of_job(connection, job_id)
    by_table: dict[str, list[str]] = {}
    for table, row_id in sorted(row for row in left if row[0] != "job"):
        by_table.setdefault(table, []).append(row_id)
    for table, row_ids in by_table.items():
        for batch in _batches(row_ids):
            waiting |= _rebuild_batch(connection, table, batch)
    if left:
        # The triggers cannot tell these changes from a crew's, but their entries exist already.
        connection.run("DELETE FROM outbox")
    return waiting


def rebuild_waiting_rows(connection: Connection, job_id: str) -> None:
    """Show the rows that were received before their property was entered on this laptop."""
    rebuild_rows(connection, _rows_of_job(connection, job_id) - {("job", job_id)})


def table_row(table: str, row_id: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """The row that the table holds for merged values: each of its columns, blank ones as stored."""
    row = dict(_blank_row(RECORDS[table]))
    for name, value in values.items():
        if value is not None and name in row:
            row[name] = value
    row["id"] = row_id
    return row


@once_per_table
def _blank_row(record: type[Row]) -> dict[str, Any]:
    """A row of a table without any value."""
    return {name: None if column.optional else "" for name, column in columns_of(record).items()}


def _rows_of_job(connection: Connection, job_id: str) -> set[tuple[str, str]]:
    """Every row (table, id) of a property that an entry touches."""
    rows = connection.run(_TOUCHED, (job_id,)).all()
    return {(row[0], row[1]) for row in rows if row[0] in RECORDS}


def _jobs_here(connection: Connection, job_ids: Collection[str]) -> set[str]:
    """Those of these properties that the book holds."""
    query = "SELECT id FROM job WHERE id IN (SELECT value FROM json_each(?))"
    return {str(row[0]) for row in connection.run(query, (json.dumps(list(job_ids)),))}


def _rebuild_batch(connection: Connection, table: str, row_ids: Sequence[str]) -> set[str]:
    """Make rows of one table what their entries say; returns the ids of entries that wait."""
    states = states_of_rows(connection, table, row_ids, column_accepts)
    job_ids = {
        row_id: row_id if table == "job" else str((state.values or {}).get("job_id", ""))
        for row_id, state in states.items()
    }
    store_latest_of_rows(connection, table, states)
    store_conflicts_of_rows(connection, table, states, job_ids)
    here = set() if table == "job" else _jobs_here(connection, set(job_ids.values()))
    stored = _stored_rows(connection, table, row_ids)
    new: list[dict[str, Any]] = []
    for row_id, state in states.items():
        if state.values is not None and (table == "job" or job_ids[row_id] in here):
            wanted = table_row(table, row_id, state.values)
            if row_id in stored:
                _change_row(connection, table, stored[row_id], wanted)
            else:
                new.append(wanted)
        elif row_id in stored and table not in NEVER_CHANGED:
            delete_row(connection, table, row_id)
    insert_rows(connection, table, new)
    return {entry_id for state in states.values() for entry_id in state.waiting}


def _stored_rows(
    connection: Connection, table: str, row_ids: Sequence[str]
) -> dict[str, tuple[Any, ...]]:
    """Those of these rows that the table holds, by id, with the values of all columns in order."""
    query = (
        f'SELECT {column_list(RECORDS[table])} FROM "{table}" '
        "WHERE id IN (SELECT value FROM json_each(?))"
    )
    rows = connection.run(query, (json.dumps(row_ids),))
    # The id is the first column of every table.
    return {row[0]: row for row in rows}


def _change_row(
    connection: Connection, table: str, stored: tuple[Any, ...], wanted: Mapping[str, Any]
) -> None:
    """Write the columns of a stored row that differ from those wanted."""
    changed = {
        name: value
        for (name, value), old in zip(wanted.items(), stored, strict=True)
        if value != old
    }
    if not changed:
        return
    if table in NEVER_CHANGED:
        # The first addition may arrive after a later one; only then does evidence change here.
        unguard(connection, table)
        update_row(connection, table, wanted["id"], changed)
        guard(connection, table)
    else:
        update_row(connection, table, wanted["id"], changed)


def _batches(row_ids: Iterable[str]) -> Iterator[list[str]]:
    left = iter(row_ids)
    while batch := list(islice(left, _BATCH)):
        yield batch
