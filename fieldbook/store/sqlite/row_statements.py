"""Rows of the record in and out of SQLite, as plain SQL.

A statement made from a table's columns is a string; SQLAlchemy would compile and keep one for every
set of columns, which costs a small laptop megabytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from sqlalchemy import Boolean, Connection, Table


@lru_cache(maxsize=64)
def _ticks(table: Table) -> tuple[str, ...]:
    """The columns that SQLite keeps as 0 and 1."""
    return tuple(column.name for column in table.columns if isinstance(column.type, Boolean))


def select_rows(
    connection: Connection, table: Table, column: str, value: str, order: str = "id"
) -> Iterator[dict[str, Any]]:
    """The rows whose column holds a value, in an order given as SQL."""
    names = [one.name for one in table.columns]
    listed = ", ".join(f'"{name}"' for name in names)
    found = connection.exec_driver_sql(
        f'SELECT {listed} FROM "{table.name}" WHERE "{column}" = ? ORDER BY {order}', (value,)
    )
    ticks = _ticks(table)
    for held in found:
        row = dict(zip(names, held, strict=True))
        for name in ticks:
            if row[name] is not None:
                row[name] = bool(row[name])
        yield row


def insert_row(connection: Connection, name: str, row: Mapping[str, Any]) -> None:
    """Insert a row by its columns."""
    listed = ", ".join(f'"{column}"' for column in row)
    marks = ", ".join("?" * len(row))
    connection.exec_driver_sql(
        f'INSERT INTO "{name}" ({listed}) VALUES ({marks})', tuple(row.values())
    )


def update_row(connection: Connection, name: str, row_id: str, changed: Mapping[str, Any]) -> None:
    """Set columns of one row."""
    sets = ", ".join(f'"{column}" = ?' for column in changed)
    connection.exec_driver_sql(
        f'UPDATE "{name}" SET {sets} WHERE id = ?', (*changed.values(), row_id)
    )


def delete_row(connection: Connection, name: str, row_id: str) -> None:
    """Take one row away."""
    connection.exec_driver_sql(f'DELETE FROM "{name}" WHERE id = ?', (row_id,))
