"""Read a book beside an open app: a copy of it in memory, taken at one moment.

The book's file is opened read-only and copied under one read lock, so the copy is one state of the
book, and the app waits at most for the copying. What a command then works out, such as stale rows
of the board, is written to the copy and ends with it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path

from fieldbook.store.board.stored_board import StoredBoard
from fieldbook.store.book_reader import BookReader
from fieldbook.store.errors import BookHeldError
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.lifecycle.known_layout import check_header, has_known_layout
from fieldbook.store.sqlite.book_connection import UNREADABLE, Connection
from fieldbook.store.sqlite.lock import holder, is_held
from fieldbook.store.sqlite.transactions import Transactions

# Few commands need the book itself or its model, which imports SQLModel.
# ruff: noqa: PLC0415

_WAIT_S = 5.0
"""So long a snapshot waits for an entry that is being written."""
_MANY = 50
"""More stale rows of the board than this are stored once they are made anew."""
_OUTDATED = "it has to be brought up to this fieldbook first"
_CUT_OFF = "an entry was cut off and has to be taken back first"


@contextmanager
def reading(path: Path, *, lists: bool = False) -> Iterator[BookReader]:
    """The book at `path` for reading: a snapshot, also beside an open app. Nothing is written.

    A book that is open nowhere is opened as the app opens it where it has yet to be made, brought
    up to this fieldbook or recovered; or where the caller `lists` the board and many of its rows
    are stale, which the next listing would otherwise make anew again. Raises BookHeldError where it
    is open and can't be read beside that, BookError for whatever else, each with one sentence.
    """
    copy = _snapshot(path) if path.exists() else None
    if copy is not None and lists and _many_stale(copy, path) and not is_held(path):
        copy.close()
        copy = None
    if copy is None:
        from fieldbook.store.book import Book

        with Book(path) as book:
            yield book
        return
    try:
        yield BookReader(path, Transactions(copy, path))
    finally:
        copy.close()


def _snapshot(path: Path) -> Connection | None:
    """A copy of the book in memory; None where it must be opened for work first."""
    copy = Connection(":memory:")
    try:
        check_header(path)
        with closing(_open_read_only(path)) as source:
            source.backup(copy.raw)
        if _is_current(copy.raw, path):
            return copy
        why = _OUTDATED
    except (OSError, *UNREADABLE) as error:
        why = str(error)
        # Read-only, SQLite can't take back what a power cut interrupted.
        if path.with_name(f"{path.name}-journal").exists():
            why = _CUT_OFF
    except BaseException:
        copy.close()
        raise
    copy.close()
    if is_held(path):
        raise BookHeldError(
            f"The book {path} can't be read while it is open ({holder(path)}), as {why}: "
            "close fieldbook there first."
        )
    return None


def _is_current(raw: sqlite3.Connection, path: Path) -> bool:
    """Whether the book at `path`, or a copy of it, has this fieldbook's format and tables.

    Raises BookError where a newer fieldbook added to them.
    """
    if has_known_layout(raw):
        return True
    if raw.execute("PRAGMA user_version").fetchone()[0] != FORMAT:
        return False
    from fieldbook.store.lifecycle.layout import difference, refuse_newer

    differs = difference(raw)
    refuse_newer(raw, differs, path)
    return not differs.missing


def _many_stale(copy: Connection, path: Path) -> bool:
    """Whether a listing of the board takes long, as many of its rows have to be made anew."""
    board = StoredBoard(Transactions(copy, path))
    return board.count_stale(date.today().isoformat()) > _MANY


def _open_read_only(path: Path) -> sqlite3.Connection:
    """The book, read-only and inside a transaction for reading."""
    uri = f"{path.absolute().as_uri()}?mode=ro"
    source = sqlite3.connect(uri, uri=True, timeout=_WAIT_S, isolation_level=None)
    try:
        # The read lock is taken here, within the waiting time: a backup would wait for ever.
        source.execute("BEGIN")
        source.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except BaseException:
        source.close()
        raise
    return source
