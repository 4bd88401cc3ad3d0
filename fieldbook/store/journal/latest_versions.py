"""The latest versions of each row, and its open conflicts, kept so that a change costs the same.

Without them every change would read all entries of its row. Both are computed from the journal
(tables `row_heads` and `conflict`) and may be deleted at any time.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.merge import (
    LatestVersions,
    Readable,
    RowState,
    merge_row,
)
from fieldbook.store.sqlite.book_connection import Connection

_IN_LIST = "SELECT value FROM json_each(?)"
_OF_ROWS = f'{SELECT_ENTRIES} WHERE row_id IN ({_IN_LIST}) AND "table" = ? ORDER BY n'


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


def states_of_rows(
    connection: Connection, table: str, row_ids: Sequence[str], readable: Readable
) -> dict[str, RowState]:
    """Rows of one table by id, in the order given, each merged from all of its entries."""
    entries: dict[str, list[Entry]] = {row_id: [] for row_id in row_ids}
    for row in connection.run(_OF_ROWS, (json.dumps(row_ids), table)):
        entry = from_row(row)
        entries[entry.row_id].append(entry)
    return {row_id: merge_row(of_row, readable) for row_id, of_row in entries.items()}


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
    if _is_single_addition(latest):
        connection.run('DELETE FROM row_heads WHERE row_id = ? AND "table" = ?', (row_id, table))
        return
    connection.run(
        'INSERT OR REPLACE INTO row_heads (row_id, "table", heads) VALUES (?, ?, ?)',
        (row_id, table, json.dumps(latest, separators=(",", ":"))),
    )


def _is_single_addition(latest: LatestVersions) -> bool:
    """Whether nothing is stored of a row: its one entry is read as fast."""
    return len(latest) == 1 and len(latest.get("", ())) == 1


def store_latest_of_rows(
    connection: Connection, table: str, states: Mapping[str, RowState]
) -> None:
    """Store the latest versions of rows of one table."""
    query = f'SELECT row_id FROM row_heads WHERE row_id IN ({_IN_LIST}) AND "table" = ?'
    stored = {row[0] for row in connection.run(query, (json.dumps(list(states)), table)).all()}
    for row_id, state in states.items():
        if row_id in stored or not _is_single_addition(state.latest):
            store_latest(connection, table, row_id, state.latest)


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


def store_conflicts_of_rows(
    connection: Connection,
    table: str,
    states: Mapping[str, RowState],
    job_ids: Mapping[str, str],
) -> None:
    """Store the conflicts of rows of one table, in the jobs given by row, in place of those before.

    Most rows have none.
    """
    query = f'SELECT DISTINCT row_id FROM conflict WHERE row_id IN ({_IN_LIST}) AND "table" = ?'
    for (row_id,) in connection.run(query, (json.dumps(list(states)), table)).all():
        clear_conflicts(connection, table, row_id, DELETED)
    for row_id, state in states.items():
        for conflict in state.conflicts:
            _forget_board_row(connection, job_ids[row_id])
            ids = json.dumps(conflict.entry_ids)
            connection.run(
                'INSERT INTO conflict (row_id, "table", "column", job_id, kind, heads) '
                "VALUES (?, ?, ?, ?, ?, ?)",
                (row_id, table, conflict.column, job_ids[row_id], conflict.kind, ids),
            )


def _forget_board_row(connection: Connection, job_id: str) -> None:
    """Delete the board row that was stored for a job; the board computes it again."""
    connection.run("DELETE FROM board_line WHERE job_id = ?", (job_id,))
