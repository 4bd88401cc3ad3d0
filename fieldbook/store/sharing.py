"""What an open book gives to other laptops: its entries, and which attached files go with them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from fieldbook.store.attached import attached_hashes
from fieldbook.store.journal import append, conflicts
from fieldbook.store.journal.entry import SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import state_of
from fieldbook.store.seals import seal_table
from fieldbook.store.seals.seal import Seal, size_of
from fieldbook.store.seals.seal_table import Stored
from fieldbook.store.sqlite.transactions import Transactions

# The origin in use comes first. A seq is there twice where a book was copied. Those that are put
# away count too: the office has them, and compares a hash of all. CROSS JOIN keeps SQLite from
# reading the whole journal where few entries are new.
_OWN_IDS = """
WITH own AS (
  SELECT origin.no, origin.id, min(min(new.seq), CASE ?1 WHEN 0 THEN coalesce((
      SELECT min(p.seq) FROM put_away_entry p WHERE p.origin = origin.id), min(new.seq))
    ELSE min(new.seq) END) AS first
  FROM journal new CROSS JOIN origin ON origin.id = new.origin WHERE new.n > ?1 GROUP BY origin.no
)
SELECT own.no, own.id, e.seq, e.id FROM own CROSS JOIN journal e
  ON e.origin = own.id AND e.seq >= own.first
UNION ALL
SELECT own.no, own.id, e.seq, e.id FROM own CROSS JOIN put_away_entry e
  ON e.origin = own.id AND e.seq >= own.first
ORDER BY 1 DESC, 3, 4
"""
_ENTRIES_ON = f"""
{SELECT_ENTRIES} WHERE job_id = ?
UNION ALL
{SELECT_ENTRIES} JOIN (SELECT DISTINCT "table" AS of_table, row_id AS of_row FROM journal
    WHERE job_id = ?)
  ON journal.row_id = of_row AND journal."table" = of_table WHERE journal.job_id <> ?
"""

_SEALS_READ = 500


@dataclass(frozen=True)
class OwnEntries:
    """The ids of an origin's entries in order, from the one numbered `first` (`seq`)."""

    first: int
    ids: list[str] = field(default_factory=list)


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

    def entries_on(self, job_id: str) -> list[Entry]:
        """Every entry that bears on a property: its own, and others that change one of its rows.

        No fieldbook makes such others: an entry names the property that its row belongs to.
        """
        with self._reading():
            rows = self._connection.run(_ENTRIES_ON, (job_id,) * 3).all()
        return [from_row(row) for row in rows]

    def seals_naming(self, entries: Iterable[Entry]) -> list[Stored]:
        """The seals that prove who made these entries, those of another key than usual too."""
        with self._reading():
            return seal_table.seals_naming(self._connection, entries)

    def seals_not_from(self, places: Iterable[str]) -> list[int]:
        """The numbers of the seals that came from none of these places, in order."""
        with self._reading():
            return seal_table.seal_numbers(self._connection, sorted(places))

    def seals_numbered(self, numbers: Sequence[int], room: int) -> Iterator[list[Stored]]:
        """The seals with these numbers, as many at a time as take at most `room` bytes."""
        batch, left = list[Stored](), room
        for at in range(0, len(numbers), _SEALS_READ):
            with self._reading():
                part = seal_table.seals_with_numbers(
                    self._connection, numbers[at : at + _SEALS_READ]
                )
            for stored in part:
                left -= size_of(stored.seal)
                if left < 0 and batch:
                    yield batch
                    batch, left = [], room - size_of(stored.seal)
                batch.append(stored)
        if batch:
            yield batch

    def own_seals_after(self, number: int) -> list[Seal]:
        """The seals with a number above this one of the origins that the book writes under."""
        with self._reading():
            return seal_table.own_seals_after(self._connection, number)

    def last_seal(self) -> int:
        """The number of the newest seal, 0 if there is none."""
        with self._reading():
            return seal_table.last_seal(self._connection)

    def own_entries_after(self, number: int) -> dict[str, OwnEntries]:
        """The entries of each origin that the book writes under, from the first after a number."""
        found: dict[str, OwnEntries] = {}
        with self._reading():
            for _, origin, seq, entry_id in self._connection.run(_OWN_IDS, (number,)):
                found.setdefault(str(origin), OwnEntries(int(seq))).ids.append(str(entry_id))
        return found

    def entries_with_ids(self, ids: Iterable[str]) -> list[Entry]:
        """The entries of these ids that are here, in the order of origin and number."""
        query = (
            f"{SELECT_ENTRIES} WHERE id IN (SELECT value FROM json_each(?)) ORDER BY origin, seq, n"
        )
        with self._reading():
            rows = self._connection.run(query, (json.dumps(list(ids)),)).all()
        return [from_row(row) for row in rows]

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
