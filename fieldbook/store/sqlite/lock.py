"""Who may write to a book: one program at a time, which holds the book's lock file.

The lock file beside the book ("<book>.lock") is an empty SQLite file on which the writer holds a
transaction for as long as the book is open. SQLite locks alike on every system, and the system
drops the lock when the program dies. A second small file ("<book>.held") names the writer, so that
another program can say who it is; only the lock counts.
"""

from __future__ import annotations

import json
import os
import socket
import sqlite3
from contextlib import suppress
from pathlib import Path

from fieldbook.records.base import now
from fieldbook.store.disk import open_private
from fieldbook.store.errors import BookError, BookHeldError


class WriterLock:
    """The lock of the one program that may write to a book."""

    def __init__(self, book: Path) -> None:
        """Take the lock. Raises BookHeldError at once when another program has it."""
        self._book = book
        file = _beside(book, "lock")
        try:
            _make_private(file)
            self._connection = sqlite3.connect(
                file, timeout=0, isolation_level=None, check_same_thread=False
            )
        except (OSError, sqlite3.Error) as why:
            raise BookError(
                f"The book {book} can't be opened ({why}): make its folder writable."
            ) from why
        try:
            # Nothing is ever written, so the lock file needs no journal of its own beside it.
            self._connection.execute("PRAGMA journal_mode=MEMORY")
            self._connection.execute("BEGIN EXCLUSIVE")
        except sqlite3.Error as why:
            self._connection.close()
            if "locked" in str(why):
                raise BookHeldError(holder_sentence(book)) from why
            raise BookError(f"The lock file {file} is damaged ({why}): delete it.") from why
        self._write_holder()

    def release(self) -> None:
        """Let another program write; the lock file stays, as deleting it could free two writers."""
        try:
            # On Windows it can't be deleted while another program reads it.
            with suppress(OSError):
                _beside(self._book, "held").unlink()
        finally:
            self._connection.close()

    def _write_holder(self) -> None:
        """Name this process; a failure is ignored, as the lock holds anyway."""
        holder = {"pid": os.getpid(), "host": socket.gethostname(), "since": now()}
        try:
            descriptor = open_private(_beside(self._book, "held"), os.O_WRONLY | os.O_TRUNC)
            with os.fdopen(descriptor, "w", encoding="utf-8") as out:
                json.dump(holder, out)
        except OSError:
            return


def is_held(book: Path) -> bool:
    """Whether some program has the book open for writing."""
    try:
        WriterLock(book).release()
    except BookHeldError:
        return True
    return False


def is_held_beside(book: Path) -> bool:
    """The same without making a lock file where there is none."""
    return _beside(book, "lock").exists() and is_held(book)


def _beside(book: Path, ending: str) -> Path:
    return book.with_name(f"{book.name}.{ending}")


def _make_private(file: Path) -> None:
    """Make the file for its owner alone.

    It is never opened where it exists: POSIX drops a process's locks on a file as soon as the
    process closes any descriptor of it.
    """
    if not file.exists():
        os.close(open_private(file, os.O_RDWR))


def holder(book: Path) -> str:
    """The program that has the book open, as far as it is known."""
    try:
        held = json.loads(_beside(book, "held").read_text(encoding="utf-8"))
        return f"process {int(held['pid'])} on {held['host']}, since {held['since']}"
    except (OSError, ValueError, KeyError, TypeError):
        return "another program"


def holder_sentence(book: Path) -> str:
    """One sentence that names the program that has the book open, and what to do."""
    return f"The book {book} is already open ({holder(book)}): close fieldbook there first."
