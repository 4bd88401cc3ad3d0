"""What this book is to hold, and what it holds: the setting, the properties here and elsewhere."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from fieldbook.records.base import now
from fieldbook.store.holding.lines import FarLine, drop_lines_of_held, save_line
from fieldbook.store.holding.putting_away import files_of, not_at_office
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.transactions import Transactions

CARRIED: Mapping[str, Sequence[str]] = {
    "keeping": ("id", "since"),
    "kept_property": ("job_id", "how", "at"),
    "not_here": (
        *("job_id", "sort_key", "sought", "told", "places", "runs_out", "off_board", "changed"),
        *("made_from", "made_number", "newest", "clocks", "put_away", "closed"),
    ),
    "put_away_entry": ("id", "origin", "seq", "job_id"),
}
"""The tables, with their columns, that a book which is made anew takes over from the old one."""
Carried = Mapping[str, Sequence[tuple[object, ...]]]
"""The rows of these tables, by table."""
_CHOSEN, _CLOSED_HIDDEN = "chosen", "closed hidden"
# Each step of the recursion is one look-up in an index: a book with many entries has few jobs.
_HELD = """
WITH RECURSIVE held(id) AS (
  SELECT min(job_id) FROM journal
  UNION ALL
  SELECT (SELECT min(job_id) FROM journal WHERE job_id > held.id) FROM held
  WHERE held.id IS NOT NULL)
SELECT id FROM held WHERE id IS NOT NULL
"""
_NOT_TAKEN_IN = f"""
SELECT id FROM ({_HELD}) WHERE id NOT IN (SELECT job_id FROM taken_in WHERE place_id = ?)
"""
_TO_READ_AGAIN = """
SELECT DISTINCT name FROM passed_over
WHERE EXISTS (SELECT 1 FROM journal WHERE journal.job_id = passed_over.job_id)
"""
_OFFICES = "id LIKE 'office %'"
_REASONS = """
SELECT job.id, job.address, coalesce(kept_property.how, ''), coalesce(kept_property.at, ''),
  (SELECT coalesce(max(wall), '') FROM journal WHERE job_id = job.id
    AND origin IN (SELECT id FROM origin)), (SELECT count(*) FROM journal WHERE job_id = job.id)
FROM job LEFT JOIN kept_property ON kept_property.job_id = job.id
ORDER BY lower(job.address), job.id
"""


@dataclass(frozen=True)
class Held:
    """A property that is here: how and when it was chosen, and when it was changed here last.

    `how` is "opened", "picked" or ""; `at` and `changed_here` are in ISO 8601, "" for never.
    """

    job_id: str
    address: str
    how: str
    at: str
    changed_here: str
    entries: int

    @property
    def why(self) -> str:
        """Why it is here, in words."""
        reasons = [f"changed here on {self.changed_here[:10]}"] if self.changed_here else []
        reasons += [f"{self.how} on {self.at[:10]}"] if self.how else []
        return ", ".join(reasons) or "received"

    @property
    def last_used(self) -> str:
        """The day on which it was opened, picked or changed here last; "" for never."""
        return max(self.at, self.changed_here)[:10]


@dataclass(frozen=True)
class Elsewhere:
    """A property that is not here, from its line: its address, and what the line was made from.

    `put_away` is when it was put away from this laptop, "" if it never was here.
    """

    job_id: str
    address: str
    customer: str
    made_from: str
    put_away: str


def is_chosen(connection: Connection) -> bool:
    """Whether the book is to hold chosen properties only."""
    query = "SELECT 1 FROM keeping WHERE id = ?"
    return connection.run(query, (_CHOSEN,)).first() is not None


def is_held(connection: Connection, job_id: str) -> bool:
    """Whether the book holds a property: its journal has an entry of it."""
    query = "SELECT 1 FROM journal WHERE job_id = ? LIMIT 1"
    return connection.run(query, (job_id,)).first() is not None


def record_taken_in(connection: Connection, place: str, jobs: Iterable[str]) -> None:
    """Remember that every entry of these jobs that an office has came, up to the cursor there."""
    for job_id in jobs:
        connection.run("INSERT OR IGNORE INTO taken_in VALUES (?, ?)", (place, job_id))


class Keeping:
    """The properties that one open book is to hold, and those that it has a line of."""

    def __init__(self, transactions: Transactions) -> None:
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def is_chosen(self) -> bool:
        """Whether the book is to hold chosen properties only; else it holds the whole firm's."""
        with self._reading():
            return is_chosen(self._connection)

    def keep_chosen(self) -> None:
        """Take no other properties from now on than those that are here or will be chosen."""
        with self._writing():
            if is_chosen(self._connection):
                return
            self._connection.run("INSERT INTO keeping VALUES (?, ?)", (_CHOSEN, now()))
            # A book that held the whole firm took all that each office had, up to its cursor.
            query = f"SELECT id FROM exchange_place WHERE {_OFFICES} AND id NOT LIKE '% seals%'"
            places = self._connection.run(query).all()
            held = [str(row[0]) for row in self._connection.run(_HELD)]
            for (place,) in places:
                record_taken_in(self._connection, place, held)

    def keep_whole(self) -> None:
        """Take every property of the firm again: the next exchange reads all from the start."""
        with self._writing():
            if not is_chosen(self._connection):
                return
            self._connection.run("DELETE FROM keeping WHERE id = ?", (_CHOSEN,))
            self._connection.run("DELETE FROM taken_in")
            self._connection.run(
                f"DELETE FROM exchange_place WHERE {_OFFICES} OR id LIKE 'state:%'"
            )
            # Bundles that were passed over are read again where they are found.
            self._connection.run(
                "DELETE FROM exchange_file WHERE upto = 0 "
                "AND name IN (SELECT name FROM passed_over)"
            )
            self._connection.run(
                "DELETE FROM passed_over WHERE name NOT IN (SELECT name FROM exchange_file)"
            )

    def hides_closed(self) -> bool:
        """Whether this laptop's board leaves out what is handed over, except in a search."""
        query = "SELECT 1 FROM keeping WHERE id = ?"
        with self._reading():
            return self._connection.run(query, (_CLOSED_HIDDEN,)).first() is not None

    def hide_closed(self, hidden: bool) -> None:
        """Leave out of the board what is handed over, or show all again."""
        with self._writing():
            self._connection.run("DELETE FROM keeping WHERE id = ?", (_CLOSED_HIDDEN,))
            if hidden:
                self._connection.run("INSERT INTO keeping VALUES (?, ?)", (_CLOSED_HIDDEN, now()))

    def held_jobs(self) -> list[str]:
        """The ids of all jobs that are here, also those off the board."""
        with self._reading():
            return [str(row[0]) for row in self._connection.run(_HELD)]

    def not_taken_in(self, office: str) -> list[str]:
        """The jobs here of which this office may have earlier entries that never came."""
        with self._reading():
            return [str(row[0]) for row in self._connection.run(_NOT_TAKEN_IN, (office,))]

    def held(self) -> list[Held]:
        """Every property that is here, by address, with why."""
        with self._reading():
            rows = self._connection.run(_REASONS).all()
        return [
            Held(job_id, address, how, at, str(changed), int(entries))
            for job_id, address, how, at, changed, entries in rows
        ]

    def elsewhere(self) -> list[Elsewhere]:
        """Every property that is not here and whose line is, in the board's order."""
        query = (
            "SELECT job_id, told, made_from, put_away FROM not_here "
            "WHERE off_board = 0 ORDER BY sort_key, job_id"
        )
        with self._reading():
            rows = self._connection.run(query).all()
        found = []
        for job_id, told, made_from, put_away in rows:
            row = json.loads(told)
            found.append(Elsewhere(job_id, row["address"], row["customer"], made_from, put_away))
        return found

    def count_elsewhere(self) -> int:
        """How many properties of the board are not here."""
        query = "SELECT count(*) FROM not_here WHERE off_board = 0"
        with self._reading():
            return int(self._connection.run(query).value())

    def files_to_read_again(self) -> set[str]:
        """The files with entries, once passed over, of properties that are held now."""
        with self._reading():
            return {str(row[0]) for row in self._connection.run(_TO_READ_AGAIN)}

    def files_with(self, job_id: str) -> set[str]:
        """The files whose entries of a property were passed over, or put away since."""
        query = "SELECT name FROM passed_over WHERE job_id = ?"
        with self._reading():
            return {str(row[0]) for row in self._connection.run(query, (job_id,))}

    def not_at_office(self, job_id: str) -> Mapping[str, tuple[int, str]]:
        """The entries of a property, by id, that no office is known to have."""
        with self._reading():
            return not_at_office(self._connection, job_id)

    def files_of(self, job_id: str) -> set[str]:
        """The names of the files of folders that may hold entries of a property that is here."""
        with self._reading():
            return files_of(self._connection, job_id)

    def is_here(self, job_id: str) -> bool:
        """Whether the book holds a property."""
        with self._reading():
            return is_held(self._connection, job_id)

    def record_choice(self, job_id: str, how: str) -> None:
        """Remember that a property was "opened" or "picked" here; once a day is enough."""
        query = "SELECT how, at FROM kept_property WHERE job_id = ?"
        with self._reading():
            there = self._connection.run(query, (job_id,)).first()
        if there is not None and there[1][:10] == now()[:10] and how in ("opened", there[0]):
            return
        # What was picked stays picked when it is opened.
        kept = "picked" if there is not None and there[0] == "picked" else how
        with self._writing():
            self._connection.run(
                "INSERT OR REPLACE INTO kept_property VALUES (?, ?, ?)", (job_id, kept, now())
            )

    def save_lines(self, lines: Collection[FarLine]) -> None:
        """Store the lines of properties, but for those that are here."""
        with self._writing():
            for line in lines:
                if not is_held(self._connection, line.job_id):
                    save_line(self._connection, line)

    def numbers_of_lines(self) -> dict[str, tuple[int, int]]:
        """By job: the office's number of its newest entry known, and the one its line is from."""
        with self._reading():
            rows = self._connection.run("SELECT job_id, newest, made_number FROM not_here").all()
        return {str(job_id): (int(newest), int(made)) for job_id, newest, made in rows}

    def carry(self, rows: Carried) -> None:
        """Take over what the book that this one is made from said of its properties.

        What of it no longer holds is left out: a line of a property that is here, an entry counted
        as put away that is here.
        """
        with self._writing():
            for table, columns in CARRIED.items():
                marks = ", ".join("?" * len(columns))
                for row in rows.get(table, ()):
                    query = f"INSERT OR IGNORE INTO {table} ({', '.join(columns)}) VALUES ({marks})"
                    self._connection.run(query, row)
            self._connection.run("DELETE FROM put_away_entry WHERE id IN (SELECT id FROM journal)")
            drop_lines_of_held(
                self._connection, [row[0] for row in self._connection.run(_HELD).all()]
            )
