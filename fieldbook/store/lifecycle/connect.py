"""Open the SQLite file of a book with the settings that survive a power cut.

journal_mode=DELETE with synchronous=EXTRA keeps the last committed entry when the power dies. The
book's lock file lets one program write and refuses a second writer at once; SQLite's own locks last
only for a transaction, so that commands can read beside an open app.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import suppress
from pathlib import Path

from fieldbook.store.board.board_table import make_board
from fieldbook.store.board.search import make_search
from fieldbook.store.changes import another_program
from fieldbook.store.disk import open_private
from fieldbook.store.errors import BookError, BookHeldError
from fieldbook.store.journal.append import append_outbox
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.journal.row_rebuilding import rebuild_rows
from fieldbook.store.journal.triggers import GUARDED, drop_triggers, guard, make_triggers
from fieldbook.store.lifecycle.known_layout import (
    APPLICATION_ID,
    check_header,
    format_of,
    has_known_layout,
    is_ours,
)
from fieldbook.store.lifecycle.lost import damaged, refuse_lost
from fieldbook.store.lifecycle.migrate import (
    DROPPED,
    FIRST_WITH_JOURNAL,
    append_differences,
    append_old_log,
    read_log,
)
from fieldbook.store.sqlite.backup import back_up
from fieldbook.store.sqlite.book_connection import UNREADABLE, Connection
from fieldbook.store.sqlite.lock import WriterLock, holder_sentence

# What compares a book with the model imports SQLModel, and so is imported where it is needed.
# ruff: noqa: PLC0415

_SETTINGS = (
    # An entry waits so many ms for a command that copies the book; nobody else may write.
    "PRAGMA busy_timeout=10000",
    "PRAGMA locking_mode=NORMAL",
    "PRAGMA journal_mode=DELETE",
    "PRAGMA synchronous=EXTRA",
    "PRAGMA foreign_keys=ON",
)
_DISK = ("disk I/O", "full", "unable to open", "readonly")
"""Words in what SQLite says of a disk, not of the file."""
_MOST_FORMATS = 100
"""A book of a higher format than this has a spoilt header; it is of no newer fieldbook."""


def connect(path: Path) -> tuple[Connection, WriterLock]:
    """The one connection that writes to the book at `path`, ready for use, and the lock it needs.

    Makes the file, readable for its owner alone, if there is none. Raises BookHeldError when
    another program has the book, and BookError for whatever else, each with one sentence.
    """
    _make_file(path)
    try:
        _check_header(path)
        lock = WriterLock(path)
        try:
            return _open(path), lock
        except BaseException:
            lock.release()
            raise
    except UNREADABLE as why:
        raise _refusal(path, why) from why


def _refusal(path: Path, why: Exception) -> BookError:
    """The sentence for a file that SQLite refuses."""
    said = str(why)
    if "locked" in said:
        return BookHeldError(holder_sentence(path))
    if any(word in said for word in _DISK):
        return BookError(f"The book {path} can't be opened ({why}): check the disk that holds it.")
    return damaged(path, why) or BookError(
        f"{path} is not a fieldbook book ({why}): name another with --book."
    )


def _open(path: Path) -> Connection:
    connection = Connection(str(path.absolute()))
    try:
        for setting in _SETTINGS:
            connection.run(setting)
        _prepare(connection, path)
    except BaseException:
        # Otherwise the file would stay locked for as long as this process runs.
        connection.close()
        raise
    return connection


def _make_file(path: Path) -> None:
    """Create the folder, and an empty file that only its owner reads.

    Raises DamagedBookError where there was a book once, BookError where the path is no plain file.
    """
    try:
        if path.exists() and not path.is_file():
            raise BookError(f"{path} is no file: name another book with --book.")
        refuse_lost(path)
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        os.close(open_private(path, os.O_RDWR))
    except OSError as why:
        raise BookError(
            f"The book {path} can't be opened ({why.strerror}): name another with --book."
        ) from why


def _check_header(path: Path) -> None:
    """Check whose file it is, and only then make it readable for its owner alone.

    Where text journal or backups are beside it, the file is this book, whatever its header says.
    """
    try:
        check_header(path)
    except BookError as why:
        raise _spoilt_header(path) or why from why
    with suppress(OSError):
        if path.stat().st_mode & 0o077:
            path.chmod(0o600)


def _spoilt_header(path: Path) -> BookError | None:
    """The error for a header that names another program or a format no fieldbook has had."""
    with path.open("rb") as file:
        header = file.read(100)
    if is_ours(header) and format_of(header) < _MOST_FORMATS:
        return None
    return damaged(path, "its first page is spoilt")


def _prepare(connection: Connection, path: Path) -> None:
    """Bring the file up to this fieldbook, and append what another program wrote since.

    A book whose layout changes is backed up first. Then all is done in one transaction.
    """
    raw = connection.raw
    with connection.begin():
        if has_known_layout(raw):
            append_foreign(connection)
            return
        from fieldbook.store.lifecycle.layout import difference, refuse_incompatible, refuse_newer

        found = connection.run("PRAGMA user_version").value()
        differs = difference(raw, DROPPED if found < FIRST_WITH_JOURNAL else ())
        if found == FORMAT:
            refuse_newer(raw, differs, path)
            if not differs.missing:
                append_foreign(connection)
                return
        refuse_incompatible(differs, path)
    if found:
        _back_up_first(raw, path, found)
    with connection.begin():
        if 0 < found < FIRST_WITH_JOURNAL:
            log = read_log(connection)
            prepare_tables(connection)
            append_old_log(connection, log)
            append_differences(connection)
        else:
            rows = prepare_tables(connection)
            append_foreign(connection)
            rebuild_rows(connection, rows)
        connection.run(f"PRAGMA application_id={APPLICATION_ID}")
        connection.run(f"PRAGMA user_version={FORMAT}")


def _back_up_first(raw: sqlite3.Connection, path: Path, found: int) -> None:
    why = f"before-format-{FORMAT}" if found < FORMAT else "before-new-columns"
    try:
        back_up(raw, path, why)
    except OSError as error:
        raise BookError(
            f"The book {path} can't be backed up before it is brought up to this fieldbook "
            f"({error.strerror or error}): make room on the disk, then open it again."
        ) from error


def prepare_tables(connection: Connection) -> list[tuple[str, str]]:
    """Bring the tables up to the model, and make the triggers and the stored board anew.

    Returns the rows (table, id) that the journal may tell more of than the file could hold.
    """
    from fieldbook.store.lifecycle.layout import bring_up, difference, make_board_table

    drop_triggers(connection)
    rows = bring_up(connection, difference(connection.raw))
    for table in GUARDED:
        guard(connection, table)
    make_triggers(connection)
    # Checks may find more in the new columns, so no stored board row holds any longer.
    make_board_table(connection)
    make_board(connection)
    make_search(connection)
    return rows


def append_foreign(connection: Connection) -> None:
    """Append the changes that another program left in the outbox, as nobody's."""
    changes = append_outbox(connection, another_program())
    rebuild_rows(connection, [(change.table, change.row_id) for change in changes])
