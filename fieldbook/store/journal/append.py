"""Append entries to the journal, in the transaction of the change itself."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import NamedTuple

from fieldbook.records.printable import printable
from fieldbook.store.changes import Act
from fieldbook.store.journal.entry import (
    ADD,
    FIELDS,
    FORMAT,
    LONGEST_TEXT,
    SELECT_ENTRIES,
    SELECT_NUMBERED,
    Entry,
    from_row,
    make_entry,
    to_row,
)
from fieldbook.store.journal.latest_versions import (
    clear_conflicts,
    latest_after,
    latest_of_row,
    parents_of_change,
    store_latest,
)
from fieldbook.store.journal.origin import OriginState, current_origin
from fieldbook.store.sqlite.book_connection import Connection

BATCH = 2_000
"""How many entries `batch_after` reads at a time."""
_COLUMNS = ", ".join(f'"{name}"' for name in ("id", *FIELDS, "came"))
_MARKS = ", ".join("?" * (len(FIELDS) + 2))
_INSERT = f"INSERT INTO journal ({_COLUMNS}) VALUES ({_MARKS})"
_OUTBOX = 'SELECT job_id, "table", row_id, op, value FROM outbox ORDER BY id'
_TICKS_PER_MILLISECOND = 65_536


class RowChange(NamedTuple):
    """One change of a row: `op` and `value` (JSON) are those of the entry it becomes."""

    job_id: str
    table: str
    row_id: str
    op: str
    value: str


def append_outbox(connection: Connection, act: Act) -> list[RowChange]:
    """Append an entry of one act for each change in the outbox, empty it, return the changes."""
    changes = [RowChange(*row) for row in connection.run(_OUTBOX)]
    if not changes:
        return []
    own = current_origin(connection)
    for change in changes:
        append_entry(connection, own, act, change)
    own.save(connection)
    connection.run("DELETE FROM outbox")
    return changes


def append_entry(
    connection: Connection,
    own: OriginState,
    act: Act,
    change: RowChange,
    parents: Sequence[str] | None = None,
) -> str:
    """Append one change as the next entry of `own`, which it advances; returns the entry's id.

    The parents are the latest versions of what it changes, unless `parents` names others. The
    caller saves `own`.
    """
    job_id, table, row_id, op, value = change
    latest = latest_of_row(connection, table, row_id)
    # A hybrid logical clock: the wall clock, but never behind an entry that this book has seen.
    clock = max(own.clock + 1, _ticks(act.at))
    entry = make_entry(
        {
            "origin": own.id,
            "seq": own.seq + 1,
            "prev": own.last_id,
            "clock": clock,
            "wall": act.at,
            "who": printable(act.by),
            "act": act.group_id,
            "kind": act.kind,
            "target": act.target,
            "what": printable(act.what)[:LONGEST_TEXT],
            "job_id": job_id,
            "table": table,
            "row_id": row_id,
            "op": op,
            "value": value,
            "parents": tuple(parents_of_change(latest, op) if parents is None else parents),
            "format": FORMAT,
        }
    )
    insert_entries(connection, (entry,), "")
    own.seq, own.last_id, own.clock = entry.seq, entry.id, clock
    # The first addition of a row, by far the most frequent entry, leaves nothing to store.
    if latest or op != ADD:
        store_latest(connection, table, row_id, latest_after(latest, op, entry.id))
        clear_conflicts(connection, table, row_id, op)
    return entry.id


def _ticks(at: str) -> int:
    """The clock of a moment in ISO form; 0 where it cannot be read."""
    try:
        return max(int(datetime.fromisoformat(at).timestamp() * 1000), 0) * _TICKS_PER_MILLISECOND
    except (ValueError, OverflowError):
        return 0


def insert_entries(connection: Connection, entries: Iterable[Entry], came_from: str) -> None:
    """Insert entries at the end of the journal; `came_from` is "" for those made here."""
    connection.run_many(_INSERT, ((*to_row(entry), came_from) for entry in entries))


def batch_after(
    connection: Connection, number: int, excluded: Sequence[str]
) -> list[tuple[int, Entry]]:
    """The next entries after a number, each with its own, that came from no `excluded` place."""
    query = (
        f"{SELECT_NUMBERED} WHERE n > ? AND came NOT IN (SELECT value FROM json_each(?)) "
        f"ORDER BY n LIMIT {BATCH}"
    )
    rows = connection.run(query, (number, json.dumps(list(excluded))))
    return [(row[0], from_row(row[1:])) for row in rows]


def entries_of_job(connection: Connection, job_id: str) -> list[Entry]:
    """Every entry of one property, in the order in which they arrived."""
    query = f"{SELECT_ENTRIES} WHERE job_id = ? ORDER BY n"
    return [from_row(row) for row in connection.run(query, (job_id,))]
