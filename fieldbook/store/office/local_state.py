"""What a book remembers of an office, and what it holds of the origins it writes under."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sqlalchemy import Connection

from fieldbook.records.base import now
from fieldbook.store.book import Book
from fieldbook.store.journal.entry import SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import state_of
from fieldbook.store.office.connection import OfficeConnection

_SAVE_CURSOR = """
INSERT INTO exchange_place (id, got, got_id, at) VALUES (?, ?, ?, ?)
ON CONFLICT (id) DO UPDATE SET got = excluded.got, got_id = excluded.got_id, at = excluded.at
"""


@dataclass(frozen=True)
class Session:
    """One connection to an office during an exchange of an open book.

    `place` is the id under which the book remembers the office. Call `report` after each step.
    """

    connection: OfficeConnection
    book: Book
    place: str
    report: Callable[[], None]


@dataclass(frozen=True)
class PullCursor:
    """The last entry received from an office: its number there and its id."""

    number: int = 0
    id: str = ""


@dataclass(frozen=True)
class Tally:
    """How many entries of an origin a book or the office holds, and the seq of the last.

    `last_ids` has more than one id where two books wrote under the origin.
    """

    count: int = 0
    last: int = 0
    last_ids: frozenset[str] = frozenset()

    @property
    def whole(self) -> bool:
        """Whether no entry before the last is missing, and only one book wrote."""
        return self.count == self.last and len(self.last_ids) == 1


def load_cursor(connection: Connection, place: str) -> PullCursor:
    """How far earlier exchanges with an office came."""
    query = "SELECT got, got_id FROM exchange_place WHERE id = ?"
    row = connection.exec_driver_sql(query, (place,)).first()
    return PullCursor() if row is None else PullCursor(row[0], row[1])


def save_cursor(connection: Connection, place: str, cursor: PullCursor) -> None:
    """Store how far the exchange came. Call it in the transaction that adds the entries."""
    connection.exec_driver_sql(_SAVE_CURSOR, (place, cursor.number, cursor.id, now()))


def own_tallies(connection: Connection) -> dict[str, Tally]:
    """The tally of each origin that the book has written entries under; the one in use first."""
    found = {}
    origins = "SELECT id FROM origin ORDER BY no DESC"
    for (origin,) in connection.exec_driver_sql(origins).all():
        query = "SELECT count(*), max(seq) FROM journal WHERE origin = ?"
        count, last = connection.exec_driver_sql(query, (origin,)).one()
        if count:
            query = "SELECT id FROM journal WHERE origin = ? AND seq = ?"
            ids = connection.exec_driver_sql(query, (origin, last))
            found[str(origin)] = Tally(count, last, frozenset(row[0] for row in ids))
    return found


def entries_of_origin(connection: Connection, origin: str, after: int, most: int) -> list[Entry]:
    """The next entries of an origin whose seq is above `after`."""
    query = f"{SELECT_ENTRIES} WHERE origin = ? AND seq > ? ORDER BY seq, n LIMIT ?"
    return [from_row(row) for row in connection.exec_driver_sql(query, (origin, after, most))]


def ids_of_origin(connection: Connection, origin: str) -> list[str]:
    """The ids of all entries of an origin, by seq."""
    query = "SELECT id FROM journal WHERE origin = ? ORDER BY seq, n"
    return [str(row[0]) for row in connection.exec_driver_sql(query, (origin,))]


def entries_with_ids(connection: Connection, ids: Iterable[str]) -> list[Entry]:
    """The entries with these ids that are in the book."""
    # As JSON, because SQLite limits the number of parameters of a query.
    listed = json.dumps(list(ids))
    query = f"{SELECT_ENTRIES} WHERE id IN (SELECT value FROM json_each(?)) ORDER BY origin, seq, n"
    return [from_row(row) for row in connection.exec_driver_sql(query, (listed,))]


def count_waiting(connection: Connection, ids: Iterable[str]) -> int:
    """How many entries of the rows that these entries touch still wait for a parent."""
    rows = {(entry.table, entry.row_id) for entry in entries_with_ids(connection, ids)}
    return sum(len(state_of(connection, *row).waiting) for row in rows)


def files_at_office(connection: Connection, place: str) -> set[str]:
    """The hashes of the attached files that an office is known to have."""
    query = "SELECT sha256 FROM office_file WHERE place_id = ?"
    return {str(row[0]) for row in connection.exec_driver_sql(query, (place,))}


def record_file_at_office(connection: Connection, place: str, sha256: str) -> None:
    """Record that an office has an attached file."""
    query = "INSERT OR IGNORE INTO office_file (place_id, sha256) VALUES (?, ?)"
    connection.exec_driver_sql(query, (place, sha256))


def forget_files(connection: Connection, place: str) -> None:
    """Forget which files an office has, because it was restored from a backup."""
    connection.exec_driver_sql("DELETE FROM office_file WHERE place_id = ?", (place,))
