"""What a book remembers of the places it exchanges entries with: folders, bundles and offices.

None of it is an entry of the record: losing it costs time, as things are read or sent again.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from fieldbook.records.base import now
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.transactions import Transactions

_FOLDER, _PHOTOS = "folder:", "photos:"
_BUNDLE, _STATE, _SENT, _SEALS = "bundle:", "state:", "sent:", "seals:"
_KEEP_PLACE = """
INSERT INTO exchange_place (id, got, got_id, at) VALUES (?, ?, ?, ?)
ON CONFLICT (id) DO UPDATE SET got = excluded.got, got_id = excluded.got_id, at = excluded.at
"""


@dataclass(frozen=True)
class PullCursor:
    """The last entry that was received from an office: the office's number of it, and its id."""

    number: int = 0
    id: str = ""


@dataclass(frozen=True)
class WrittenBundle:
    """An own bundle: the numbers of the entries it covers, its size in bytes; 0 is not known."""

    first: int
    last: int
    size: int


def record_bundle(connection: Connection, name: str, upto: int = 0) -> None:
    """Remember a bundle, in the caller's transaction: `upto` is 0 for one that was received."""
    query = "INSERT OR IGNORE INTO exchange_file (name, upto) VALUES (?, ?)"
    connection.run(query, (name, upto))


def save_cursor(connection: Connection, place: str, cursor: PullCursor) -> None:
    """Keep how far the entries of an office were received, in the caller's transaction."""
    connection.run(_KEEP_PLACE, (place, cursor.number, cursor.id, now()))


class Places:
    """What one open book remembers of its exchanges. An office is named by the id of its hub."""

    def __init__(self, transactions: Transactions) -> None:
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def remember_folder(self, folder: str) -> None:
        """Remember the folder that entries were exchanged through last."""
        with self._writing():
            save_cursor(self._connection, f"{_FOLDER}{folder}", PullCursor())

    def last_folder(self) -> str:
        """The folder that entries were exchanged through last, or nothing."""
        return self._last(_FOLDER)

    def remember_photos(self, folder: str) -> None:
        """Remember the folder that a photo or paper was attached from last."""
        with self._writing():
            save_cursor(self._connection, f"{_PHOTOS}{folder}", PullCursor())

    def last_photos(self) -> str:
        """The folder that a photo or paper was attached from last, or nothing."""
        return self._last(_PHOTOS)

    def _last(self, kind: str) -> str:
        query = "SELECT id FROM exchange_place WHERE id LIKE ? ORDER BY at DESC LIMIT 1"
        with self._reading():
            found = self._connection.run(query, (f"{kind}%",)).value()
        return str(found or "").removeprefix(kind)

    def wrote_bundle(self, name: str, written: WrittenBundle, seals: Iterable[int] = ()) -> None:
        """Remember a bundle that was written, with the numbers of the seals in it."""
        with self._writing():
            record_bundle(self._connection, name, written.last)
            range_of = PullCursor(written.size, str(written.first))
            save_cursor(self._connection, f"{_BUNDLE}{name}", range_of)
            listed = json.dumps(sorted(seals), separators=(",", ":"))
            save_cursor(self._connection, f"{_SEALS}{name}", PullCursor(0, listed))

    def written_seals(self, names: Iterable[str]) -> set[int]:
        """The numbers of the seals in these bundles, which were written here."""
        query = (
            f"SELECT got_id FROM exchange_place WHERE id IN (SELECT '{_SEALS}' || value "
            "FROM json_each(?))"
        )
        with self._reading():
            rows = self._connection.run(query, (json.dumps(sorted(names)),)).all()
        return {int(number) for (listed,) in rows for number in json.loads(listed)}

    def written_bundles(self) -> dict[str, WrittenBundle]:
        """Every bundle that was written here, by name.

        An older fieldbook kept only its last number, and wrote all entries before that.
        """
        query = (
            "SELECT name, upto, got, got_id FROM exchange_file "
            f"LEFT JOIN exchange_place ON id = '{_BUNDLE}' || name WHERE upto > 0"
        )
        with self._reading():
            rows = self._connection.run(query).all()
        return {
            str(name): WrittenBundle(int(first or 1), int(upto), int(size or 0))
            for name, upto, size, first in rows
        }

    def nothing_new(self, folder: str, state: str) -> bool:
        """Whether the last exchange with a folder ended in this state of folder and book."""
        query = "SELECT got_id FROM exchange_place WHERE id = ?"
        with self._reading():
            return bool(self._connection.run(query, (f"{_STATE}{folder}",)).value() == state)

    def remember_state(self, folder: str, state: str) -> None:
        """Remember the state of folder and book after an exchange that was done whole."""
        with self._writing():
            save_cursor(self._connection, f"{_STATE}{folder}", PullCursor(0, state))

    def last_number(self) -> int:
        """The number of the last entry in the book."""
        with self._reading():
            query = "SELECT coalesce(max(n), 0) FROM journal"
            return int(self._connection.run(query).value())

    def known_bundles(self) -> dict[str, int]:
        """Every bundle that was received or written, by name: up to which entry, 0 if received."""
        with self._reading():
            rows = self._connection.run("SELECT name, upto FROM exchange_file").all()
        return {str(name): int(upto) for name, upto in rows}

    def cursor(self, office: str) -> PullCursor:
        """How far the entries of an office were received."""
        query = "SELECT got, got_id FROM exchange_place WHERE id = ?"
        with self._reading():
            row = self._connection.run(query, (office,)).first()
        return PullCursor() if row is None else PullCursor(*row)

    def record_sent(self, office: str, number: int, state: str) -> None:
        """Remember that an office has every own entry up to this number in the book.

        `state` is that of its table of entries (`office/push.py`).
        """
        sent = PullCursor(number, state)
        if self.cursor(f"{_SENT}{office}") != sent:
            with self._writing():
                save_cursor(self._connection, f"{_SENT}{office}", sent)

    def sent_to(self, office: str, state: str) -> int:
        """The number up to which an office has every own entry; 0 if its table changed since."""
        sent = self.cursor(f"{_SENT}{office}")
        return sent.number if sent.id == state else 0

    def save_cursor(self, place: str, cursor: PullCursor) -> None:
        """Keep how far something was received from an office, or sent to it."""
        with self._writing():
            save_cursor(self._connection, place, cursor)

    def files_at(self, office: str) -> set[str]:
        """The hashes of the attached files that an office is known to have."""
        query = "SELECT sha256 FROM office_file WHERE place_id = ?"
        with self._reading():
            rows = self._connection.run(query, (office,)).all()
        return {str(row[0]) for row in rows}

    def has_file(self, sha256: str) -> bool:
        """Whether any office is known to have an attached file."""
        query = "SELECT 1 FROM office_file WHERE sha256 = ? LIMIT 1"
        with self._reading():
            return self._connection.run(query, (sha256,)).first() is not None

    def record_file_at(self, office: str, sha256: str) -> None:
        """Remember that an office has an attached file."""
        query = "INSERT OR IGNORE INTO office_file (place_id, sha256) VALUES (?, ?)"
        with self._writing():
            self._connection.run(query, (office, sha256))

    def forget_files_at(self, office: str) -> None:
        """Forget what files an office has: one that was restored may have lost some."""
        with self._writing():
            self._connection.run("DELETE FROM office_file WHERE place_id = ?", (office,))
