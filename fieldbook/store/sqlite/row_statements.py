"""Read and write rows of the record by plain SQL.

A statement is made from a table's columns as a string: SQLAlchemy would compile and cache one for
every set of columns, which costs a small laptop megabytes, and a command that reads imports none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from fieldbook.records.base import Row, columns_of, once_per_table
from fieldbook.store.sqlite.book_connection import Connection


@once_per_table
def _booleans(record: type[Row]) -> tuple[str, ...]:
    """The columns that SQLite keeps as 0 and 1."""
    return tuple(name for name, column in columns_of(record).items() if column.kind is bool)


@once_per_table
def column_list(record: type[Row]) -> str:
    """A table's columns for a SELECT, each qualified by the table.

    SQLite takes a quoted name that no column has for a text, so that `SELECT "depth" FROM zone`
    gives 'depth' for every row. A qualified name of no column is an error.
    """
    return ", ".join(f'"{record.table_name}"."{name}"' for name in columns_of(record))


def select_rows(
    connection: Connection, record: type[Row], column: str, value: str, order: str = "id"
) -> Iterator[dict[str, Any]]:
    """The rows whose column holds a value, as dicts. `order` is SQL."""
    where = f'WHERE "{record.table_name}"."{column}" = ? ORDER BY {order}'
    return select_where(connection, record, where, (value,))


def select_where(
    connection: Connection, record: type[Row], where: str, values: Sequence[object] = ()
) -> Iterator[dict[str, Any]]:
    """The rows that an SQL clause chooses, as dicts."""
    query = f'SELECT {column_list(record)} FROM "{record.table_name}" {where}'
    found = connection.run(query, values)
    names = tuple(columns_of(record))
    booleans = _booleans(record)
    for row_values in found:
        row = dict(zip(names, row_values, strict=True))
        for name in booleans:
            if row[name] is not None:
                row[name] = bool(row[name])
        yield row


def insert_row(connection: Connection, name: str, row: Mapping[str, Any]) -> None:
    """Insert a row, given as values by column."""
    insert_rows(connection, name, [row])


def insert_rows(connection: Connection, name: str, rows: Sequence[Mapping[str, Any]]) -> None:
    """Insert rows, given as values by column; all have the same columns in the same order."""
    if rows:
        columns = ", ".join(f'"{column}"' for column in rows[0])
        marks = ", ".join("?" * len(rows[0]))
        statement = f'INSERT INTO "{name}" ({columns}) VALUES ({marks})'
        connection.run_many(statement, [tuple(row.values()) for row in rows])


def update_row(connection: Connection, name: str, row_id: str, changed: Mapping[str, Any]) -> None:
    """Set columns of one row, given as values by column."""
    sets = ", ".join(f'"{column}" = ?' for column in changed)
    connection.run(f'UPDATE "{name}" SET {sets} WHERE id = ?', (*changed.values(), row_id))


def delete_row(connection: Connection, name: str, row_id: str) -> None:
    """Delete one row, if it is there."""
    connection.run(f'DELETE FROM "{name}" WHERE id = ?', (row_id,))
