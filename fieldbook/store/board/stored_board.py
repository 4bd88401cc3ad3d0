"""The board's lines of an open book: read by the page, kept as they are made, looked through."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from fieldbook.store.board import search
from fieldbook.store.board.board_table import add_missing_rows
from fieldbook.store.errors import BookError
from fieldbook.store.sqlite.transactions import Transactions

_KEPT = "SELECT id, job_id, until, told FROM board_line"


@dataclass(frozen=True)
class StoredRow:
    """A line as it is kept."""

    number: int
    job_id: str
    until: str
    told: str


@dataclass(frozen=True)
class NewRow:
    """A line made anew: where it stands, what it tells and until when, texts to find the job by."""

    job_id: str
    sort_key: str
    sought: str
    until: str
    told: str
    words: search.Words


class StoredBoard:
    """The lines of one open book."""

    def __init__(self, transactions: Transactions) -> None:
        """Nothing is read until asked for."""
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def count(self) -> int:
        """How many properties are on the board."""
        return self._counted("SELECT count(*) FROM board_line")

    def is_complete(self) -> bool:
        """Whether there are as many lines as properties on the board."""
        return self.count() == self._counted("SELECT count(*) FROM job WHERE off_board IS NOT 1")

    def repair(self) -> None:
        """Give every property on the board a line, whoever took it, and no other."""
        with suppress(BookError), self._writing():
            self._connection.exec_driver_sql(
                "DELETE FROM board_line WHERE job_id NOT IN "
                "(SELECT id FROM job WHERE off_board IS NOT 1)"
            )
            add_missing_rows(self._connection)

    def has(self, job_id: str) -> bool:
        """Whether this property is on the board."""
        found = "SELECT count(*) FROM job WHERE id = ? AND off_board IS NOT 1"
        return self._counted(found, job_id) > 0

    def usual_units(self) -> str:
        """The units of the property that came last, or nothing."""
        newest = "SELECT units FROM job WHERE off_board IS NOT 1 ORDER BY id DESC LIMIT 1"
        return next((str(row[0]) for row in self._rows(newest)), "")

    def page(self, first: int, most: int) -> list[StoredRow]:
        """So many lines in their order, from the place `first`, which counts from 0."""
        ordered = f"{_KEPT} ORDER BY sort_key, job_id LIMIT ? OFFSET ?"
        return [StoredRow(*row) for row in self._rows(ordered, most, first)]

    def rows_numbered(self, numbers: Sequence[int]) -> list[StoredRow]:
        """The lines of these numbers, a page at the most, without those that are gone."""
        marks = ", ".join("?" * len(numbers))
        rows = self._rows(f"{_KEPT} WHERE id IN ({marks})", *numbers)
        found = {row[0]: StoredRow(*row) for row in rows}
        return [found[number] for number in numbers if number in found]

    def all_numbers(self) -> list[int]:
        """The number of every line, in their order."""
        return [row[0] for row in self._rows("SELECT id FROM board_line ORDER BY sort_key, job_id")]

    def number_of(self, job_id: str) -> int | None:
        """The number of a job's line."""
        rows = self._rows("SELECT id FROM board_line WHERE job_id = ?", job_id)
        return next((int(row[0]) for row in rows), None)

    def index_of(self, job_id: str) -> int | None:
        """How many lines come before a job's; None when it has none."""
        if self.number_of(job_id) is None:
            return None
        before = (
            "SELECT count(*) FROM board_line WHERE (sort_key, job_id) < "
            "(SELECT sort_key, job_id FROM board_line WHERE job_id = ?)"
        )
        return self._counted(before, job_id)

    def count_stale(self, day: str) -> int:
        """How many lines are to be made anew on a day."""
        return self._counted("SELECT count(*) FROM board_line WHERE until < ?", day)

    def stale_jobs(self, day: str, most: int) -> list[str]:
        """Some of the jobs whose lines are to be made anew on a day."""
        rows = self._rows("SELECT job_id FROM board_line WHERE until < ? LIMIT ?", day, most)
        return [row[0] for row in rows]

    def save(self, made: Iterable[NewRow]) -> bool:
        """Keep lines that were made; False when the disk refuses, which loses only time."""
        with suppress(BookError):
            with self._writing():
                for one in made:
                    self._save(one)
            return True
        return False

    def find(self, typed: str) -> list[int]:
        """The numbers of the lines whose jobs hold every word typed, in their order."""
        with self._reading():
            return search.find(self._connection, typed)

    def texts(self, job_id: str, typed: str) -> list[tuple[str, str]]:
        """The texts of a job, each with what it is, that hold a word typed."""
        with self._reading():
            return search.texts_of(self._connection, job_id, typed)

    def _save(self, made: NewRow) -> None:
        query = "SELECT id FROM board_line WHERE job_id = ?"
        number = self._connection.exec_driver_sql(query, (made.job_id,)).scalar()
        if number is None:
            return
        self._connection.exec_driver_sql(
            "UPDATE board_line SET sort_key = ?, sought = ?, until = ?, told = ? WHERE id = ?",
            (made.sort_key, made.sought, made.until, made.told, number),
        )
        search.save_words(self._connection, number, made.job_id, made.words)

    def _counted(self, query: str, *values: object) -> int:
        return int(self._rows(query, *values)[0][0])

    def _rows(self, query: str, *values: object) -> Sequence[Any]:
        with self._reading():
            return self._connection.exec_driver_sql(query, values).all()
