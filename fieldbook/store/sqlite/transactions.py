"""The transactions of an open book. Each is kept whole or not at all, and fails in one sentence."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError, SQLAlchemyError

from fieldbook.store.errors import BookError


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
        except SQLAlchemyError as why:
            reason = getattr(why, "orig", None) or why
            # SQLite reports the disk as an OperationalError; what a table refuses is another.
            mend = f"check the disk that holds {self._path}"
            if "locked" in str(reason):
                mend = "another program reads the book, enter it again"
            if not isinstance(why, OperationalError):
                mend = "nothing was changed"
            raise BookError(f"The entry was not kept ({reason}): {mend}.") from why

    @contextmanager
    def reading(self) -> Iterator[None]:
        """A transaction for reading, so that all that is read is of one state. Raises BookError."""
        try:
            with self.connection.begin():
                yield
        except SQLAlchemyError as why:
            reason = getattr(why, "orig", None) or why
            raise BookError(f"The book {self._path} can't be read ({reason}).") from why


def raw_of(connection: Connection) -> sqlite3.Connection:
    """SQLite's own connection, for what SQLAlchemy has no call for, such as a backup."""
    raw = connection.connection.driver_connection
    assert isinstance(raw, sqlite3.Connection)
    return raw
