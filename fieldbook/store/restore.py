"""Put back what a removal took away: the row, and all that went with it."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection

from fieldbook.store.again import state_before, whole_row
from fieldbook.store.change import Change, Put
from fieldbook.store.heads import entries_of, heads_of, replaced_by
from fieldbook.store.sealed import ADD, DELETED, SELECT, Sealed, from_row
from fieldbook.store.write import read_row, table_named


def restored(connection: Connection, table: str, row_id: str) -> list[Change]:
    """The changes that bring a removed row back with what the same act removed and cleared.

    What was entered since in a cell that the removal cleared stays.
    """
    removals = [one for one in entries_of(connection, table, row_id) if one.op == DELETED]
    if not removals or _is_here(connection, table, row_id):
        return []
    last = max(removals, key=lambda one: one.age)
    query = f"{SELECT} WHERE job_id = ? AND act = ? AND origin = ? ORDER BY n DESC"
    found = connection.exec_driver_sql(query, (last.job_id, last.act, last.origin)).all()
    return _changes(connection, [from_row(row) for row in found])


def _changes(connection: Connection, entries: Iterable[Sealed]) -> list[Change]:
    entries = list(entries)
    changes: list[Change] = []
    back: set[str] = set()
    for one in entries:
        if one.op == DELETED and not _is_here(connection, one.table, one.row_id):
            state = state_before(connection, one)
            if state.values is not None:
                changes.append(whole_row(connection, one.table, one.row_id, state, removed=False))
                back.add(one.row_id)
    for one in entries:
        if one.op not in (ADD, DELETED) and _still(connection, one):
            value = (state_before(connection, one).values or {}).get(one.op)
            if value in back:
                changes.append(Put(one.table, one.row_id, one.op, value))
    return changes


def _still(connection: Connection, entry: Sealed) -> bool:
    """Whether nothing was entered since in the cell, and its row is there."""
    heads = replaced_by(heads_of(connection, entry.table, entry.row_id), entry.op)
    return heads == [entry.id] and _is_here(connection, entry.table, entry.row_id)


def _is_here(connection: Connection, table: str, row_id: str) -> bool:
    return read_row(connection, table_named(table), row_id) is not None
