"""Triggers that catch every change of the record, whoever makes it: made from the tables.

Each change lands in the outbox in the same transaction, and is sealed into the journal from there.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Column, Connection, Float, Table
from sqlmodel import SQLModel

from fieldbook.records.loaded import TABLES

CAPTURED = ("job", *TABLES)
"""The tables that are the record, the job itself first."""
ADD, DELETED = "add", "_deleted"


def make_triggers(connection: Connection) -> None:
    """Make the triggers anew, for the columns that the tables have now."""
    for name in CAPTURED:
        for line in _triggers(SQLModel.metadata.tables[name]):
            connection.exec_driver_sql(line)


def _triggers(table: Table) -> Iterator[str]:
    name = table.name
    into = 'INSERT INTO outbox ("table", row_id, op, value)'
    for verb in ("insert", "update", "delete"):
        yield f'DROP TRIGGER IF EXISTS "caught_{name}_{verb}"'
    yield (
        f'CREATE TRIGGER "caught_{name}_insert" AFTER INSERT ON "{name}" BEGIN '
        f"{into} VALUES ('{name}', NEW.id, '{ADD}', {_whole(table)}); {_untold(table, 'NEW')} END"
    )
    changed = " ".join(
        f"{into} SELECT '{name}', NEW.id, '{column.name}', json_quote({_value(column)}) "
        f'WHERE OLD."{column.name}" IS NOT NEW."{column.name}";'
        for column in table.columns
        if column.name != "id"
    )
    yield (
        f'CREATE TRIGGER "caught_{name}_update" AFTER UPDATE ON "{name}" '
        f"BEGIN {changed} {_untold(table, 'NEW')} END"
    )
    yield (
        f'CREATE TRIGGER "caught_{name}_delete" AFTER DELETE ON "{name}" BEGIN '
        f"{into} VALUES ('{name}', OLD.id, '{DELETED}', json_quote({_job_of(table, 'OLD')})); "
        f"{_untold(table, 'OLD')} END"
    )


def _whole(table: Table) -> str:
    """The new row as a JSON object, without the columns that hold nothing."""
    parts = ", ".join(f"'{one.name}', {_value(one)}" for one in table.columns)
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


def catch_all(connection: Connection) -> None:
    """Put every row there is into the outbox, for a book that had no journal yet."""
    for name in CAPTURED:
        table = SQLModel.metadata.tables[name]
        whole = _whole(table).replace("NEW.", f'"{name}".')
        connection.exec_driver_sql(
            f'INSERT INTO outbox ("table", row_id, op, value) '
            f"SELECT '{name}', id, '{ADD}', {whole} FROM \"{name}\""
        )
