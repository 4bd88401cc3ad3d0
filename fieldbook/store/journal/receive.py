"""Receive entries made elsewhere, and rebuild the rows they touch from all of their entries."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from fieldbook.records.base import columns_of
from fieldbook.records.column_values import column_accepts
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.journal.append import insert_entry
from fieldbook.store.journal.entry import CLOCK_FOLLOWED_LIMIT, Entry
from fieldbook.store.journal.latest_versions import state_of, store_conflicts, store_latest
from fieldbook.store.journal.merge import NEVER_CHANGED
from fieldbook.store.journal.origin import advance_clock, current_origin, start_origin
from fieldbook.store.journal.put_away import came_back, is_any_away
from fieldbook.store.journal.triggers import guard, unguard
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.row_statements import column_list, delete_row, insert_row, update_row

_KNOWN = "SELECT 1 FROM journal WHERE id = ?"
_TOUCHED = 'SELECT DISTINCT "table", row_id FROM journal WHERE job_id = ?'


@dataclass
class Received:
    """How many entries were new, and the ids of those that wait for a parent."""

    new: int = 0
    waiting: set[str] = field(default_factory=set)


def receive(connection: Connection, entries: Iterable[Entry], came_from: str) -> Received:
    """Add entries to the journal, in any order, inside the caller's transaction.

    Entries that are there already are passed over. `came_from` names the file or office.
    """
    received, rows, clock = Received(), set[tuple[str, str]](), 0
    own = current_origin(connection)
    copied, some_away = False, is_any_away(connection)
    for entry in entries:
        if connection.run(_KNOWN, (entry.id,)).first() is not None:
            continue
        insert_entry(connection, entry, came_from)
        received.new += 1
        rows.add((entry.table, entry.row_id))
        clock = max(clock, entry.clock if entry.clock < CLOCK_FOLLOWED_LIMIT else 0)
        back = some_away and came_back(connection, entry.id)
        copied = copied or (entry.origin == own.id and not back)
    if copied:
        # Another book writes under our origin: it is a copy of this one, or this one is a copy.
        start_origin(connection)
    if rows:
        advance_clock(connection, clock)
        received.waiting = rebuild_rows(connection, rows)
    return received


def rebuild_rows(connection: Connection, rows: Iterable[tuple[str, str]]) -> set[str]:
    """Make rows (table, id) what their entries say; returns the ids of entries that wait.

    A row is shown only once its property is here, so properties come first.
    """
    left = {(table, row_id) for table, row_id in rows if table in RECORDS}
    waiting: set[str] = set()
    for table, job_id in sorted(row for row in left if row[0] == "job"):
        was_here = _job_exists(connection, job_id)
        waiting |= _rebuild_row(connection, table, job_id)
        if not was_here and _job_exists(connection, job_id):
            left |= _rows_of_job(connection, job_id)
    for table, row_id in sorted(row for row in left if row[0] != "job"):
        waiting |= _rebuild_row(connection, table, row_id)
    if left:
        # The triggers cannot tell these changes from a crew's, but their entries exist already.
        connection.run("DELETE FROM outbox")
    return waiting


def rebuild_waiting_rows(connection: Connection, job_id: str) -> None:
    """Show the rows that were received before their property was entered on this laptop."""
    rebuild_rows(connection, _rows_of_job(connection, job_id) - {("job", job_id)})


def _rows_of_job(connection: Connection, job_id: str) -> set[tuple[str, str]]:
    """Every row (table, id) of a property that an entry touches."""
    rows = connection.run(_TOUCHED, (job_id,)).all()
    return {(row[0], row[1]) for row in rows if row[0] in RECORDS}


def _job_exists(connection: Connection, job_id: str) -> bool:
    query = "SELECT 1 FROM job WHERE id = ?"
    return connection.run(query, (job_id,)).first() is not None


def _rebuild_row(connection: Connection, table: str, row_id: str) -> set[str]:
    """Make one row what its entries say; returns the ids of entries that wait."""
    state = state_of(connection, table, row_id, column_accepts)
    store_latest(connection, table, row_id, state.latest)
    values = state.values
    job_id = row_id if table == "job" else str((values or {}).get("job_id", ""))
    store_conflicts(connection, job_id, table, row_id, state.conflicts)
    if values is not None and (table == "job" or _job_exists(connection, job_id)):
        _write_row(connection, table, row_id, values)
    elif table not in NEVER_CHANGED:
        delete_row(connection, table, row_id)
    return set(state.waiting)


def table_row(table: str, row_id: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """The row that the table holds for merged values: each of its columns, blank ones as stored."""
    row: dict[str, Any] = {}
    for name, column in columns_of(RECORDS[table]).items():
        value = values.get(name)
        row[name] = "" if value is None and not column.optional else value
    row["id"] = row_id
    return row


def _write_row(connection: Connection, table: str, row_id: str, values: dict[str, Any]) -> None:
    wanted = table_row(table, row_id, values)
    query = f'SELECT {column_list(RECORDS[table])} FROM "{table}" WHERE id = ?'
    stored = connection.run(query, (row_id,)).first()
    if stored is None:
        insert_row(connection, table, wanted)
        return
    changed = {
        name: value
        for (name, value), old in zip(wanted.items(), stored, strict=True)
        if value != old
    }
    if not changed:
        return
    if table in NEVER_CHANGED:
        # The first addition may arrive after a later one; only then does evidence change here.
        unguard(connection, table)
        update_row(connection, table, row_id, changed)
        guard(connection, table)
    else:
        update_row(connection, table, row_id, changed)
