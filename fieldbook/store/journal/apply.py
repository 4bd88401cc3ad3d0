"""Write the changes of an act to the tables of the record. Triggers copy them to the outbox."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fieldbook.records.base import columns_of
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.changes import Act, Add, Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.journal.merge import NEVER_REMOVED
from fieldbook.store.journal.triggers import capture_current
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.row_statements import delete_row, insert_row, select_rows, update_row


def apply(connection: Connection, act: Act, change: Put | Add | Remove) -> bool:
    """Write one change; returns whether it changed anything."""
    if isinstance(change, Put):
        return _put(connection, act, change)
    if isinstance(change, Add):
        return _add(connection, act, change.table, change.row_id, change.values)
    return _remove(connection, change)


def read_row(connection: Connection, table: str, row_id: str) -> dict[str, Any] | None:
    """A row by its id, or None."""
    return next(select_rows(connection, RECORDS[table], "id", row_id), None)


def _put(connection: Connection, act: Act, change: Put) -> bool:
    row = read_row(connection, change.table, change.row_id)
    if row is None:
        values = {**change.seed, change.column: change.value}
        return _add(connection, act, change.table, change.row_id, values)
    old = row[change.column]
    stamps = {"entered_by": act.by, "entered_at": act.at}
    # The types differ between 1 and True, which are equal to Python.
    if old == change.value and type(old) is type(change.value):
        return _settle(connection, change, stamps)
    update_row(connection, change.table, change.row_id, {change.column: change.value, **stamps})
    return True


def _settle(connection: Connection, change: Put, stamps: Mapping[str, str]) -> bool:
    """Choose the value that a cell in conflict shows already; False if it is in no conflict.

    No trigger fires for a value that stays as it is, so the cell is put into the outbox by hand.
    """
    table, row_id, column = change.table, change.row_id, change.column
    query = 'SELECT 1 FROM conflict WHERE row_id = ? AND "table" = ? AND "column" = ?'
    if connection.run(query, (row_id, table, column)).first() is None:
        return False
    capture_current(connection, table, row_id, column)
    update_row(connection, table, row_id, stamps)
    return True


def _add(
    connection: Connection, act: Act, table: str, row_id: str, values: Mapping[str, Any]
) -> bool:
    columns = columns_of(RECORDS[table])
    row = {"entered_by": act.by, "entered_at": act.at, **values, "id": row_id}
    if "job_id" in columns:
        row.setdefault("job_id", act.job_id)
    for name, column in columns.items():
        if name not in row and not column.optional:
            row[name] = ""
    insert_row(connection, table, row)
    return True


def _remove(connection: Connection, change: Remove) -> bool:
    if change.table in NEVER_REMOVED:
        raise BookError("A property is never removed: take it off the board instead.")
    if read_row(connection, change.table, change.row_id) is None:
        return False
    delete_row(connection, change.table, change.row_id)
    return True
