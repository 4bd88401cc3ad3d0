"""Restore a removed row, with the rows that the same act removed because they depended on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.store.changes import Change, Keep, Put, Reassert
from fieldbook.store.journal.apply import read_row
from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import latest_of_row, parents_of_change
from fieldbook.store.journal.reassert import (
    entries_by_id,
    original_entries,
    reassert_row,
    state_before,
)
from fieldbook.store.sqlite.book_connection import Connection


def restoring_changes(connection: Connection, table: str, row_id: str) -> list[Change]:
    """The changes that bring back a row, and what the act that removed it removed and cleared.

    A row that stayed in spite of its removal is kept. A cell that the removal cleared and somebody
    has entered since keeps what was entered.
    """
    entries = _entries_of_removal(connection, table, row_id)
    gone: dict[str, Reassert] = {}
    kept: dict[str, Keep] = {}
    for entry in entries:
        if entry.op != DELETED or entry.row_id in gone or entry.row_id in kept:
            continue
        if _row_exists(connection, entry):
            if latest_of_row(connection, entry.table, entry.row_id).get(DELETED):
                kept[entry.row_id] = Keep(entry.table, entry.row_id)
            continue
        state = state_before(connection, entry)
        if state.values is not None:
            gone[entry.row_id] = reassert_row(
                connection, entry.table, entry.row_id, state, removed=False
            )
    wanted = _connected(row_id, gone, kept)
    return [
        *(change for key, change in gone.items() if key in wanted),
        *(change for key, change in kept.items() if key in wanted),
        *_cleared_cells(connection, entries, wanted),
    ]


def _entries_of_removal(connection: Connection, table: str, row_id: str) -> list[Entry]:
    """Every entry of the acts that removed a row, the last first."""
    known = entries_by_id(connection, table, row_id)
    latest = latest_of_row(connection, table, row_id).get(DELETED, [])
    removals = [known[entry_id] for entry_id in latest if entry_id in known]
    query = f"{SELECT_ENTRIES} WHERE job_id = ? AND act = ? AND origin = ? ORDER BY n DESC"
    found: dict[str, Entry] = {}
    for removal in (*removals, *original_entries(known, removals, DELETED)):
        values = (removal.job_id, removal.act, removal.origin)
        rows = connection.run(query, values).all()
        found.update((entry.id, entry) for entry in map(from_row, rows))
    return list(found.values())


def _connected(row_id: str, gone: dict[str, Reassert], kept: dict[str, Keep]) -> set[str]:
    """The ids of the removed rows that link to this row or that it links to, and so on."""
    found, left = {row_id}, [row_id]
    while left:
        here = left.pop()
        linked = set((gone[here].row or {}).values()) if here in gone else set()
        more = {
            other
            for other, change in gone.items()
            if other in linked or here in (change.row or {}).values()
        }
        more = (more | {other for other in kept if other in linked}) - found
        found |= more
        left.extend(more)
    return found


def _cleared_cells(
    connection: Connection, entries: Sequence[Entry], wanted: set[str]
) -> Iterator[Put]:
    """The links to restored rows that the removal cleared and nobody has entered since."""
    for entry in entries:
        if entry.op in (ADD, DELETED) or not _row_exists(connection, entry):
            continue
        latest = latest_of_row(connection, entry.table, entry.row_id)
        if parents_of_change(latest, entry.op) == [entry.id]:
            value = (state_before(connection, entry).values or {}).get(entry.op)
            if value in wanted:
                yield Put(entry.table, entry.row_id, entry.op, value)


def _row_exists(connection: Connection, entry: Entry) -> bool:
    return read_row(connection, entry.table, entry.row_id) is not None
