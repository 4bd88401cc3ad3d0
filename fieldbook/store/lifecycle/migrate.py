"""Bring up a book that is older than its journal: its log of entries becomes the journal.

Books up to format 6 kept every change in a table of their own, `entry`. What the log does not tell,
because another program wrote it, is sealed as nobody's.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection
from sqlmodel import SQLModel

from fieldbook.store.changes import Act, another_program
from fieldbook.store.journal.append import RowChange, append_entry, append_outbox
from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.latest_versions import state_of
from fieldbook.store.journal.merge import RowState
from fieldbook.store.journal.origin import current_origin
from fieldbook.store.journal.receive import rebuild_rows, table_row
from fieldbook.store.journal.triggers import RECORD_TABLES, capture_current
from fieldbook.store.sqlite.row_statements import column_list

FIRST_MERGING = 7
"""Books of an older format know no other laptop."""
DROPPED = ("entry", "journal", "outbox", "origin", "board_line", "words")
_COLUMNS = 'group_id, kind, target, what, job_id, by, at, "table", row_id, "column", old, new'


@dataclass(frozen=True)
class OldEntry:
    """A change as an older book kept it, and the act it was part of."""

    act: Act
    table: str
    row_id: str
    op: str
    value: str


def read_log(connection: Connection) -> list[OldEntry]:
    """The log of an older book, oldest first; then its tables that are no more are dropped."""
    there = {
        row[0]
        for row in connection.exec_driver_sql("SELECT name FROM sqlite_schema WHERE type = 'table'")
    }
    found: list[OldEntry] = []
    if "entry" in there:
        rows = connection.exec_driver_sql(f"SELECT {_COLUMNS} FROM entry ORDER BY id").all()
        found = [_of_log(*row) for row in rows]
    for name in DROPPED:
        if name in there:
            connection.exec_driver_sql(f'DROP TABLE "{name}"')
    return found


def _of_log(
    group_id: str,
    kind: str,
    target: str,
    what: str,
    job_id: str,
    by: str,
    at: str,
    table: str,
    row_id: str,
    column: str,
    _old: str,
    new: str,
) -> OldEntry:
    act = Act(job_id, by, what, kind, target, group_id, at)
    if column:
        return OldEntry(act, table, row_id, column, _plain(json.loads(new)))
    if new == "null":
        return OldEntry(act, table, row_id, DELETED, "null")
    return OldEntry(act, table, row_id, ADD, _row(json.loads(new)))


def of_old_text(held: Mapping[str, Any]) -> OldEntry | None:
    """An entry of a text journal of format 1; None for one that says only who and when."""
    op, value = held["op"], json.loads(held["value"])
    if op in ("entered_by", "entered_at"):
        return None
    act = Act(held["job_id"], held["who"], "", "other", "", f"{held['id'][:32]}", held["wall"])
    told = _row(value) if op == ADD else "null" if op == DELETED else _plain(value)
    return OldEntry(act, held["table"], held["row_id"], op, told)


def _row(held: Mapping[str, Any]) -> str:
    """A row added, without its id and what holds nothing."""
    kept = {
        key: int(one) if isinstance(one, bool) else one
        for key, one in held.items()
        if key != "id" and one not in (None, "")
    }
    return json.dumps(kept, ensure_ascii=False, separators=(",", ":"))


def _plain(value: object) -> str:
    return json.dumps(int(value) if isinstance(value, bool) else value, ensure_ascii=False)


def append_old_log(connection: Connection, log: Iterable[OldEntry]) -> None:
    """Seal an old log as this book's own entries."""
    own = current_origin(connection)
    for one in log:
        change = RowChange(one.act.job_id, one.table, one.row_id, one.op, one.value)
        append_entry(connection, own, one.act, change)
    own.save(connection)


def append_differences(connection: Connection) -> None:
    """Seal what rows hold and no entry tells, and what entries tell and rows no longer hold."""
    connection.exec_driver_sql("DELETE FROM outbox")
    rows = list(differing(connection))
    for table, row_id, state in rows:
        _catch(connection, table, row_id, state)
    append_outbox(connection, another_program())
    rebuild_rows(connection, [(table, row_id) for table, row_id, _ in rows])


def differing(connection: Connection) -> Iterator[tuple[str, str, RowState]]:
    """The rows that are not as the journal tells them."""
    for table in RECORD_TABLES:
        query = f'SELECT id FROM "{table}" UNION SELECT row_id FROM journal WHERE "table" = ?'
        for (row_id,) in connection.exec_driver_sql(query, (table,)).all():
            state = state_of(connection, table, row_id)
            if _row_here(connection, table, row_id) != _told(table, row_id, state):
                yield table, row_id, state


def _row_here(connection: Connection, table: str, row_id: str) -> dict[str, Any] | None:
    columns = column_list(SQLModel.metadata.tables[table])
    query = f'SELECT {columns} FROM "{table}" WHERE id = ?'
    row = connection.exec_driver_sql(query, (row_id,)).mappings().first()
    return None if row is None else dict(row)


def _told(table: str, row_id: str, state: RowState) -> dict[str, Any] | None:
    if state.values is None:
        return None
    return table_row(SQLModel.metadata.tables[table], row_id, state.values)


def _catch(connection: Connection, table: str, row_id: str, state: RowState) -> None:
    """Put what differs in one row into the outbox."""
    here, told = _row_here(connection, table, row_id), _told(table, row_id, state)
    if here is None:
        connection.exec_driver_sql(
            'INSERT INTO outbox (job_id, "table", row_id, op, value) VALUES (?, ?, ?, ?, ?)',
            (str((state.values or {}).get("job_id", "")), table, row_id, DELETED, "null"),
        )
    elif told is None:
        capture_current(connection, table, row_id, "")
    else:
        for column, value in here.items():
            if value != told[column] and column not in ("entered_by", "entered_at", "job_id"):
                capture_current(connection, table, row_id, column)
