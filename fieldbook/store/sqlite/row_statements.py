"""Read and write rows of the record by plain SQL.

A statement is made from a table's columns as a string: SQLAlchemy would compile and cache one for
every set of columns, which costs a small laptop megabytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from sqlalchemy import Boolean, Connection, Table


@lru_cache(maxsize=64)
def _booleans(table: Table) -> tuple[str, ...]:
    """The columns that SQLite keeps as 0 and 1."""
    return tuple(column.name for column in table.columns if isinstance(column.type, Boolean))


def column_list(table: Table) -> str:
    """A table's columns for a SELECT, each qualified by the table.

    SQLite takes a quoted name that no column has for a text, so that `SELECT "depth" FROM zone`
    gives 'depth' for every row. A qualified name of no column is an error.
    """
    return ", ".join(f'"{table.name}"."{column.name}"' for column in table.columns)


def select_rows(
    connection: Connection, table: Table, column: str, value: str, order: str = "id"
) -> Iterator[dict[str, Any]]:
    """The rows whose column holds a value, as dicts. `order` is SQL."""
    found = connection.exec_driver_sql(
        f'SELECT {column_list(table)} FROM "{table.name}" '
        f'WHERE "{table.name}"."{column}" = ? ORDER BY {order}',
        (value,),
    )
    names = table.columns.keys()
    booleans = _booleans(table)
    for values in found:
        row = dict(zip(names, values, strict=True))
        for name in booleans:
            if row[name] is not None:
                row[name] = bool(row[name])
        yield row


def insert_row(connection: Connection, name: str, row: Mapping[str, Any]) -> None:
    """Insert a row, given as values by column."""
    columns = ", ".join(f'"{column}"' for column in row)
    marks = ", ".join("?" * len(row))
    connection.exec_driver_sql(
        f'INSERT INTO "{name}" ({columns}) VALUES ({marks})', tuple(row.values())
    )


def update_row(connection: Connection, name: str, row_id: str, changed: Mapping[str, Any]) -> None:
    """Set columns of one row, given as values by column."""
    sets = ", ".join(f'"{column}" = ?' for column in changed)
    connection.exec_driver_sql(
        f'UPDATE "{name}" SET {sets} WHERE id = ?', (*changed.values(), row_id)
    )


def delete_row(connection: Connection, name: str, row_id: str) -> None:
    """Delete one row, if it is there."""
    connection.exec_driver_sql(f'DELETE FROM "{name}" WHERE id = ?', (row_id,))
