"""The one place that writes the record: apply the changes of an act inside a transaction."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, Table
from sqlmodel import SQLModel

from fieldbook.store.changes import Act, Add, Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.journal.merge import NEVER_REMOVED
from fieldbook.store.sqlite.row_statements import delete_row, insert_row, select_rows, update_row
from fieldbook.store.sqlite.triggers import catch_as_it_is


def apply(connection: Connection, act: Act, change: Put | Add | Remove) -> int:
    """Apply a change inside the caller's transaction; how many rows it changed."""
    if isinstance(change, Put):
        return _put(connection, act, change)
    if isinstance(change, Add):
        return _add(connection, act, change.table, change.row_id, change.values)
    return _remove(connection, change)


def table_named(name: str) -> Table:
    """The SQLAlchemy table of a name the record uses."""
    return SQLModel.metadata.tables[name]


def read_row(connection: Connection, table: Table, row_id: str) -> dict[str, Any] | None:
    """A row as a dict, or None."""
    return next(select_rows(connection, table, "id", row_id), None)


def _put(connection: Connection, act: Act, change: Put) -> int:
    table = table_named(change.table)
    row = read_row(connection, table, change.row_id)
    if row is None:
        values = {**change.seed, change.column: change.value}
        return _add(connection, act, change.table, change.row_id, values)
    old = row[change.column]
    stamp = {"entered_by": act.by, "entered_at": act.at}
    if old == change.value and type(old) is type(change.value):
        return _choose(connection, change, stamp)
    changed = {change.column: change.value, **stamp}
    update_row(connection, change.table, change.row_id, changed)
    return 1


def _add(
    connection: Connection, act: Act, name: str, row_id: str, values: Mapping[str, Any]
) -> int:
    table = table_named(name)
    row = {"entered_by": act.by, "entered_at": act.at, **values, "id": row_id}
    if "job_id" in table.c:
        row.setdefault("job_id", act.job_id)
    for column in table.c:
        if column.name not in row and not column.nullable:
            row[column.name] = ""
    insert_row(connection, name, row)
    return 1


def _remove(connection: Connection, change: Remove) -> int:
    if change.table in NEVER_REMOVED:
        raise BookError("A property is never removed: take it off the board instead.")
    table = table_named(change.table)
    row = read_row(connection, table, change.row_id)
    if row is None:
        return 0
    delete_row(connection, change.table, change.row_id)
    return 1


def _choose(connection: Connection, change: Put, stamp: Mapping[str, str]) -> int:
    """Say again what is shown, when it is in conflict: that is the choice, and an entry."""
    table, row_id, column = change.table, change.row_id, change.column
    query = 'SELECT 1 FROM conflict WHERE row_id = ? AND "table" = ? AND "column" = ?'
    if connection.exec_driver_sql(query, (row_id, table, column)).first() is None:
        return 0
    catch_as_it_is(connection, table, row_id, column)
    update_row(connection, table, row_id, stamp)
    return 1
