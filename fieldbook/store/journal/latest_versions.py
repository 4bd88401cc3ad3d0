"""The latest versions of each row, and its open conflicts, kept so that a change costs the same.

Without them every change would read all entries of its row. Both are computed from the journal
(tables `row_heads` and `conflict`) and may be deleted at any time.
"""

from __future__ import annotations

import json
from collections.abc import Iterable

from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.merge import (
    CellConflict,
    LatestVersions,
    Readable,
    RowState,
    merge_row,
)
from fieldbook.store.sqlite.book_connection import Connection


def accept_every_value(_table: str, _column: str, _value: object) -> bool:
    """The `Readable` for callers to whom unreadable values make no difference."""
    return True


def entries_of_row(connection: Connection, table: str, row_id: str) -> list[Entry]:
    """Every entry of a row that this book has, in the order in which they arrived."""
    query = f'{SELECT_ENTRIES} WHERE row_id = ? AND "table" = ? ORDER BY n'
    return [from_row(row) for row in connection.run(query, (row_id, table))]


def state_of(
    connection: Connection, table: str, row_id: str, readable: Readable = accept_every_value
) -> RowState:
    """A row merged from all of its entries."""
    return merge_row(entries_of_row(connection, table, row_id), readable)


def latest_of_row(connection: Connection, table: str, row_id: str) -> LatestVersions:
    """The latest versions of a row, stored or computed."""
    query = 'SELECT heads FROM row_heads WHERE row_id = ? AND "table" = ?'
    stored = connection.run(query, (row_id, table)).value()
    if stored is not None:
        latest: LatestVersions = json.loads(stored)
        return latest
    return state_of(connection, table, row_id).latest


def parents_of_change(latest: LatestVersions, op: str) -> list[str]:
    """The ids that a change supersedes: the versions of its cell, or of the whole row."""
    if op in (ADD, DELETED):
        return sorted({entry_id for ids in latest.values() for entry_id in ids})
    return sorted(latest.get(op) or latest.get("", []))


def latest_after(latest: LatestVersions, op: str, entry_id: str) -> LatestVersions:
    """The latest versions once an entry has superseded those it saw."""
    if op == ADD:
        return {"": [entry_id]}
    if op == DELETED:
        return {DELETED: [entry_id]}
    return {**latest, op: [entry_id]}


def store_latest(connection: Connection, table: str, row_id: str, latest: LatestVersions) -> None:
    """Store the latest versions of a row."""
    # Of a row with a single addition nothing is stored: its one entry is read as fast.
    if set(latest) == {""} and len(latest[""]) == 1:
        connection.run('DELETE FROM row_heads WHERE row_id = ? AND "table" = ?', (row_id, table))
        return
    connection.run(
        'INSERT OR REPLACE INTO row_heads (row_id, "table", heads) VALUES (?, ?, ?)',
        (row_id, table, json.dumps(latest, separators=(",", ":"))),
    )


def clear_conflicts(connection: Connection, table: str, row_id: str, op: str) -> None:
    """Delete the conflicts that a change settles: those of its cell, or of the whole row.

    A change made here has seen every version of what it changes.
    """
    query = 'DELETE FROM conflict WHERE row_id = ? AND "table" = ?'
    values = [row_id, table]
    if op not in (ADD, DELETED):
        query += ' AND "column" = ?'
        values.append(op)
    deleted = connection.run(f"{query} RETURNING job_id", tuple(values)).all()
    for job_id in {row[0] for row in deleted}:
        _forget_board_row(connection, job_id)


def store_conflicts(
    connection: Connection,
    job_id: str,
    table: str,
    row_id: str,
    conflicts: Iterable[CellConflict],
) -> None:
    """Store the conflicts of a row in place of those stored before."""
    clear_conflicts(connection, table, row_id, DELETED)
    for conflict in conflicts:
        _forget_board_row(connection, job_id)
        connection.run(
            'INSERT INTO conflict (row_id, "table", "column", job_id, kind, heads) '
            "VALUES (?, ?, ?, ?, ?, ?)",
            (row_id, table, conflict.column, job_id, conflict.kind, json.dumps(conflict.entry_ids)),
        )


def _forget_board_row(connection: Connection, job_id: str) -> None:
    """Delete the board row that was stored for a job; the board computes it again."""
    connection.run("DELETE FROM board_line WHERE job_id = ?", (job_id,))
