"""Send the office what it lacks of this book's own entries, and hear which it refuses."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial

from fieldbook.store.book import Book
from fieldbook.store.journal.entry import Entry, as_dict
from fieldbook.store.office.connection import OfficeConnection, whole
from fieldbook.store.office.limits import fits_office
from fieldbook.store.office.local_state import (
    Tally,
    entries_of_origin,
    entries_with_ids,
    ids_of_origin,
    own_tallies,
)
from fieldbook.store.office.office_tables import COLUMNS, ENTRY_COLUMNS

_TYPED = ", ".join(f'"{name}" {kind}' for name, kind in (("id", "text"), *COLUMNS))
_INSERT = f"""
WITH added AS (
  INSERT INTO fieldbook.entry ({ENTRY_COLUMNS})
  SELECT {ENTRY_COLUMNS} FROM json_to_recordset(%s::json) AS one ({_TYPED})
  ON CONFLICT (id) DO NOTHING RETURNING n, id
)
SELECT count(*), min(n), max(n), (array_agg(id ORDER BY n DESC))[1] FROM added
"""
_TALLIES = """
SELECT o.origin, c.laptop, c.laptop = session_user OR EXISTS (SELECT FROM fieldbook.also_sends a
    WHERE a.origin = o.origin AND a.laptop = session_user), t.count, t.last,
  ARRAY(SELECT e.id FROM fieldbook.entry e WHERE e.origin = o.origin AND e.seq = t.last)
FROM unnest(%s::text[]) o(origin)
LEFT JOIN fieldbook.laptop_origin c ON c.origin = o.origin
CROSS JOIN LATERAL (SELECT count(*), coalesce(max(e.seq), 0) AS last
  FROM fieldbook.entry e WHERE e.origin = o.origin) t
"""
_CLAIM = "INSERT INTO fieldbook.laptop_origin (origin) VALUES (%s) ON CONFLICT DO NOTHING"
_IDS = "SELECT id FROM fieldbook.entry WHERE origin = %s"
_ALIKE = """
SELECT encode(sha256(convert_to(coalesce(string_agg(id, '' ORDER BY id COLLATE "C"), ''), 'UTF8')),
  'hex') FROM fieldbook.entry WHERE origin = %s
"""


@dataclass(frozen=True)
class OfficeTally:
    """What the office has of an origin, and which laptop sends it ("" when none has yet)."""

    laptop: str
    is_ours: bool
    tally: Tally


@dataclass
class Pushed:
    """What an exchange sent so far, of how much.

    `ours`: the numbers the office gave to what was sent, from and to, and the last id.
    `held_back`: by (origin, laptop that it belongs to) how many entries are not ours to send.
    """

    sent: int = 0
    todo: int = 0
    ours: list[AddedEntries] = field(default_factory=list)
    held_back: dict[tuple[str, str], int] = field(default_factory=dict)
    unfit: set[str] = field(default_factory=set)


@dataclass(frozen=True)
class AddedEntries:
    """What the office numbered the entries that were new to it, and the last one's id."""

    count: int
    first: int = 0
    last: int = 0
    last_id: str = ""


def insert_entries(line: OfficeConnection, entries: Sequence[Entry]) -> AddedEntries:
    """Add entries at the office in one statement, which is a transaction; no lock waits for us."""
    told = json.dumps([as_dict(one) for one in entries], ensure_ascii=False)
    count, first, last, last_id = line.execute(_INSERT.encode(), (told,)).fetchone() or (0,) * 4
    return (
        AddedEntries(count, whole(first), whole(last), str(last_id))
        if whole(count)
        else AddedEntries(0)
    )


def push(
    line: OfficeConnection, book: Book, pushed: Pushed, chunk: int, told: Callable[[], None]
) -> None:
    """Send what the office lacks of the book's own origins, so many entries a transaction."""
    own = book.ask(own_tallies)
    there = _tallies(line, list(own))
    lacking = (max(0, tally.count - there[one].tally.count) for one, tally in own.items())
    pushed.todo = pushed.sent + sum(lacking)
    for origin, tally in own.items():
        for entries in _lacking(line, book, origin, tally, there[origin], chunk):
            at = there[origin]
            if not at.laptop:
                line.execute(_CLAIM, (origin,))
                at = there[origin] = _tallies(line, [origin])[origin]
            if not at.is_ours:
                key = (origin, at.laptop)
                pushed.held_back[key] = pushed.held_back.get(key, 0) + len(entries)
                continue
            fit = [one for one in entries if fits_office(one)]
            pushed.unfit |= {one.id for one in entries} - {one.id for one in fit}
            added = insert_entries(line, fit)
            if added.count:
                pushed.sent += added.count
                pushed.ours.append(added)
            told()


def _tallies(line: OfficeConnection, origins: list[str]) -> dict[str, OfficeTally]:
    return {
        origin: OfficeTally(
            str(laptop or ""),
            bool(is_ours),
            Tally(whole(count), whole(last), frozenset(map(str, ids))),
        )
        for origin, laptop, is_ours, count, last, ids in line.execute(_TALLIES, (origins,))
    }


def _lacking(
    line: OfficeConnection, book: Book, origin: str, own: Tally, there: OfficeTally, chunk: int
) -> Iterator[list[Entry]]:
    """The entries of an origin that the office lacks, in chunks.

    Where the office's entries are the beginning of ours, what is beyond its last one. Otherwise,
    as after a copied book or a restored office, what an id by id comparison finds.
    """
    at = there.tally
    if own.count == own.last and _begins_ours(book, origin, at):
        last = at.last
        while last < own.last:
            entries = book.ask(partial(entries_of_origin, origin=origin, seq=last, most=chunk))
            yield entries
            last = entries[-1].seq
        return
    ours = book.ask(partial(ids_of_origin, origin=origin))
    (alike,) = line.execute(_ALIKE, (origin,)).fetchone() or ("",)
    if alike == hashlib.sha256("".join(sorted(ours)).encode()).hexdigest():
        return
    known = {row[0] for row in line.execute(_IDS, (origin,))}
    missing = [one for one in ours if one not in known]
    for start in range(0, len(missing), chunk):
        part = missing[start : start + chunk]
        yield book.ask(partial(entries_with_ids, ids=part))


def _begins_ours(book: Book, origin: str, at: Tally) -> bool:
    """Whether what is at the office is the beginning of what the book has of an origin."""
    if not at.count:
        return True
    if not at.whole:
        return False
    here = book.ask(partial(entries_of_origin, origin=origin, seq=at.last - 1, most=1))
    return [one.id for one in here] == list(at.last_ids)
