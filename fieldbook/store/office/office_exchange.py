"""Exchange with the office: send, receive, send derived rows, then move attached files.

A connection that breaks is made again, and the exchange goes on from the last batch.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import Entry
from fieldbook.store.office.connection import (
    ConnectionLostError,
    OfficeConnection,
    checked_count,
    connect_office,
)
from fieldbook.store.office.derived.derived_rows import Derive
from fieldbook.store.office.derived.send_derived import send_derived
from fieldbook.store.office.files import PathOfFile, pull_files, push_files
from fieldbook.store.office.office_session import OfficeResult, Session
from fieldbook.store.office.office_tables import LAPTOPS, LAYOUT
from fieldbook.store.office.pull import pull
from fieldbook.store.office.pull_chosen import fetch_job, pull_chosen, read_job
from fieldbook.store.office.push import push, state_of_entries
from fieldbook.store.office.sealed.office_seals import (
    exchange_seals,
    pull_distrusted,
    seals_of,
)
from fieldbook.store.seals.seal import Seal

_BATCHES = ((500, 1000), (100, 200), (20, 50))
"""Entries sent and received at a time, by attempt: a bad connection lets only few through."""
_PAUSE_S = 1.0
# PostgreSQL makes whoever creates a role a member of it; that does not make the keeper a laptop.
_GREETING = f"""
SELECT id, layout, EXISTS (
  SELECT FROM pg_auth_members m
  JOIN pg_roles u ON u.oid = m.member JOIN pg_roles g ON g.oid = m.roleid
  WHERE u.rolname = session_user AND g.rolname = '{LAPTOPS}'
    AND u.oid <> (SELECT relowner FROM pg_class WHERE oid = 'fieldbook.hub'::regclass)),
  to_regprocedure('fieldbook.outdated(integer)') IS NOT NULL
FROM fieldbook.hub
"""


def exchange(
    book: Book,
    url: str,
    path_of: PathOfFile,
    progress: Callable[[int, int], None],
    derive: Derive,
) -> OfficeResult:
    """Exchange everything with the office at an address.

    `progress` is called with how many entries are done, and of about how many; `derive` works out
    what the office shows of a job. Raises BookError; what was exchanged before stays.
    """
    result, attempt = OfficeResult(), 0
    result.warnings += filter(None, [book.seal_entries()])
    while True:
        done_before, connected = result.done, False
        try:
            with connect_office(url) as connection:
                connected = True
                hub, takes_derived = _identify_hub(connection)
                place = f"office {hub}"
                session = Session(connection, book, place, result, progress, takes_derived)
                _exchange(session, path_of, derive, _BATCHES[attempt])
            return result
        except ConnectionLostError as why:
            # While each connection brings something the exchange goes on, with the smallest batches
            # at the end. One that brings nothing uses up an attempt.
            attempt += 1
            if result.done > done_before:
                attempt = min(attempt, len(_BATCHES) - 1)
            if not connected or attempt == len(_BATCHES):
                raise BookError(str(why)) from why
            time.sleep(_PAUSE_S * attempt)


def fetch_property(
    book: Book, url: str, job_id: str, path_of: PathOfFile, progress: Callable[[int, int], None]
) -> tuple[int, OfficeResult]:
    """Receive every entry that the office has of one property, and its attached files.

    Returns how many entries it has there, and what came of them. Raises BookError; the property is
    then here whole or not at all.
    """
    try:
        with connect_office(url) as connection:
            place = f"office {_identify_hub(connection)[0]}"
            session = Session(connection, book, place, OfficeResult(), progress)
            exchange_seals(session)
            entries = fetch_job(session, job_id, _BATCHES[0][1])
            if entries:
                pull_files(session, path_of)
            return entries, session.result
    except ConnectionLostError as why:
        raise BookError(str(why)) from why


def read_property(
    url: str, job_id: str, progress: Callable[[int, int], None]
) -> tuple[str, list[Entry], list[Seal]]:
    """Read every entry that the office has of one property, without a book.

    Returns the id under which a book remembers the office, the entries and their seals. Raises
    BookError.
    """
    try:
        with connect_office(url) as connection:
            place = f"office {_identify_hub(connection)[0]}"
            # Entries come before their seals are read: none of them then lacks its own.
            entries = read_job(connection, job_id, _BATCHES[0][1], progress)
            return place, entries, seals_of(connection, job_id)
    except ConnectionLostError as why:
        raise BookError(str(why)) from why


def _exchange(
    session: Session, path_of: PathOfFile, derive: Derive, batches: tuple[int, int]
) -> None:
    session.result.held_back.clear()
    last, state = session.book.places.last_number(), state_of_entries(session.connection)
    exchange_seals(session)
    push(session, batches[0], state)
    if session.book.keeping.is_chosen():
        pull_chosen(session, batches[1])
    else:
        pull(session, batches[1])
    pull_distrusted(session)
    # After the cursor, which proves that the office was not restored to what it was before.
    left = session.result
    if not (left.unfit or left.held_back or left.put_away_lost):
        session.book.places.record_sent(session.place, last, state)
    if session.takes_derived:
        send_derived(session, derive)
    push_files(session, path_of)
    pull_files(session, path_of)


def _identify_hub(connection: OfficeConnection) -> tuple[str, bool]:
    """The id of the hub, and whether it takes derived rows.

    Raises BookError if it and this fieldbook do not fit each other.
    """
    row = connection.execute(_GREETING.encode()).fetchone()
    if row is None:
        raise BookError("The office's hub is incomplete: whoever keeps it runs fieldbook hub init.")
    hub, layout, is_laptop = row[0], checked_count(row[1]), row[2]
    if layout > LAYOUT:
        raise BookError("The office's hub was made by a newer fieldbook: update this one.")
    if layout < LAYOUT:
        raise BookError("The office's hub is older: whoever keeps it runs fieldbook hub init.")
    if not is_laptop:
        raise BookError(
            "That address is no laptop's: use the one that fieldbook hub add-laptop printed."
        )
    return str(hub), row[3] is True
