"""The stored board of an open book: read a page of it, save rows, find jobs in it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from fieldbook.store.board import search
from fieldbook.store.board.board_table import add_missing_rows
from fieldbook.store.board.stored_row import STORED, StoredRow
from fieldbook.store.errors import BookError
from fieldbook.store.sqlite.transactions import Transactions

_SELECT = f"SELECT {STORED} FROM board_line"


def _listed(open_only: bool) -> str:
    # A row that is yet to be worked out is listed until it is known to be closed.
    return "closed IS NOT 1" if open_only else "1"


@dataclass(frozen=True)
class NewRow:
    """A board row to be saved: also its place in the order and the texts that find the job.

    A part of a word is found in `search_text`, the beginning of a word in `texts`. `closed`: it is
    handed over, and no visit is under way. The other fields
    are those of StoredRow.
    """

    job_id: str
    sort_key: str
    search_text: str
    valid_until: str
    content: str
    places: str
    runs_out: str
    closed: bool
    texts: search.LabelledTexts


class StoredBoard:
    """The board rows of one open book. A row's number stays the same for the life of the job."""

    def __init__(self, transactions: Transactions) -> None:
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def count(self, *, open_only: bool = False) -> int:
        """How many properties are on the board; `open_only` leaves out those that are closed."""
        return self._count(f"SELECT count(*) FROM board_line WHERE {_listed(open_only)}")

    def is_complete(self) -> bool:
        """Whether there are as many rows as properties on the board."""
        return self.count() == self._count(
            "SELECT (SELECT count(*) FROM job WHERE off_board IS NOT 1) + "
            "(SELECT count(*) FROM not_here WHERE off_board = 0 "
            "AND job_id NOT IN (SELECT id FROM job))"
        )

    def repair(self) -> None:
        """Delete rows of properties that are off the board, and add the rows that are missing.

        Only another program's changes make this necessary. A full disk leaves it for later.
        """
        with suppress(BookError), self._writing():
            self._connection.run(
                "DELETE FROM board_line WHERE job_id NOT IN "
                "(SELECT id FROM job WHERE off_board IS NOT 1 "
                "UNION ALL SELECT job_id FROM not_here WHERE off_board = 0)"
            )
            add_missing_rows(self._connection)

    def has(self, job_id: str) -> bool:
        """Whether this property is on the board."""
        query = "SELECT count(*) FROM job WHERE id = ? AND off_board IS NOT 1"
        return self._count(query, job_id) > 0

    def usual_units(self) -> str:
        """The units of the newest property, or nothing."""
        newest = "SELECT units FROM job WHERE off_board IS NOT 1 ORDER BY id DESC LIMIT 1"
        return next((str(row[0]) for row in self._rows(newest)), "")

    def page(self, first: int, most: int, *, open_only: bool = False) -> list[StoredRow]:
        """At most `most` rows in the board's order, from index `first`, which counts from 0."""
        query = f"{_SELECT} WHERE {_listed(open_only)} ORDER BY sort_key, job_id LIMIT ? OFFSET ?"
        return [StoredRow(*row) for row in self._rows(query, most, first)]

    def rows_numbered(self, numbers: Sequence[int]) -> list[StoredRow]:
        """The rows with these numbers (a page of them at most), without those that are gone."""
        marks = ", ".join("?" * len(numbers))
        rows = self._rows(f"{_SELECT} WHERE id IN ({marks})", *numbers)
        found = {row[0]: StoredRow(*row) for row in rows}
        return [found[number] for number in numbers if number in found]

    def all_numbers(self) -> list[int]:
        """The number of every row, in the board's order."""
        return [row[0] for row in self._rows("SELECT id FROM board_line ORDER BY sort_key, job_id")]

    def number_of(self, job_id: str) -> int | None:
        """The number of a job's row."""
        rows = self._rows("SELECT id FROM board_line WHERE job_id = ?", job_id)
        return next((int(row[0]) for row in rows), None)

    def index_of(self, job_id: str, *, open_only: bool = False) -> int | None:
        """The index of a job's row in the board's order; None if it has none there."""
        listed = f"SELECT count(*) FROM board_line WHERE job_id = ? AND {_listed(open_only)}"
        if not self._count(listed, job_id):
            return None
        before = (
            f"SELECT count(*) FROM board_line WHERE {_listed(open_only)} AND (sort_key, job_id) < "
            "(SELECT sort_key, job_id FROM board_line WHERE job_id = ?)"
        )
        return self._count(before, job_id)

    def count_stale(self, day: str) -> int:
        """How many rows no longer hold on a day (ISO 8601)."""
        return self._count("SELECT count(*) FROM board_line WHERE until < ?", day)

    def stale_jobs(self, day: str, most: int) -> list[str]:
        """At most `most` of the jobs whose rows no longer hold on a day."""
        rows = self._rows("SELECT job_id FROM board_line WHERE until < ? LIMIT ?", day, most)
        return [row[0] for row in rows]

    def save(self, rows: Iterable[NewRow]) -> bool:
        """Store rows; False if the disk refuses, after which they are only worked out again."""
        with suppress(BookError):
            with self._writing():
                for row in rows:
                    self._save(row)
            return True
        return False

    def find(self, typed: str) -> list[int]:
        """The numbers of the rows whose jobs hold every word typed, in the board's order."""
        with self._reading():
            return search.find(self._connection, typed)

    def texts(self, job_id: str, typed: str) -> list[tuple[str, str]]:
        """The texts of a job that hold a word typed, each as (what it is, the text)."""
        with self._reading():
            return search.matching_texts(self._connection, job_id, typed)

    def _save(self, row: NewRow) -> None:
        query = "SELECT id FROM board_line WHERE job_id = ?"
        number = self._connection.run(query, (row.job_id,)).value()
        if number is None:
            # The property was taken off the board meanwhile.
            return
        self._connection.run(
            "UPDATE board_line SET sort_key = ?, sought = ?, until = ?, told = ?, places = ?, "
            "runs_out = ?, closed = ? WHERE id = ?",
            (
                row.sort_key,
                row.search_text,
                row.valid_until,
                row.content,
                row.places,
                row.runs_out,
                int(row.closed),
                number,
            ),
        )
        search.save_texts(self._connection, number, row.job_id, row.texts)

    def _count(self, query: str, *values: object) -> int:
        return int(self._rows(query, *values)[0][0])

    def _rows(self, query: str, *values: object) -> Sequence[Any]:
        with self._reading():
            return self._connection.run(query, values).all()
