"""Take from the office what came there since, a chunk and its place a transaction."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from itertools import pairwise
from typing import Any

from fieldbook.records.values import printable
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import FIELDS, Entry, EntryError, from_dict
from fieldbook.store.office.connection import OfficeConnection, whole
from fieldbook.store.office.local_state import PullCursor, forget_files, load_cursor, save_cursor
from fieldbook.store.office.office_tables import ENTRY_COLUMNS
from fieldbook.store.office.push import AddedEntries

_AFTER = f"""
SELECT n, {ENTRY_COLUMNS} FROM fieldbook.entry e
WHERE n > %s AND NOT EXISTS (
  SELECT FROM unnest(%s::bigint[], %s::bigint[]) ours(first, last)
  WHERE e.n BETWEEN ours.first AND ours.last)
ORDER BY n LIMIT %s
"""
_TOP = "SELECT coalesce(max(n), 0) FROM fieldbook.entry"
_AT = "SELECT id FROM fieldbook.entry WHERE n = %s"


@dataclass
class Pulled:
    """What an exchange took so far, and the ids of what waited for something when it came.

    `seen` counts what was looked at, of about `todo`.
    """

    got: int = 0
    seen: int = 0
    todo: int = 0
    waiting: set[str] = field(default_factory=set)


def pull(
    line: OfficeConnection,
    book: Book,
    place: str,
    ours: list[AddedEntries],
    pulled: Pulled,
    chunk: int,
    told: Callable[[], None],
) -> None:
    """Take every entry after the last one taken; what this exchange sent itself is passed over.

    An office that has another entry there, or none, was restored: all of it is looked through.
    """
    got = book.ask(partial(load_cursor, place=place))
    if got.number and line.execute(_AT, (got.number,)).fetchone() != (got.id,):
        got = PullCursor()
        book.note(partial(forget_files, place=place))
    (top,) = line.execute(_TOP).fetchone() or (0,)
    pulled.todo = pulled.seen + max(0, whole(top) - got.number)
    first, last = [one.first for one in ours], [one.last for one in ours]
    while True:
        rows = line.execute(_AFTER.encode(), (got.number, first, last, chunk)).fetchall()
        entries = [_entry(row) for row in rows]
        _refuse_disorder([got.number, *(whole(row[0]) for row in rows)])
        before, got = got, _further(got, rows, ours, full=len(rows) == chunk)
        if got != before:
            received = book.receive(entries, place, also=partial(save_cursor, place=place, got=got))
            pulled.got += received.new
            pulled.seen += got.number - before.number
            pulled.waiting |= received.waiting
            told()
        if len(rows) < chunk:
            return


def _further(
    got: PullCursor, rows: list[tuple[Any, ...]], ours: list[AddedEntries], *, full: bool
) -> PullCursor:
    """How far that is; what we sent ourselves lies before it or, after the last chunk, beyond."""
    reached = [got, *(PullCursor(row[0], row[1]) for row in rows[-1:])]
    if not full:
        reached += [PullCursor(one.last, one.last_id) for one in ours]
    return max(reached, key=lambda one: one.number)


def _refuse_disorder(numbers: list[int]) -> None:
    """What does not come by number could come without end."""
    for before, number in pairwise(numbers):
        whole(number - before - 1)


def _entry(row: tuple[Any, ...]) -> Entry:
    """The entry of a row. Raises BookError, before anything of its chunk is taken."""
    try:
        return from_dict(dict(zip(("id", *FIELDS), row[1:], strict=True)))
    except (EntryError, ValueError) as why:
        raise BookError(
            f"Entry {printable(str(row[0]))[:20]} of the office is not as a laptop sealed it "
            f"({why}): nothing from there on was taken; tell whoever keeps the office's database."
        ) from why
