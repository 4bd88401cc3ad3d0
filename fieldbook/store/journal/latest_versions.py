"""What a row's next change replaces, and which of its cells are in conflict: kept for speed.

Both are made from the journal, so that they may be thrown away.
"""

from __future__ import annotations

import json
from collections.abc import Iterable

from sqlalchemy import Connection

from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.merge import Conflict, Readable, RowState, merge_row

LatestVersions = dict[str, list[str]]


def accept_every_value(_table: str, _column: str, _value: object) -> bool:
    """For those who ask only what replaces what."""
    return True


def entries_of_row(connection: Connection, table: str, row_id: str) -> list[Entry]:
    """Every entry of a row that is here."""
    query = f'{SELECT_ENTRIES} WHERE row_id = ? AND "table" = ? ORDER BY n'
    return [from_row(row) for row in connection.exec_driver_sql(query, (row_id, table))]


def state_of(
    connection: Connection, table: str, row_id: str, readable: Readable = accept_every_value
) -> RowState:
    """A row's state from its entries."""
    return merge_row(entries_of_row(connection, table, row_id), readable)


def latest_of_row(connection: Connection, table: str, row_id: str) -> LatestVersions:
    """The heads of a row, kept or worked out."""
    query = 'SELECT heads FROM row_heads WHERE row_id = ? AND "table" = ?'
    kept = connection.exec_driver_sql(query, (row_id, table)).scalar()
    if kept is not None:
        found: LatestVersions = json.loads(kept)
        return found
    return state_of(connection, table, row_id).heads


def parents_of_change(heads: LatestVersions, op: str) -> list[str]:
    """The parents of a change: a cell's heads, or all of the row's when it comes or goes."""
    if op in (ADD, DELETED):
        return sorted({one for ids in heads.values() for one in ids})
    return sorted(heads.get(op) or heads.get("", []))


def latest_after(heads: LatestVersions, op: str, entry_id: str) -> LatestVersions:
    """The heads once a change that replaced them is sealed."""
    if op == ADD:
        return {"": [entry_id]}
    if op == DELETED:
        return {DELETED: [entry_id]}
    return {**heads, op: [entry_id]}


def store_latest(connection: Connection, table: str, row_id: str, heads: LatestVersions) -> None:
    """Keep a row's heads; those of a row that was only added need no keeping."""
    if set(heads) == {""} and len(heads[""]) == 1:
        connection.exec_driver_sql(
            'DELETE FROM row_heads WHERE row_id = ? AND "table" = ?', (row_id, table)
        )
        return
    connection.exec_driver_sql(
        'INSERT OR REPLACE INTO row_heads (row_id, "table", heads) VALUES (?, ?, ?)',
        (row_id, table, json.dumps(heads, separators=(",", ":"))),
    )


def clear_conflicts(connection: Connection, table: str, row_id: str, op: str) -> None:
    """A change here saw every version: its cell, or the whole row, is in conflict no longer."""
    query = 'DELETE FROM conflict WHERE row_id = ? AND "table" = ?'
    whole = op in (ADD, DELETED)
    found = connection.exec_driver_sql(
        f"{query} RETURNING job_id" if whole else f'{query} AND "column" = ? RETURNING job_id',
        (row_id, table) if whole else (row_id, table, op),
    )
    for job_id in {row[0] for row in found.all()}:
        invalidate_board_row(connection, job_id)


def invalidate_board_row(connection: Connection, job_id: str) -> None:
    """What the board said of a job is no longer sure."""
    connection.exec_driver_sql("DELETE FROM board_line WHERE job_id = ?", (job_id,))


def store_conflicts(
    connection: Connection, job_id: str, table: str, row_id: str, conflicts: Iterable[Conflict]
) -> None:
    """Keep what is in conflict in a row, in the place of what was."""
    clear_conflicts(connection, table, row_id, DELETED)
    for one in conflicts:
        invalidate_board_row(connection, job_id)
        connection.exec_driver_sql(
            'INSERT INTO conflict (row_id, "table", "column", job_id, kind, heads) '
            "VALUES (?, ?, ?, ?, ?, ?)",
            (row_id, table, one.column, job_id, one.kind, json.dumps(one.heads)),
        )
