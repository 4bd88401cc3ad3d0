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
from fieldbook.store.journal.entry import FIELDS, Sealed, SealError, from_dict
from fieldbook.store.office.connection import Line, whole
from fieldbook.store.office.local_state import Got, forget_files, got_from, keep_got
from fieldbook.store.office.office_tables import LISTED
from fieldbook.store.office.push import Added

_AFTER = f"""
SELECT n, {LISTED} FROM fieldbook.entry e
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
    line: Line,
    book: Book,
    place: str,
    ours: list[Added],
    pulled: Pulled,
    chunk: int,
    told: Callable[[], None],
) -> None:
    """Take every entry after the last one taken; what this exchange sent itself is passed over.

    An office that has another entry there, or none, was restored: all of it is looked through.
    """
    got = book.ask(partial(got_from, place=place))
    if got.number and line.execute(_AT, (got.number,)).fetchone() != (got.id,):
        got = Got()
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
            taken = book.take(entries, place, also=partial(keep_got, place=place, got=got))
            pulled.got += taken.new
            pulled.seen += got.number - before.number
            pulled.waiting |= taken.waiting
            told()
        if len(rows) < chunk:
            return


def _further(got: Got, rows: list[tuple[Any, ...]], ours: list[Added], *, full: bool) -> Got:
    """How far that is; what we sent ourselves lies before it or, after the last chunk, beyond."""
    reached = [got, *(Got(row[0], row[1]) for row in rows[-1:])]
    if not full:
        reached += [Got(one.last, one.last_id) for one in ours]
    return max(reached, key=lambda one: one.number)


def _refuse_disorder(numbers: list[int]) -> None:
    """What does not come by number could come without end."""
    for before, number in pairwise(numbers):
        whole(number - before - 1)


def _entry(row: tuple[Any, ...]) -> Sealed:
    """The entry of a row. Raises BookError, before anything of its chunk is taken."""
    try:
        return from_dict(dict(zip(("id", *FIELDS), row[1:], strict=True)))
    except (SealError, ValueError) as why:
        raise BookError(
            f"Entry {printable(str(row[0]))[:20]} of the office is not as a laptop sealed it "
            f"({why}): nothing from there on was taken; tell whoever keeps the office's database."
        ) from why
