"""SQLite triggers that copy every change of the record to the outbox, whoever makes it.

They are generated from the tables of the model, so a new column is captured without further work.
`append.py` turns the outbox into entries in the same transaction. A change that another program
makes waits in the outbox until the book is opened next.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Column, Connection, Float, Table
from sqlmodel import SQLModel

from fieldbook.records.loaded_job import TABLES
from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.merge import STAMPS

RECORD_TABLES = ("job", *TABLES)
"""The tables that make up the record, the job's own first."""
_JSON_NULL = "'null'"
_NOT_CAPTURED = ("id", "job_id", *STAMPS)
"""Columns whose change is no entry: who changed a row last, and when, follows from its entries."""


def make_triggers(connection: Connection) -> None:
    """Make the triggers anew, for the columns that the tables have now."""
    for name in RECORD_TABLES:
        for statement in _statements(SQLModel.metadata.tables[name]):
            connection.exec_driver_sql(statement)


def trigger_name(table: str, event: str) -> str:
    """The name of the trigger that captures an event ("insert", "update", "delete") of a table."""
    return f"caught_{table}_{event}"


def _statements(table: Table) -> Iterator[str]:
    name = table.name
    for event, body in (
        ("insert", f"{_capture(table, 'NEW', ADD, _whole_row(table))};"),
        ("update", _capture_changed(table)),
        ("delete", f"{_capture(table, 'OLD', DELETED, _JSON_NULL)};"),
    ):
        row = "OLD" if event == "delete" else "NEW"
        # The stored board row of the job no longer holds: a trigger of the board makes a blank one.
        stale = f"DELETE FROM board_line WHERE job_id = {_job_id(table, row)};"
        trigger = trigger_name(name, event)
        yield f'DROP TRIGGER IF EXISTS "{trigger}"'
        yield f'CREATE TRIGGER "{trigger}" AFTER {event} ON "{name}" BEGIN {body} {stale} END'


def _capture_changed(table: Table) -> str:
    """The statement that adds each changed column to the outbox.

    It has a row of VALUES for each column. SQLite parses every trigger when it opens a file, and
    would need half as long again for a statement for each column (0.6 ms more on a slow laptop).
    """
    rows = ", ".join(
        f"('{column.name}', json_quote({_value(column)}), "
        f'OLD."{column.name}" IS NOT NEW."{column.name}")'
        for column in table.columns
        if column.name not in _NOT_CAPTURED
    )
    # SQLite names the columns of VALUES column1, column2 and column3.
    return (
        'INSERT INTO outbox (job_id, "table", row_id, op, value) '
        f"SELECT {_job_id(table, 'NEW')}, '{table.name}', NEW.id, column1, column2 "
        f"FROM (VALUES {rows}) WHERE column3;"
    )


def _capture(table: Table, row: str, op: str, value: str) -> str:
    """The statement that adds one change to the outbox; `value` is SQL that gives JSON."""
    return (
        'INSERT INTO outbox (job_id, "table", row_id, op, value) '
        f"SELECT {_job_id(table, row)}, '{table.name}', {row}.id, '{op}', {value}"
    )


def _whole_row(table: Table) -> str:
    """SQL for the new row as a JSON object without its blank columns."""
    values = {
        column.name: _value(column) if column.nullable else f"NULLIF({_value(column)}, '')"
        for column in table.columns
        if column.name != "id"
    }
    pairs = ", ".join(f"'{name}', {value}" for name, value in values.items())
    # json_patch drops the keys that are NULL.
    return f"json_patch('{{}}', json_object({pairs}))"


def _value(column: Column[Any]) -> str:
    """SQL for a column of the new row. SQLite's JSON cuts a number at 15 digits; 17 keep it all."""
    # Qualified: SQLite takes a quoted name of no column for a text.
    value = f'NEW."{column.name}"'
    if not isinstance(column.type, Float):
        return value
    return f"CASE WHEN {value} IS NULL THEN NULL ELSE json(printf('%!.17g', {value})) END"


def _job_id(table: Table, row: str) -> str:
    return f"{row}.job_id" if "job_id" in table.columns else f"{row}.id"


def capture_current(connection: Connection, name: str, row_id: str, column: str) -> None:
    """Add a cell's present value, or the whole row if `column` is "", to the outbox."""
    table = SQLModel.metadata.tables[name]
    value = f"json_quote({_value(table.c[column])})" if column else _whole_row(table)
    capture = _capture(table, "NEW", column or ADD, value).replace("NEW.", f'"{name}".')
    connection.exec_driver_sql(f'{capture} FROM "{name}" WHERE id = ?', (row_id,))


GUARDED = {
    "sign_off": "a sign-off stays as it was signed",
    "journal": "the journal stays as it was sealed",
}
"""Tables that no writer may change, each with the sentence that refuses it."""


def guard(connection: Connection, table: str) -> None:
    """Make the triggers that refuse a change of a row of this table, if they are missing."""
    for verb in ("UPDATE", "DELETE"):
        connection.exec_driver_sql(
            f"CREATE TRIGGER IF NOT EXISTS {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{GUARDED[table]}'); END"
        )


def unguard(connection: Connection, table: str) -> None:
    """Drop these triggers, until `guard` is called later in the same transaction."""
    for verb in ("update", "delete"):
        connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {table}_no_{verb}")
