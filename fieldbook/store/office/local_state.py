"""What a book knows of an office: how far it got there, and what of its own there is to send."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection

from fieldbook.records.base import now
from fieldbook.store.journal.entry import SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import state_of

_KEEP_GOT = """
INSERT INTO exchange_place (id, got, got_id, at) VALUES (?, ?, ?, ?)
ON CONFLICT (id) DO UPDATE SET got = excluded.got, got_id = excluded.got_id, at = excluded.at
"""


@dataclass(frozen=True)
class PullCursor:
    """The last entry that was taken from an office: its number there and its id."""

    number: int = 0
    id: str = ""


@dataclass(frozen=True)
class Tally:
    """How many entries of an origin are somewhere, the last one's number and what it can be."""

    count: int = 0
    last: int = 0
    last_ids: frozenset[str] = frozenset()

    @property
    def whole(self) -> bool:
        """Whether none is missing before the last, and no other book wrote under the origin."""
        return self.count == self.last and len(self.last_ids) == 1


def load_cursor(connection: Connection, place: str) -> PullCursor:
    """How far the exchange with an office got."""
    query = "SELECT got, got_id FROM exchange_place WHERE id = ?"
    row = connection.exec_driver_sql(query, (place,)).first()
    return PullCursor() if row is None else PullCursor(row[0], row[1])


def save_cursor(connection: Connection, place: str, got: PullCursor) -> None:
    """Keep how far it got, in the transaction that takes what came."""
    connection.exec_driver_sql(_KEEP_GOT, (place, got.number, got.id, now()))


def own_tallies(connection: Connection) -> dict[str, Tally]:
    """What the book holds of each origin it has written as, if anything; the one in use first."""
    found = {}
    order = "SELECT id FROM origin ORDER BY no DESC"
    for (origin,) in connection.exec_driver_sql(order).all():
        query = "SELECT count(*), max(seq) FROM journal WHERE origin = ?"
        count, last = connection.exec_driver_sql(query, (origin,)).one()
        if count:
            query = "SELECT id FROM journal WHERE origin = ? AND seq = ?"
            ids = connection.exec_driver_sql(query, (origin, last))
            found[str(origin)] = Tally(count, last, frozenset(row[0] for row in ids))
    return found


def entries_of_origin(connection: Connection, origin: str, seq: int, most: int) -> list[Entry]:
    """The entries of an origin after a number of its own, in that order."""
    query = f"{SELECT_ENTRIES} WHERE origin = ? AND seq > ? ORDER BY seq, n LIMIT ?"
    return [from_row(row) for row in connection.exec_driver_sql(query, (origin, seq, most))]


def ids_of_origin(connection: Connection, origin: str) -> list[str]:
    """The ids of the entries of an origin, in its order."""
    query = "SELECT id FROM journal WHERE origin = ? ORDER BY seq, n"
    return [str(row[0]) for row in connection.exec_driver_sql(query, (origin,))]


def entries_with_ids(connection: Connection, ids: Iterable[str]) -> list[Entry]:
    """The entries of these ids that are here."""
    told = json.dumps(list(ids))
    query = f"{SELECT_ENTRIES} WHERE id IN (SELECT value FROM json_each(?)) ORDER BY origin, seq, n"
    return [from_row(row) for row in connection.exec_driver_sql(query, (told,))]


def count_waiting(connection: Connection, ids: Iterable[str]) -> int:
    """How many of these entries still wait for one that they replaced."""
    rows = {(one.table, one.row_id) for one in entries_with_ids(connection, ids)}
    return sum(len(state_of(connection, *row).waiting) for row in rows)


def files_at_office(connection: Connection, place: str) -> set[str]:
    """The attached files that an office is known to have, by hash."""
    query = "SELECT sha256 FROM office_file WHERE place_id = ?"
    return {str(row[0]) for row in connection.exec_driver_sql(query, (place,))}


def record_files_at_office(connection: Connection, place: str, hashes: Iterable[str]) -> None:
    """Keep that an office has these files."""
    for one in hashes:
        connection.exec_driver_sql(
            "INSERT OR IGNORE INTO office_file (place_id, sha256) VALUES (?, ?)", (place, one)
        )


def forget_files(connection: Connection, place: str) -> None:
    """An office that was restored may have lost files too."""
    connection.exec_driver_sql("DELETE FROM office_file WHERE place_id = ?", (place,))
