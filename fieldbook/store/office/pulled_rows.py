"""What both ways of receiving from an office share: rows as entries, their order, the cursor."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from fieldbook.records.printable import printable
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import FIELDS, Entry, EntryError, from_dict
from fieldbook.store.office.connection import checked_count
from fieldbook.store.office.office_session import Session
from fieldbook.store.places import PullCursor

_ID_AT = "SELECT id FROM fieldbook.entry WHERE n = %s"


def load_cursor(session: Session) -> PullCursor:
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


def check_order(numbers: list[int]) -> None:
    """Raise BookError unless the numbers rise: an office could otherwise send rows without end."""
    for before, number in pairwise(numbers):
        checked_count(number - before - 1)


def entry_of(row: tuple[Any, ...]) -> Entry:
    """The entry of a row, which begins with its number.

    Raises BookError, before anything of its batch is stored.
    """
    try:
        return from_dict(dict(zip(("id", *FIELDS), row[1:], strict=True)))
    except (EntryError, ValueError) as why:
        number = printable(str(row[0]))[:20]
        raise BookError(
            f"Entry {number} of the office is not valid, {why}: nothing from there on was "
            "received. Tell whoever keeps the office's database."
        ) from why
