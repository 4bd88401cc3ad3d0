"""Seal what was caught into the journal: content-hash ids in a chain, in the same transaction."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import datetime

from sqlalchemy import Connection

from fieldbook.records.values import printable
from fieldbook.store.changes import Act
from fieldbook.store.journal.entry import (
    ADD,
    FIELDS,
    LONGEST_TEXT,
    SELECT_ENTRIES,
    Entry,
    from_row,
    make_entry,
)
from fieldbook.store.journal.latest_versions import (
    clear_conflicts,
    latest_after,
    latest_of_row,
    parents_of_change,
    store_latest,
)
from fieldbook.store.journal.origin import OriginState, current_origin

_INTO = ", ".join(f'"{name}"' for name in ("id", *FIELDS, "came"))
_MARKS = ", ".join("?" * (len(FIELDS) + 2))
_NUMBERED = SELECT_ENTRIES.replace("SELECT ", "SELECT n, ", 1)
BATCH = 2_000
"""The entries that are read at a time."""
_TICKS_A_MILLISECOND = 65_536
_CAUGHT = 'SELECT job_id, "table", row_id, op, value FROM outbox ORDER BY id'


def append_outbox(connection: Connection, act: Act, book_format: int) -> list[tuple[str, str, str]]:
    """Seal everything in the outbox as part of an act, inside the caller's transaction.

    Returns the (table, row id, op) of what was sealed.
    """
    caught = connection.exec_driver_sql(_CAUGHT).all()
    if not caught:
        return []
    own = current_origin(connection)
    for change in caught:
        append_entry(connection, own, act, tuple(change), book_format)
    own.keep(connection)
    connection.exec_driver_sql("DELETE FROM outbox")
    return [(change[1], change[2], change[3]) for change in caught]


def append_entry(
    connection: Connection,
    own: OriginState,
    act: Act,
    change: Sequence[str],
    book_format: int,
    parents: Sequence[str] | None = None,
) -> str:
    """Seal one change: (job id, table, row id, op, value); its id. `own` goes on by one.

    It replaces `parents`, if given, else what it meets.
    """
    job_id, table, row_id, op, value = change
    heads = latest_of_row(connection, table, row_id)
    clock = max(own.clock + 1, _ticks(act.at))
    content = {
        "origin": own.id,
        "seq": own.seq + 1,
        "prev": own.last,
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
        "parents": tuple(parents_of_change(heads, op) if parents is None else parents),
        "format": book_format,
    }
    entry = make_entry(content)
    insert_entry(connection, entry, "")
    own.seq, own.last, own.clock = entry.seq, entry.id, clock
    if heads or op != ADD:
        store_latest(connection, table, row_id, latest_after(heads, op, entry.id))
        clear_conflicts(connection, table, row_id, op)
    return entry.id


def _ticks(at: str) -> int:
    """The clock of a moment; 0 for one that can't be read."""
    try:
        return max(int(datetime.fromisoformat(at).timestamp() * 1000), 0) * _TICKS_A_MILLISECOND
    except (ValueError, OverflowError):
        return 0


def insert_entry(connection: Connection, entry: Entry, came: str) -> None:
    """Put an entry at the end of the journal."""
    held = [getattr(entry, name) for name in FIELDS]
    held[FIELDS.index("parents")] = json.dumps(entry.parents, separators=(",", ":"))
    connection.exec_driver_sql(
        f"INSERT INTO journal ({_INTO}) VALUES ({_MARKS})", (entry.id, *held, came)
    )


def entries_after(connection: Connection, number: int = 0) -> Iterator[tuple[int, Entry]]:
    """The entries that came here after a number, each with its own, in that order."""
    for row in connection.exec_driver_sql(f"{_NUMBERED} WHERE n > ? ORDER BY n", (number,)):
        yield row[0], from_row(row[1:])


def batch_after(connection: Connection, number: int, places: list[str]) -> list[tuple[int, Entry]]:
    """The next few entries that came from none of these places, each with its number."""
    query = (
        f"{_NUMBERED} WHERE n > ? AND came NOT IN (SELECT value FROM json_each(?)) "
        f"ORDER BY n LIMIT {BATCH}"
    )
    rows = connection.exec_driver_sql(query, (number, json.dumps(places))).all()
    return [(row[0], from_row(row[1:])) for row in rows]


def entries_of_job(connection: Connection, job_id: str) -> list[Entry]:
    """Every entry on one property, as they came."""
    query = f"{_NUMBERED} WHERE job_id = ? ORDER BY n"
    return [from_row(row[1:]) for row in connection.exec_driver_sql(query, (job_id,))]
