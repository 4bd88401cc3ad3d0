"""SQLite triggers that copy every change of the record to the outbox, whoever makes it.

They are generated from the tables of the model, so a new column is captured without further work.
`append.py` turns the outbox into entries in the same transaction. A change that another program
makes waits in the outbox until the book is opened next.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.records.base import Column, Row, columns_of
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.merge import STAMPS
from fieldbook.store.sqlite.book_connection import Connection

_JSON_NULL = "'null'"
_EVENTS = ("insert", "update", "delete")
_NOT_CAPTURED = ("id", "job_id", *STAMPS)
"""Columns whose change is no entry: who changed a row last, and when, follows from its entries."""


def drop_triggers(connection: Connection) -> None:
    """Take the triggers away, as before the tables are changed.

    For each column that is added SQLite parses every trigger of the file again, and takes six times
    as long with them.
    """
    for name in RECORDS:
        for event in _EVENTS:
            connection.run(f'DROP TRIGGER IF EXISTS "{trigger_name(name, event)}"')


def make_triggers(connection: Connection) -> None:
    """Make the triggers, for the columns that the tables have now, where there are none."""
    for record in RECORDS.values():
        for statement in _statements(record):
            connection.run(statement)


def trigger_name(table: str, event: str) -> str:
    """The name of the trigger that captures an event ("insert", "update", "delete") of a table."""
    return f"caught_{table}_{event}"


def _statements(record: type[Row]) -> Iterator[str]:
    name = record.table_name
    for event, body in (
        ("insert", f"{_capture(record, 'NEW', ADD, _whole_row(record))};"),
        ("update", _capture_changed(record)),
        ("delete", f"{_capture(record, 'OLD', DELETED, _JSON_NULL)};"),
    ):
        row = "OLD" if event == "delete" else "NEW"
        # The stored board row of the job no longer holds: a trigger of the board makes a blank one.
        stale = f"DELETE FROM board_line WHERE job_id = {_job_id(record, row)};"
        trigger = trigger_name(name, event)
        yield f'CREATE TRIGGER "{trigger}" AFTER {event} ON "{name}" BEGIN {body} {stale} END'


def _capture_changed(record: type[Row]) -> str:
    """The statement that adds each changed column to the outbox.

    It has a row of VALUES for each column. SQLite parses every trigger when it opens a file, and
    would need half as long again for a statement for each column (0.6 ms more on a slow laptop).
    """
    rows = ", ".join(
        f'(\'{name}\', json_quote({_value(name, column)}), OLD."{name}" IS NOT NEW."{name}")'
        for name, column in columns_of(record).items()
        if name not in _NOT_CAPTURED
    )
    # SQLite names the columns of VALUES column1, column2 and column3.
    return (
        'INSERT INTO outbox (job_id, "table", row_id, op, value) '
        f"SELECT {_job_id(record, 'NEW')}, '{record.table_name}', NEW.id, column1, column2 "
        f"FROM (VALUES {rows}) WHERE column3;"
    )


def _capture(record: type[Row], row: str, op: str, value: str) -> str:
    """The statement that adds one change to the outbox; `value` is SQL that gives JSON."""
    return (
        'INSERT INTO outbox (job_id, "table", row_id, op, value) '
        f"SELECT {_job_id(record, row)}, '{record.table_name}', {row}.id, '{op}', {value}"
    )


def _whole_row(record: type[Row]) -> str:
    """SQL for the new row as a JSON object without its blank columns."""
    values = {
        name: _value(name, column) if column.optional else f"NULLIF({_value(name, column)}, '')"
        for name, column in columns_of(record).items()
        if name != "id"
    }
    pairs = ", ".join(f"'{name}', {value}" for name, value in values.items())
    # json_patch drops the keys that are NULL.
    return f"json_patch('{{}}', json_object({pairs}))"


def _value(name: str, column: Column) -> str:
    """SQL for a column of the new row. SQLite's JSON cuts a number at 15 digits; 17 keep it all."""
    # Qualified: SQLite takes a quoted name of no column for a text.
    value = f'NEW."{name}"'
    if column.kind is not float:
        return value
    return f"CASE WHEN {value} IS NULL THEN NULL ELSE json(printf('%!.17g', {value})) END"


def _job_id(record: type[Row], row: str) -> str:
    return f"{row}.job_id" if "job_id" in columns_of(record) else f"{row}.id"


def capture_current(connection: Connection, name: str, row_id: str, column: str) -> None:
    """Add a cell's present value, or the whole row if `column` is "", to the outbox."""
    record = RECORDS[name]
    value = _whole_row(record)
    if column:
        value = f"json_quote({_value(column, columns_of(record)[column])})"
    capture = _capture(record, "NEW", column or ADD, value).replace("NEW.", f'"{name}".')
    connection.run(f'{capture} FROM "{name}" WHERE id = ?', (row_id,))


GUARDED = {
    "sign_off": "a sign-off stays as it was signed",
    "journal": "the journal stays as it was sealed",
}
"""Tables that no writer may change, each with the sentence that refuses it."""


def guard(connection: Connection, table: str) -> None:
    """Make the triggers that refuse a change of a row of this table, if they are missing."""
    for verb in ("UPDATE", "DELETE"):
        connection.run(
            f"CREATE TRIGGER IF NOT EXISTS {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{GUARDED[table]}'); END"
        )


def unguard(connection: Connection, table: str) -> None:
    """Drop these triggers, until `guard` is called later in the same transaction."""
    for verb in ("update", "delete"):
        connection.run(f"DROP TRIGGER IF EXISTS {table}_no_{verb}")
