"""The transactions of an open book. Each is kept whole or not at all, and fails in one sentence."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from fieldbook.store.errors import BookError
from fieldbook.store.sqlite.book_connection import UNREADABLE, Connection

_DAMAGED = "leave fieldbook, then make the book anew with fieldbook rebuild --in-place"


class Transactions:
    """Transactions on the one connection to the book at a path. They can't be nested."""

    def __init__(self, connection: Connection, path: Path) -> None:
        self.connection, self._path = connection, path

    @contextmanager
    def writing(self) -> Iterator[None]:
        """A transaction that is on the disk when it ends. Raises BookError, and nothing is kept."""
        try:
            with self.connection.begin():
                yield
        except UNREADABLE as why:
            # SQLite reports the disk as an OperationalError; what a table refuses is another.
            mend = f"check the disk that holds {self._path}"
            if "locked" in str(why):
                mend = "another program reads the book, enter it again"
            if not isinstance(why, sqlite3.OperationalError):
                mend = _DAMAGED if _is_damage(why) else "nothing was changed"
            raise BookError(f"The entry was not kept ({why}): {mend}.") from why

    @contextmanager
    def reading(self) -> Iterator[None]:
        """A transaction for reading, so that all that is read is of one state. Raises BookError."""
        try:
            with self.connection.begin():
                yield
        except UNREADABLE as why:
            mend = f": {_DAMAGED}" if _is_damage(why) else ""
            raise BookError(f"The book {self._path} can't be read ({why}){mend}.") from why


def _is_damage(why: Exception) -> bool:
    """Whether the file is spoilt, rather than refused by the disk or by a table."""
    return "malformed" in str(why) or isinstance(why, UnicodeDecodeError)
