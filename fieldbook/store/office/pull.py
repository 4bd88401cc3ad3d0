"""Receive from the office what it added since the last exchange, a batch a transaction."""

from __future__ import annotations

from typing import Any

from fieldbook.store.office.connection import checked_count
from fieldbook.store.office.office_session import SentRange, Session
from fieldbook.store.office.office_tables import ENTRY_COLUMNS
from fieldbook.store.office.pulled_rows import check_order, entry_of, load_cursor
from fieldbook.store.places import PullCursor

_AFTER = f"""
SELECT n, {ENTRY_COLUMNS} FROM fieldbook.entry e
WHERE n > %s AND NOT EXISTS (
  SELECT FROM unnest(%s::bigint[], %s::bigint[]) ours(first, last)
  WHERE e.n BETWEEN ours.first AND ours.last)
ORDER BY n LIMIT %s
"""
_NEWEST = "SELECT coalesce(max(n), 0) FROM fieldbook.entry"


def pull(session: Session, batch: int) -> None:
    """Receive every entry after the cursor, but for those that this exchange sent itself.

    The cursor is stored in the transaction that adds the entries. Raises BookError.
    """
    connection, result, sent = session.connection, session.result, session.result.ranges
    cursor = load_cursor(session)
    (newest,) = connection.execute(_NEWEST).fetchone() or (0,)
    result.to_see = result.seen + max(0, checked_count(newest) - cursor.number)
    first, last = [part.first for part in sent], [part.last for part in sent]
    more = True
    while more:
        parameters = (cursor.number, first, last, batch)
        rows = connection.execute(_AFTER.encode(), parameters).fetchall()
        entries = [entry_of(row) for row in rows]
        check_order([cursor.number, *(checked_count(row[0]) for row in rows)])
        more = len(rows) == batch
        before, cursor = cursor, _advance(cursor, rows, sent if not more else [])
        if cursor != before:
            received = session.book.receive_from_office(entries, session.place, cursor)
            result.add(received)
            result.seen += cursor.number - before.number
            session.report()


def _advance(cursor: PullCursor, rows: list[tuple[Any, ...]], sent: list[SentRange]) -> PullCursor:
    """The cursor after these rows, and after what this exchange sent, if it is further on."""
    reached = [cursor, *(PullCursor(row[0], row[1]) for row in rows[-1:])]
    reached += [PullCursor(part.last, part.last_id) for part in sent]
    return max(reached, key=lambda end: end.number)
