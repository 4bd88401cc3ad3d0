"""What an open book gives to other laptops: its entries, and which attached files go with them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fieldbook.store.attached import attached_hashes
from fieldbook.store.journal import append, conflicts
from fieldbook.store.journal.entry import SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import state_of
from fieldbook.store.sqlite.transactions import Transactions


@dataclass(frozen=True)
class Tally:
    """How many entries of an origin there are somewhere, and the number of the last one.

    `last_ids` holds two ids where two books wrote under the origin.
    """

    count: int = 0
    last: int = 0
    last_ids: frozenset[str] = frozenset()

    @property
    def whole(self) -> bool:
        """Whether none is missing before the last, and no other book wrote under the origin."""
        return self.count == self.last and len(self.last_ids) == 1


class Shared:
    """The entries of one open book, as an exchange asks for them."""

    def __init__(self, transactions: Transactions) -> None:
        self._connection = transactions.connection
        self._reading = transactions.reading

    def entries_not_from(self, places: Iterable[str], after: int) -> Iterator[tuple[int, Entry]]:
        """The entries with a number above `after` that came from none of these places, in order.

        Yields (number, entry). Reads a batch at a time.
        """
        names = sorted(places)
        while True:
            with self._reading():
                batch = append.batch_after(self._connection, after, names)
            if not batch:
                return
            yield from batch
            after = batch[-1][0]

    def entries_of_job(self, job_id: str) -> list[Entry]:
        """Every entry on one property, in the order in which they came."""
        with self._reading():
            return append.entries_of_job(self._connection, job_id)

    def own_tallies(self) -> dict[str, Tally]:
        """What the book holds of each origin it has written under, the one in use first.

        An origin without an entry is left out.
        """
        found = {}
        with self._reading():
            origins = self._connection.exec_driver_sql("SELECT id FROM origin ORDER BY no DESC")
            for (origin,) in origins.all():
                query = "SELECT count(*), max(seq) FROM journal WHERE origin = ?"
                count, last = self._connection.exec_driver_sql(query, (origin,)).one()
                if count:
                    query = "SELECT id FROM journal WHERE origin = ? AND seq = ?"
                    ids = self._connection.exec_driver_sql(query, (origin, last))
                    found[str(origin)] = Tally(count, last, frozenset(row[0] for row in ids))
        return found

    def entries_of_origin(self, origin: str, seq: int, most: int) -> list[Entry]:
        """At most `most` entries of an origin with a number above `seq`, in its order."""
        query = f"{SELECT_ENTRIES} WHERE origin = ? AND seq > ? ORDER BY seq, n LIMIT ?"
        return self._entries(query, (origin, seq, most))

    def ids_of_origin(self, origin: str) -> list[str]:
        """The ids of all entries of an origin, in its order."""
        query = "SELECT id FROM journal WHERE origin = ? ORDER BY seq, n"
        with self._reading():
            return [str(row[0]) for row in self._connection.exec_driver_sql(query, (origin,))]

    def entries_with_ids(self, ids: Iterable[str]) -> list[Entry]:
        """The entries of these ids that are here, in the order of origin and number."""
        query = (
            f"{SELECT_ENTRIES} WHERE id IN (SELECT value FROM json_each(?)) ORDER BY origin, seq, n"
        )
        return self._entries(query, (json.dumps(list(ids)),))

    def count_waiting(self, ids: Iterable[str]) -> int:
        """How many entries of the rows that these entries touch still wait for a parent."""
        rows = {(entry.table, entry.row_id) for entry in self.entries_with_ids(ids)}
        with self._reading():
            return sum(len(state_of(self._connection, *row).waiting) for row in rows)

    def attached(self) -> list[str]:
        """The hash of every file that some property attaches."""
        with self._reading():
            return attached_hashes(self._connection)

    def in_conflict(self) -> list[str]:
        """The addresses of the properties on the board that hold a conflict."""
        with self._reading():
            return conflicts.in_conflict(self._connection)

    def _entries(self, query: str, values: tuple[object, ...]) -> list[Entry]:
        with self._reading():
            return [from_row(row) for row in self._connection.exec_driver_sql(query, values)]
