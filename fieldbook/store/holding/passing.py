"""Decide of each entry that an exchange brings whether this book takes it; keep track of the rest.

A book of chosen properties takes the entries of those it holds, and of those that are being fetched
now. Of the others it keeps a line, and which file of a folder held entries of them: once such a
property is held, the file is read again.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from fieldbook.store.holding.keeping import is_chosen, is_held
from fieldbook.store.holding.lines import (
    Passed,
    drop_lines_of_held,
    line_of,
    read_line,
    save_line,
)
from fieldbook.store.journal.entry import Entry
from fieldbook.store.sqlite.book_connection import Connection


class Passing:
    """What one exchange brings in one transaction: taken, or passed over."""

    def __init__(self, connection: Connection, fetched: Collection[str] = ()) -> None:
        """`fetched` are properties to take though the book does not hold them yet."""
        self._connection = connection
        self._chosen = is_chosen(connection)
        self._takes: dict[str, bool] = dict.fromkeys(fetched, True)
        self._passed: dict[str, Passed] = {}

    def taken(self, entries: Iterable[Entry]) -> Iterator[Entry]:
        """The entries that the book takes, in their order."""
        for entry in entries:
            if self._is_taken(entry.job_id):
                yield entry
            else:
                passed = self._passed.setdefault(entry.job_id, Passed(entry.job_id))
                passed.add(entry)

    def _is_taken(self, job_id: str) -> bool:
        if job_id not in self._takes:
            # Where the whole firm is held, that a property came is noted all the same.
            self._takes[job_id] = not self._chosen or is_held(self._connection, job_id)
        return self._takes[job_id]

    def keep_lines(self, made_from: str) -> None:
        """Bring the lines up to date: of what was passed over, and of what is here now."""
        for job_id, passed in self._passed.items():
            there = read_line(self._connection, job_id)
            save_line(self._connection, line_of(passed, made_from, there))
        drop_lines_of_held(self._connection, [job for job, takes in self._takes.items() if takes])

    def record_file(self, name: str) -> None:
        """Remember of which properties a file had entries that were passed over."""
        self._connection.run("DELETE FROM passed_over WHERE name = ?", (name,))
        for job_id in self._passed:
            self._connection.run("INSERT INTO passed_over VALUES (?, ?)", (name, job_id))


def forget_passed(connection: Connection, name: str, job_id: str) -> None:
    """Forget that a file's entries of one property were passed over: they are here now."""
    connection.run("DELETE FROM passed_over WHERE name = ? AND job_id = ?", (name, job_id))
