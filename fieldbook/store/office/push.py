"""Send the office the entries of this book's origins that it lacks."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from fieldbook.store.book import Book
from fieldbook.store.journal.entry import Entry, as_dict
from fieldbook.store.office.connection import OfficeConnection, Session, checked_count
from fieldbook.store.office.limits import fits_office
from fieldbook.store.office.office_tables import COLUMNS, ENTRY_COLUMNS
from fieldbook.store.sharing import Tally

_TYPED = ", ".join(f'"{name}" {kind}' for name, kind in (("id", "text"), *COLUMNS))
_INSERT = f"""
WITH added AS (
  INSERT INTO fieldbook.entry ({ENTRY_COLUMNS})
  SELECT {ENTRY_COLUMNS} FROM json_to_recordset(%s::json) AS sent ({_TYPED})
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
# Sorted by bytes, as Python sorts them, and not by the language of the database.
_HASH_OF_IDS = """
SELECT encode(sha256(convert_to(coalesce(string_agg(id, '' ORDER BY id COLLATE "C"), ''), 'UTF8')),
  'hex') FROM fieldbook.entry WHERE origin = %s
"""


@dataclass(frozen=True)
class SentRange:
    """The numbers that the office gave to `count` entries it lacked, and the last one's id."""

    count: int
    first: int = 0
    last: int = 0
    last_id: str = ""


@dataclass
class PushResult:
    """What an exchange sent so far, of how many entries.

    `held_back` counts, by origin and the laptop that owns it, the entries that another laptop has
    to send. `unfit` are the ids of entries that the office's database cannot hold.
    """

    sent: int = 0
    total: int = 0
    ranges: list[SentRange] = field(default_factory=list)
    held_back: dict[tuple[str, str], int] = field(default_factory=dict)
    unfit: set[str] = field(default_factory=set)


@dataclass(frozen=True)
class OfficeTally:
    """What the office holds of an origin, and the laptop that owns it ("" before the first entry).

    `may_send`: this laptop owns it, or was allowed to send for its owner.
    """

    laptop: str
    may_send: bool
    tally: Tally


def insert_entries(connection: OfficeConnection, entries: Sequence[Entry]) -> SentRange:
    """Add entries at the office in one statement, so that no lock is held between statements."""
    listed = json.dumps([as_dict(entry) for entry in entries], ensure_ascii=False)
    row = connection.execute(_INSERT.encode(), (listed,)).fetchone() or (0,) * 4
    count, first, last, last_id = row
    if not checked_count(count):
        return SentRange(0)
    return SentRange(count, checked_count(first), checked_count(last), str(last_id))


def push(session: Session, result: PushResult, batch: int) -> None:
    """Send what the office lacks of the book's own origins, a batch a transaction."""
    own = session.book.shared.own_tallies()
    office = _office_tallies(session.connection, list(own))
    lacking = (max(0, tally.count - office[origin].tally.count) for origin, tally in own.items())
    result.total = result.sent + sum(lacking)
    for origin, tally in own.items():
        held = office[origin]
        for entries in _lacking(session, origin, tally, held.tally, batch):
            if not held.laptop:
                session.connection.execute(_CLAIM, (origin,))
                # Another laptop may have claimed the origin at the same moment.
                held = _office_tallies(session.connection, [origin])[origin]
            if not held.may_send:
                key = (origin, held.laptop)
                result.held_back[key] = result.held_back.get(key, 0) + len(entries)
                continue
            fit = [entry for entry in entries if fits_office(entry)]
            result.unfit |= {entry.id for entry in entries} - {entry.id for entry in fit}
            added = insert_entries(session.connection, fit)
            if added.count:
                result.sent += added.count
                result.ranges.append(added)
            session.report()


def _office_tallies(connection: OfficeConnection, origins: list[str]) -> dict[str, OfficeTally]:
    found = {}
    for origin, laptop, may_send, count, last, ids in connection.execute(_TALLIES, (origins,)):
        tally = Tally(checked_count(count), checked_count(last), frozenset(map(str, ids)))
        found[origin] = OfficeTally(str(laptop or ""), bool(may_send), tally)
    return found


def _lacking(
    session: Session, origin: str, own: Tally, held: Tally, batch: int
) -> Iterator[list[Entry]]:
    """The entries of an origin that the office lacks, in batches.

    Where the office holds the beginning of the origin, these are the entries after its last one.
    Otherwise (a book was copied, or the office restored from a backup) ids are compared.
    """
    book, connection = session.book, session.connection
    if own.count == own.last and _is_beginning(book, origin, held):
        last = held.last
        while last < own.last:
            entries = book.shared.entries_of_origin(origin, last, batch)
            yield entries
            last = entries[-1].seq
        return
    ids = book.shared.ids_of_origin(origin)
    # One hash instead of every id, which a slow connection would carry at each exchange.
    (hashed,) = connection.execute(_HASH_OF_IDS, (origin,)).fetchone() or ("",)
    if hashed == hashlib.sha256("".join(sorted(ids)).encode()).hexdigest():
        return
    known = {row[0] for row in connection.execute(_IDS, (origin,))}
    missing = [entry_id for entry_id in ids if entry_id not in known]
    for start in range(0, len(missing), batch):
        yield book.shared.entries_with_ids(missing[start : start + batch])


def _is_beginning(book: Book, origin: str, held: Tally) -> bool:
    """Whether what the office holds of an origin is the beginning of what the book holds."""
    if not held.count:
        return True
    if not held.whole:
        return False
    last = book.shared.entries_of_origin(origin, held.last - 1, 1)
    return [entry.id for entry in last] == list(held.last_ids)
