"""Send the office this laptop's seals, and receive the others' before their entries come.

An entry is therefore never at the office before its seal. A hub that was made by an older fieldbook
has no seals: entries that come from it show as unsigned.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from contextlib import suppress
from typing import Any

from fieldbook.store.office.connection import OfficeConnection, checked_count
from fieldbook.store.office.office_session import Session
from fieldbook.store.office.sealed.seals_sql import COLUMNS
from fieldbook.store.places import PullCursor
from fieldbook.store.seals.key_words import words_of
from fieldbook.store.seals.seal import Seal, SealError, as_plain, from_plain

_BATCH = 200
_HERE = """
SELECT to_regclass('fieldbook.seal') IS NOT NULL
"""
_ID_AT = "SELECT id FROM fieldbook.seal WHERE no = %s"
_MINE = """
SELECT o.origin, c.origin IS NULL OR c.laptop = session_user OR EXISTS (
    SELECT FROM fieldbook.also_sends a WHERE a.origin = o.origin AND a.laptop = session_user),
  c.origin IS NULL
FROM unnest(%s::text[]) o(origin)
LEFT JOIN fieldbook.laptop_origin c ON c.origin = o.origin
"""
_CLAIM = "INSERT INTO fieldbook.laptop_origin (origin) VALUES (%s) ON CONFLICT DO NOTHING"
_NAMES = ", ".join(COLUMNS)
_TYPED = ", ".join(f"{name} {'bigint' if name == 'upto' else 'text'}" for name in COLUMNS)
_ADD = f"""
INSERT INTO fieldbook.seal ({_NAMES})
SELECT {_NAMES} FROM json_to_recordset(%s::json) AS sent ({_TYPED}) ON CONFLICT DO NOTHING
"""
_AFTER = f"SELECT no, {_NAMES} FROM fieldbook.seal WHERE no > %s ORDER BY no LIMIT {_BATCH}"
_OF_JOB = f"SELECT no, {_NAMES} FROM fieldbook.seal WHERE job_id = %s ORDER BY no"
_DISTRUSTED = "SELECT key, laptop FROM fieldbook.distrusted_key ORDER BY key"


def exchange_seals(session: Session) -> None:
    """Send and receive what is new since the last exchange; a restored office gets all again."""
    if session.connection.execute(_HERE).fetchone() != (True,):
        return
    places = session.book.places
    cursor, sent = places.cursor(_received(session)), places.cursor(_sent(session)).number
    if cursor.number:
        found = session.connection.execute(_ID_AT, (cursor.number,)).fetchone()
        if found != (cursor.id,):
            cursor, sent = PullCursor(), 0
    last = session.book.shared.last_seal()
    if last > sent and _push(session, sent):
        places.save_cursor(_sent(session), PullCursor(last))
    _pull(session, cursor)


def seals_of(connection: OfficeConnection, job_id: str) -> list[Seal]:
    """Every seal that the office has of one property; an older hub has none."""
    if connection.execute(_HERE).fetchone() != (True,):
        return []
    return _seals(connection.execute(_OF_JOB.encode(), (job_id,)).fetchall())


def pull_distrusted(session: Session) -> None:
    """Distrust the keys of laptops that the office shut out; what it has of them was received."""
    if session.connection.execute(_HERE).fetchone() == (True,):
        rows = session.connection.execute(_DISTRUSTED).fetchall()
        keys = {str(key): str(laptop) for key, laptop in rows if _is_key(str(key))}
        session.book.laptops.distrust_by_office(keys)


def _is_key(text: str) -> bool:
    with suppress(ValueError):
        return len(text) == 64 and bool(words_of(text))
    return False


def _received(session: Session) -> str:
    return f"{session.place} seals"


def _sent(session: Session) -> str:
    return f"{session.place} seals sent"


def _push(session: Session, after: int) -> bool:
    """Send the seals after a number of the origins that this laptop sends; whether none is left."""
    seals = session.book.shared.own_seals_after(after)
    origins = sorted({seal.origin for seal in seals})
    mine = set()
    for origin, may_send, unclaimed in session.connection.execute(_MINE, (origins,)).fetchall():
        if unclaimed:
            session.connection.execute(_CLAIM, (origin,))
        if may_send:
            mine.add(str(origin))
    to_send = [seal for seal in seals if seal.origin in mine]
    for start in range(0, len(to_send), _BATCH):
        _add(session.connection, to_send[start : start + _BATCH])
    return len(to_send) == len(seals)


def _add(connection: OfficeConnection, seals: Sequence[Seal]) -> None:
    listed = json.dumps([{**as_plain(seal), "id": seal.id} for seal in seals], ensure_ascii=False)
    connection.execute(_ADD.encode(), (listed,))


def _pull(session: Session, cursor: PullCursor) -> None:
    more = True
    while more:
        rows = session.connection.execute(_AFTER.encode(), (cursor.number,)).fetchall()
        more = len(rows) == _BATCH
        if rows:
            for row in rows:
                checked_count(row[0] - cursor.number - 1)
                cursor = PullCursor(row[0], str(row[1]))
            received = session.book.receive_sealed([], _seals(rows), session.place)
            session.result.add(received)
            session.book.places.save_cursor(_received(session), cursor)


def _seals(rows: Sequence[tuple[Any, ...]]) -> list[Seal]:
    """The seals of rows, each with its number first."""
    found = []
    for row in rows:
        # What is no seal proves nothing; the entries come all the same.
        with suppress(SealError):
            found.append(from_plain(dict(zip(COLUMNS[1:], row[2:], strict=True))))
    return found
