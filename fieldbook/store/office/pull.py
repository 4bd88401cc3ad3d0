"""Receive from the office what it added since the last exchange, a batch a transaction."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from fieldbook.records.printable import printable
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import FIELDS, Entry, EntryError, from_dict
from fieldbook.store.office.connection import checked_count
from fieldbook.store.office.office_session import SentRange, Session
from fieldbook.store.office.office_tables import ENTRY_COLUMNS
from fieldbook.store.places import PullCursor

_AFTER = f"""
SELECT n, {ENTRY_COLUMNS} FROM fieldbook.entry e
WHERE n > %s AND NOT EXISTS (
  SELECT FROM unnest(%s::bigint[], %s::bigint[]) ours(first, last)
  WHERE e.n BETWEEN ours.first AND ours.last)
ORDER BY n LIMIT %s
"""
_NEWEST = "SELECT coalesce(max(n), 0) FROM fieldbook.entry"
_ID_AT = "SELECT id FROM fieldbook.entry WHERE n = %s"


def pull(session: Session, batch: int) -> None:
    """Receive every entry after the cursor, but for those that this exchange sent itself.

    The cursor is stored in the transaction that adds the entries. Raises BookError.
    """
    connection, result, sent = session.connection, session.result, session.result.ranges
    cursor = _load_cursor(session)
    (newest,) = connection.execute(_NEWEST).fetchone() or (0,)
    result.to_see = result.seen + max(0, checked_count(newest) - cursor.number)
    first, last = [part.first for part in sent], [part.last for part in sent]
    more = True
    while more:
        parameters = (cursor.number, first, last, batch)
        rows = connection.execute(_AFTER.encode(), parameters).fetchall()
        entries = [_entry(row) for row in rows]
        _check_order([cursor.number, *(checked_count(row[0]) for row in rows)])
        more = len(rows) == batch
        before, cursor = cursor, _advance(cursor, rows, sent if not more else [])
        if cursor != before:
            received = session.book.receive_from_office(entries, session.place, cursor)
            result.received += received.new
            result.seen += cursor.number - before.number
            result.waiting |= received.waiting
            session.report()


def _load_cursor(session: Session) -> PullCursor:
    """The stored cursor, or a new one if the office does not hold that entry.

    It was then restored from a backup, and has to be read from the start.
    """
    cursor = session.book.places.cursor(session.place)
    if not cursor.number:
        return cursor
    if session.connection.execute(_ID_AT, (cursor.number,)).fetchone() == (cursor.id,):
        return cursor
    session.book.places.forget_files_at(session.place)
    return PullCursor()


def _advance(cursor: PullCursor, rows: list[tuple[Any, ...]], sent: list[SentRange]) -> PullCursor:
    """The cursor after these rows, and after what this exchange sent, if it is further on."""
    reached = [cursor, *(PullCursor(row[0], row[1]) for row in rows[-1:])]
    reached += [PullCursor(part.last, part.last_id) for part in sent]
    return max(reached, key=lambda end: end.number)


def _check_order(numbers: list[int]) -> None:
    """Raise BookError unless the numbers rise: an office could otherwise send rows without end."""
    for before, number in pairwise(numbers):
        checked_count(number - before - 1)


def _entry(row: tuple[Any, ...]) -> Entry:
    """The entry of a row. Raises BookError, before anything of its batch is stored."""
    try:
        return from_dict(dict(zip(("id", *FIELDS), row[1:], strict=True)))
    except (EntryError, ValueError) as why:
        number = printable(str(row[0]))[:20]
        raise BookError(
            f"Entry {number} of the office is not valid, {why}: nothing from there on was "
            "received. Tell whoever keeps the office's database."
        ) from why
