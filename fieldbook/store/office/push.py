"""Send the office the entries of this book's origins that it lacks."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldbook.store.journal.entry import Entry, as_dict
from fieldbook.store.office.connection import OfficeConnection, checked_count
from fieldbook.store.office.limits import fits_office
from fieldbook.store.office.office_session import SentRange, Session
from fieldbook.store.office.office_tables import COLUMNS, ENTRY_COLUMNS
from fieldbook.store.office.pulled_rows import load_cursor
from fieldbook.store.sharing import OwnEntries

_TYPED = ", ".join(f'"{name}" {kind}' for name, kind in (("id", "text"), *COLUMNS))
_INSERT = f"""
WITH added AS (
  INSERT INTO fieldbook.entry ({ENTRY_COLUMNS})
  SELECT {ENTRY_COLUMNS} FROM json_to_recordset(%s::json) AS sent ({_TYPED})
  ON CONFLICT (id) DO NOTHING RETURNING n, id
)
SELECT count(*), min(n), max(n), (array_agg(id ORDER BY n DESC))[1] FROM added
"""
# Ids are sorted by bytes, as Python sorts them, and not by the language of the database.
_HELD = """
SELECT o.origin, c.laptop, c.laptop = session_user OR EXISTS (SELECT FROM fieldbook.also_sends a
    WHERE a.origin = o.origin AND a.laptop = session_user), t.count, t.digest
FROM unnest(%s::text[], %s::bigint[]) o(origin, first)
LEFT JOIN fieldbook.laptop_origin c ON c.origin = o.origin
CROSS JOIN LATERAL (SELECT count(*), encode(sha256(convert_to(
    coalesce(string_agg(e.id, '' ORDER BY e.seq, e.id COLLATE "C"), ''), 'UTF8')), 'hex') AS digest
  FROM fieldbook.entry e WHERE e.origin = o.origin AND e.seq >= o.first) t
"""
_STATE = """
SELECT 'fieldbook.entry'::regclass::oid || ':'
  || coalesce(pg_stat_get_tuples_deleted('fieldbook.entry'::regclass), 0)
"""
_CLAIM = "INSERT INTO fieldbook.laptop_origin (origin) VALUES (%s) ON CONFLICT DO NOTHING"
_IDS = "SELECT id FROM fieldbook.entry WHERE origin = %s AND seq >= %s"


@dataclass(frozen=True)
class _Held:
    """What the office holds of an origin: how many entries, and the hash of their ids in order.

    Both are of the entries from a number on, after those that it is known to have. `laptop` owns
    the origin ("" before its first entry). `may_send`: it is this laptop, or this laptop was
    allowed to send for it.
    """

    laptop: str
    may_send: bool
    count: int
    digest: str


def insert_entries(connection: OfficeConnection, entries: Sequence[Entry]) -> SentRange:
    """Add entries at the office in one statement, so that no lock is held between statements."""
    listed = json.dumps([as_dict(entry) for entry in entries], ensure_ascii=False)
    row = connection.execute(_INSERT.encode(), (listed,)).fetchone() or (0,) * 4
    count, first, last, last_id = row
    if not checked_count(count):
        return SentRange(0)
    return SentRange(count, checked_count(first), checked_count(last), str(last_id))


def state_of_entries(connection: OfficeConnection) -> str:
    """What changes when entries are lost: which table it is, and how many rows it has lost.

    No laptop can delete an entry, but a table may be restored, or mended by hand.
    """
    (state,) = connection.execute(_STATE.encode()).fetchone() or ("",)
    return str(state)


def push(session: Session, batch: int, state: str) -> None:
    """Send what the office lacks of the book's own origins, a batch a transaction.

    What it had when its entries were in this state before, and has not lost by a restore since, is
    neither read here nor asked for there.
    """
    connection, result, places = session.connection, session.result, session.book.places
    known = places.sent_to(session.place, state) if load_cursor(session).number else 0
    own = session.book.shared.own_entries_after(known)
    office = _held_of(connection, own)
    lacking = {origin: _lacking(connection, origin, own[origin], office[origin]) for origin in own}
    result.to_send = result.sent + sum(map(len, lacking.values()))
    for origin, ids in lacking.items():
        held = office[origin]
        if ids and not held.laptop:
            connection.execute(_CLAIM, (origin,))
            # Another laptop may have claimed the origin at the same moment.
            held = _held_of(connection, {origin: own[origin]})[origin]
        if ids and not held.may_send:
            result.held_back[origin, held.laptop] = len(ids)
            continue
        for start in range(0, len(ids), batch):
            some = ids[start : start + batch]
            entries = session.book.shared.entries_with_ids(some)
            # The others were put away here; an office that was restored may have lost them.
            result.put_away_lost |= set(some) - {entry.id for entry in entries}
            _send(session, entries)


def _send(session: Session, entries: list[Entry]) -> None:
    result = session.result
    fit = [entry for entry in entries if fits_office(entry)]
    result.unfit |= {entry.id for entry in entries} - {entry.id for entry in fit}
    added = insert_entries(session.connection, fit)
    if added.count:
        result.sent += added.count
        result.ranges.append(added)
    session.report()


def _held_of(connection: OfficeConnection, own: Mapping[str, OwnEntries]) -> dict[str, _Held]:
    if not own:
        return {}
    first = [entries.first for entries in own.values()]
    rows = connection.execute(_HELD, (list(own), first))
    return {
        origin: _Held(str(laptop or ""), bool(may_send), checked_count(count), str(digest))
        for origin, laptop, may_send, count, digest in rows
    }


def _lacking(connection: OfficeConnection, origin: str, own: OwnEntries, held: _Held) -> list[str]:
    """Those of an origin's ids, in order, that the office lacks.

    The office usually holds the first so many, which one hash proves. Only after a book was copied
    or the office restored from a backup are all ids fetched.
    """
    first = "".join(own.ids[: held.count])
    if held.digest == hashlib.sha256(first.encode()).hexdigest():
        return own.ids[held.count :]
    known = {row[0] for row in connection.execute(_IDS, (origin, own.first))}
    return [entry_id for entry_id in own.ids if entry_id not in known]
