"""The connection to a book: SQLite's own, with transactions that begin where the code says so.

Statements are plain SQL. SQLAlchemy and SQLModel only describe the tables
(`lifecycle/book_tables.py`): to import them takes longer than everything else a command does.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

UNREADABLE = (sqlite3.Error, UnicodeDecodeError)
"""What a statement on a damaged file may raise; the second where a name or text is no UTF-8."""


class Connection:
    """A connection whose statements outside `begin` are each kept at once.

    `raw` is SQLite's own connection, for backups. The book is opened in a thread and used in
    another, one at a time.
    """

    def __init__(self, database: str, *, uri: bool = False) -> None:
        """Open a database; ":memory:" is a new one in memory. Raises sqlite3.Error."""
        # Without an isolation level sqlite3 begins no transaction of its own.
        self.raw = sqlite3.connect(database, uri=uri, isolation_level=None, check_same_thread=False)
        self.closed = False

    def run(self, statement: str, values: Sequence[object] = ()) -> Rows:
        """Run one statement with its positional values. Raises sqlite3.Error."""
        return Rows(self.raw.execute(statement, values))

    def run_many(self, statement: str, values: Iterable[Sequence[object]]) -> None:
        """Run one statement, which returns no rows, with each of these values."""
        self.raw.executemany(statement, values)

    @contextmanager
    def begin(self) -> Iterator[None]:
        """A transaction, kept when the block ends and rolled back when it raises."""
        assert not self.raw.in_transaction, "transactions can't be nested"
        self.run("BEGIN IMMEDIATE")
        try:
            yield
            self.run("COMMIT")
        except BaseException:
            # A full disk may have rolled it back already.
            if self.raw.in_transaction:
                self.run("ROLLBACK")
            raise

    def close(self) -> None:
        """Close it; a transaction that is open is rolled back."""
        self.closed = True
        self.raw.close()


class Rows:
    """The rows of one statement, as tuples."""

    def __init__(self, cursor: sqlite3.Cursor) -> None:
        self._cursor = cursor

    def __iter__(self) -> Iterator[tuple[Any, ...]]:
        return self._cursor

    def all(self) -> list[tuple[Any, ...]]:
        """Every row that is left."""
        return self._cursor.fetchall()

    def dicts(self) -> Iterator[dict[str, Any]]:
        """Each row that is left, by the names of its columns."""
        names = [column[0] for column in self._cursor.description]
        return (dict(zip(names, row, strict=True)) for row in self._cursor)

    def first(self) -> tuple[Any, ...] | None:
        """The first row, or None."""
        row: tuple[Any, ...] | None = self._cursor.fetchone()
        # An unfinished statement would keep its table from being dropped.
        self._cursor.close()
        return row

    def one(self) -> tuple[Any, ...]:
        """The first row, of a statement that always has one."""
        row = self.first()
        assert row is not None
        return row

    def value(self) -> Any:  # noqa: ANN401 - whatever the column holds
        """The first column of the first row, or None."""
        row = self.first()
        return row[0] if row is not None else None
