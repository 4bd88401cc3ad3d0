"""Take entries made elsewhere into the journal, then the rows they touch from all their entries."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Table
from sqlmodel import SQLModel

from fieldbook.records.column_values import column_accepts
from fieldbook.store.journal.append import insert_entry
from fieldbook.store.journal.entry import CLOCK_FOLLOWED_LIMIT, Entry
from fieldbook.store.journal.latest_versions import state_of, store_conflicts, store_latest
from fieldbook.store.journal.merge import NEVER_CHANGED
from fieldbook.store.journal.origin import advance_clock, current_origin, start_origin
from fieldbook.store.sqlite.row_statements import delete_row, insert_row, update_row
from fieldbook.store.sqlite.triggers import CAPTURED, guard, unguard

_KNOWN = "SELECT 1 FROM journal WHERE id = ?"


@dataclass
class Received:
    """What came: how many entries were new, the properties they belong to, and what waits."""

    new: int = 0
    jobs: set[str] = field(default_factory=set)
    waiting: set[str] = field(default_factory=set)


def receive(connection: Connection, entries: Iterable[Entry], came: str) -> Received:
    """Take entries from a place, in any order; those that are here already change nothing."""
    received, rows, clock = Received(), set[tuple[str, str]](), 0
    own = current_origin(connection)
    copied = False
    for entry in entries:
        if connection.exec_driver_sql(_KNOWN, (entry.id,)).first() is not None:
            continue
        insert_entry(connection, entry, came)
        received.new += 1
        received.jobs.add(entry.job_id)
        rows.add((entry.table, entry.row_id))
        clock = max(clock, entry.clock if entry.clock < CLOCK_FOLLOWED_LIMIT else 0)
        copied = copied or entry.origin == own.id
    if copied:
        # Another book writes as this one does: it is a copy, or this one is.
        start_origin(connection)
    if rows:
        advance_clock(connection, clock)
        received.waiting = rebuild_rows(connection, rows)
    return received


def rebuild_rows(connection: Connection, rows: Iterable[tuple[str, str]]) -> set[str]:
    """Make rows (table, id) what their entries say, properties first; the entries that wait."""
    left = {(table, row_id) for table, row_id in rows if table in CAPTURED}
    if not left:
        return set()
    waiting: set[str] = set()
    for row in sorted(one for one in left if one[0] == "job"):
        was = _job_is_here(connection, row[1])
        waiting |= _rebuild_row(connection, *row)
        if not was and _job_is_here(connection, row[1]):
            # What came before its property waited for it.
            left |= _rows_of(connection, row[1])
    for row in sorted(one for one in left if one[0] != "job"):
        waiting |= _rebuild_row(connection, *row)
    connection.exec_driver_sql("DELETE FROM outbox")
    return waiting


def rebuild_waiting_rows(connection: Connection, job_id: str) -> None:
    """Show the rows that came from elsewhere before their property was entered here."""
    rebuild_rows(connection, _rows_of(connection, job_id) - {("job", job_id)})


def _rebuild_row(connection: Connection, table: str, row_id: str) -> set[str]:
    """Make one row what its entries say."""
    state = state_of(connection, table, row_id, column_accepts)
    store_latest(connection, table, row_id, state.heads)
    values = state.values
    job_id = row_id if table == "job" else str((values or {}).get("job_id", ""))
    store_conflicts(connection, job_id, table, row_id, state.conflicts)
    if values is not None and (table == "job" or _job_is_here(connection, job_id)):
        _write(connection, SQLModel.metadata.tables[table], row_id, values)
    elif table not in NEVER_CHANGED:
        delete_row(connection, table, row_id)
    return set(state.waiting)


def table_row(table: Table, row_id: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """The row that the table holds for a state's values."""
    row: dict[str, Any] = {}
    for column in table.columns:
        held = values.get(column.name)
        row[column.name] = "" if held is None and not column.nullable else held
    row["id"] = row_id
    return row


def _write(connection: Connection, table: Table, row_id: str, values: dict[str, Any]) -> None:
    wanted = table_row(table, row_id, values)
    names = list(wanted)
    listed = ", ".join(f'"{name}"' for name in names)
    query = f'SELECT {listed} FROM "{table.name}" WHERE id = ?'
    found = connection.exec_driver_sql(query, (row_id,)).first()
    if found is None:
        insert_row(connection, table.name, wanted)
        return
    differ = [name for name, held in zip(names, found, strict=True) if held != wanted[name]]
    if not differ:
        return
    changed = {name: wanted[name] for name in differ}
    if table.name in NEVER_CHANGED:
        # As it was signed first, whatever another writer made of it.
        unguard(connection, table.name)
        update_row(connection, table.name, row_id, changed)
        guard(connection, table.name)
    else:
        update_row(connection, table.name, row_id, changed)


def _job_is_here(connection: Connection, job_id: str) -> bool:
    query = "SELECT 1 FROM job WHERE id = ?"
    return connection.exec_driver_sql(query, (job_id,)).first() is not None


def _rows_of(connection: Connection, job_id: str) -> set[tuple[str, str]]:
    """Every row that some entry of a property tells of."""
    query = 'SELECT DISTINCT "table", row_id FROM journal WHERE job_id = ?'
    found: Sequence[Any] = connection.exec_driver_sql(query, (job_id,)).all()
    return {(row[0], row[1]) for row in found if row[0] in CAPTURED}
