"""Triggers that catch every change of the record, whoever makes it: made from the tables.

Each change lands in the outbox in the same transaction, and is sealed into the journal from there.
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
"""The tables that are the record, the job itself first."""
_NOTHING = "'null'"
_UNSEALED = ("id", "job_id", *STAMPS)
"""Columns whose change says nothing: who entered a row last, and when, is what its entries say."""


def make_triggers(connection: Connection) -> None:
    """Make the triggers anew, for the columns that the tables have now."""
    for name in RECORD_TABLES:
        for line in _triggers(SQLModel.metadata.tables[name]):
            connection.exec_driver_sql(line)


def _triggers(table: Table) -> Iterator[str]:
    name = table.name
    for verb in ("insert", "update", "delete"):
        yield f'DROP TRIGGER IF EXISTS "caught_{name}_{verb}"'
    yield (
        f'CREATE TRIGGER "caught_{name}_insert" AFTER INSERT ON "{name}" BEGIN '
        f"{_caught(table, 'NEW', ADD, _whole(table))}; {_untold(table, 'NEW')} END"
    )
    changed = " ".join(
        f"{_caught(table, 'NEW', column.name, f'json_quote({_value(column)})')} "
        f'WHERE OLD."{column.name}" IS NOT NEW."{column.name}";'
        for column in table.columns
        if column.name not in _UNSEALED
    )
    yield (
        f'CREATE TRIGGER "caught_{name}_update" AFTER UPDATE ON "{name}" '
        f"BEGIN {changed} {_untold(table, 'NEW')} END"
    )
    yield (
        f'CREATE TRIGGER "caught_{name}_delete" AFTER DELETE ON "{name}" BEGIN '
        f"{_caught(table, 'OLD', DELETED, _NOTHING)}; {_untold(table, 'OLD')} END"
    )


def _caught(table: Table, row: str, op: str, value: str) -> str:
    return (
        'INSERT INTO outbox (job_id, "table", row_id, op, value) '
        f"SELECT {_job_of(table, row)}, '{table.name}', {row}.id, '{op}', {value}"
    )


def _whole(table: Table) -> str:
    """The new row as a JSON object, without the columns that hold nothing."""
    told = {
        one.name: _value(one) if one.nullable else f"NULLIF({_value(one)}, '')"
        for one in table.columns
        if one.name != "id"
    }
    parts = ", ".join(f"'{name}', {value}" for name, value in told.items())
    return f"json_patch('{{}}', json_object({parts}))"


def _value(column: Column[Any]) -> str:
    """A column of the new row; a number with every digit it has, which JSON would cut at 15."""
    named = f'NEW."{column.name}"'
    if not isinstance(column.type, Float):
        return named
    return f"CASE WHEN {named} IS NULL THEN NULL ELSE json(printf('%!.17g', {named})) END"


def _job_of(table: Table, row: str) -> str:
    return f"{row}.job_id" if "job_id" in table.columns else f"{row}.id"


def _untold(table: Table, row: str) -> str:
    """What the board said of the job is no longer sure."""
    return f"DELETE FROM board_line WHERE job_id = {_job_of(table, row)};"


def capture_current(connection: Connection, name: str, row_id: str, column: str) -> None:
    """Put a cell, or with no column the whole row, into the outbox as it stands."""
    table = SQLModel.metadata.tables[name]
    told = f"json_quote({_value(table.c[column])})" if column else _whole(table)
    caught = _caught(table, "NEW", column or ADD, told).replace("NEW.", f'"{name}".')
    connection.exec_driver_sql(f'{caught} FROM "{name}" WHERE id = ?', (row_id,))


GUARDED = {
    "sign_off": "a sign-off stays as it was signed",
    "journal": "the journal stays as it was sealed",
}
"""By table, the sentence for a writer that would change it."""


def guard(connection: Connection, table: str) -> None:
    """Make the triggers that refuse a change of this table, where they are not there."""
    for verb in ("UPDATE", "DELETE"):
        connection.exec_driver_sql(
            f"CREATE TRIGGER IF NOT EXISTS {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{GUARDED[table]}'); END"
        )


def unguard(connection: Connection, table: str) -> None:
    """Take the triggers away, for as long as this transaction needs."""
    for verb in ("update", "delete"):
        connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {table}_no_{verb}")
