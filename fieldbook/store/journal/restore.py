"""Put back what a removal took away: the row, and all that hung on it and went with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy import Connection

from fieldbook.store.changes import Change, Keep, Put, Reassert
from fieldbook.store.journal.apply import read_row, table_named
from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import entries_of_row, latest_of_row, parents_of_change
from fieldbook.store.journal.reassert import original_entries, reassert_row, state_before


def restoring_changes(connection: Connection, table: str, row_id: str) -> list[Change]:
    """The changes that bring a row back with what the same act removed and cleared.

    A row that stays in spite of its removal is kept. What was entered since in a cell that the
    removal cleared stays too.
    """
    entries = _of_the_removals(connection, table, row_id)
    gone: dict[str, Reassert] = {}
    kept: dict[str, Keep] = {}
    for one in entries:
        if one.op != DELETED or one.row_id in gone or one.row_id in kept:
            continue
        if _is_here(connection, one.table, one.row_id):
            if latest_of_row(connection, one.table, one.row_id).get(DELETED):
                kept[one.row_id] = Keep(one.table, one.row_id)
            continue
        state = state_before(connection, one)
        if state.values is not None:
            gone[one.row_id] = reassert_row(connection, one.table, one.row_id, state, removed=False)
    back = _hanging_on(row_id, gone, kept)
    again = [one for key, one in gone.items() if key in back]
    keep = [one for key, one in kept.items() if key in back]
    return [*again, *keep, *_cleared(connection, entries, back)]


def _of_the_removals(connection: Connection, table: str, row_id: str) -> list[Entry]:
    """Every entry of the acts that removed a row, the last first."""
    known = {one.id: one for one in entries_of_row(connection, table, row_id)}
    heads = latest_of_row(connection, table, row_id).get(DELETED, [])
    removals = [known[one] for one in heads if one in known]
    query = f"{SELECT_ENTRIES} WHERE job_id = ? AND act = ? AND origin = ? ORDER BY n DESC"
    found: dict[str, Entry] = {}
    for one in (*removals, *original_entries(known, removals, DELETED)):
        rows = connection.exec_driver_sql(query, (one.job_id, one.act, one.origin)).all()
        found.update((entry.id, entry) for entry in map(from_row, rows))
    return list(found.values())


def _hanging_on(row_id: str, gone: dict[str, Reassert], kept: dict[str, Keep]) -> set[str]:
    """The rows that went which name this one, or which it names, and so on."""
    back, left = {row_id}, [row_id]
    while left:
        here = left.pop()
        named = set((gone[here].row or {}).values()) if here in gone else set()
        for other, again in gone.items():
            if other not in back and (other in named or here in (again.row or {}).values()):
                back.add(other)
                left.append(other)
        more = [one for one in kept if one in named and one not in back]
        back.update(more)
        left.extend(more)
    return back


def _cleared(connection: Connection, entries: Sequence[Entry], back: set[str]) -> Iterator[Put]:
    """The cells that named what comes back, where nothing was entered since."""
    for one in entries:
        if one.op not in (ADD, DELETED) and _still(connection, one):
            value = (state_before(connection, one).values or {}).get(one.op)
            if value in back:
                yield Put(one.table, one.row_id, one.op, value)


def _still(connection: Connection, entry: Entry) -> bool:
    """Whether nothing was entered since in the cell, and its row is there."""
    heads = parents_of_change(latest_of_row(connection, entry.table, entry.row_id), entry.op)
    return heads == [entry.id] and _is_here(connection, entry.table, entry.row_id)


def _is_here(connection: Connection, table: str, row_id: str) -> bool:
    return read_row(connection, table_named(table), row_id) is not None
