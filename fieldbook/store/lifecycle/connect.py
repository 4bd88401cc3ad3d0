"""Open the SQLite file of a book with the settings that survive a power cut.

journal_mode=DELETE with synchronous=EXTRA keeps the last committed entry when the power dies. The
book's lock file lets one program write and refuses a second writer at once; SQLite's own locks last
only for a transaction, so that commands can read beside an open app.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DatabaseError
from sqlalchemy.pool import StaticPool

from fieldbook.records import loaded_job as _record_tables
from fieldbook.store import places as _place_tables
from fieldbook.store import settings as _settings_tables
from fieldbook.store.board import board_table as _board_tables
from fieldbook.store.board.board_table import make_board
from fieldbook.store.board.search import make_search
from fieldbook.store.changes import another_program
from fieldbook.store.errors import BookError, BookHeldError
from fieldbook.store.journal import journal_tables as _journal_tables
from fieldbook.store.journal.append import append_outbox
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.journal.receive import rebuild_rows
from fieldbook.store.journal.triggers import GUARDED, guard, make_triggers
from fieldbook.store.lifecycle.layout import bring_up, difference, refuse_incompatible, refuse_newer
from fieldbook.store.lifecycle.migrate import (
    DROPPED,
    FIRST_WITH_JOURNAL,
    append_differences,
    append_old_log,
    read_log,
)
from fieldbook.store.sqlite.backup import back_up
from fieldbook.store.sqlite.lock import WriterLock, holder_sentence
from fieldbook.store.sqlite.transactions import raw_of

# Importing a module with table classes registers its tables with the model.
_MODEL = (_board_tables, _journal_tables, _place_tables, _record_tables, _settings_tables)
_APPLICATION_ID = 0x66626B31
"""Marks a SQLite file as a book: "fbk1" in ASCII."""
_MAGIC = b"SQLite format 3\x00"
_SETTINGS = (
    # An entry waits so many ms for a command that copies the book; nobody else may write.
    "PRAGMA busy_timeout=10000",
    "PRAGMA locking_mode=NORMAL",
    "PRAGMA journal_mode=DELETE",
    "PRAGMA synchronous=EXTRA",
    "PRAGMA foreign_keys=ON",
)


def connect(path: Path) -> tuple[Connection, WriterLock]:
    """The one connection that writes to the book at `path`, ready for use, and the lock it needs.

    Makes the file, readable for its owner alone, if there is none. Raises BookHeldError when
    another program has the book, and BookError for whatever else, each with one sentence.
    """
    _make_file(path)
    try:
        check_header(path)
        lock = WriterLock(path)
        try:
            return _open(path), lock
        except BaseException:
            lock.release()
            raise
    except (DatabaseError, sqlite3.DatabaseError) as why:
        reason = getattr(why, "orig", None) or why
        if "locked" in str(reason):
            raise BookHeldError(holder_sentence(path)) from why
        if isinstance(reason, sqlite3.OperationalError):
            raise BookError(
                f"The book {path} can't be opened ({reason}): check the disk that holds it."
            ) from why
        raise BookError(
            f"{path} is not a fieldbook book ({reason}): name another with --book."
        ) from why


def _open(path: Path) -> Connection:
    engine = _engine(f"sqlite:///{path.absolute()}", _SETTINGS)
    try:
        connection = engine.connect()
        _prepare(connection, path)
    except BaseException:
        # Otherwise the file would stay locked for as long as this process runs.
        engine.dispose()
        raise
    return connection


def _make_file(path: Path) -> None:
    """Create the folder, and an empty file that only its owner reads."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
        if path.stat().st_mode & 0o077:
            path.chmod(0o600)
    except OSError as why:
        raise BookError(
            f"The book {path} can't be opened ({why.strerror}): name another with --book."
        ) from why


def check_header(path: Path) -> None:
    """Refuse a book of a newer format, or another program's file, before anything is written.

    The header is read as bytes: SQLite itself would first roll back what a power cut interrupted.
    """
    with path.open("rb") as file:
        header = file.read(100)
    if not header:
        return
    if len(header) < 100 or not header.startswith(_MAGIC):
        raise sqlite3.DatabaseError("file is not a database")
    # SQLite file format, section 1.3: the user version at byte 60, the application id at byte 68.
    found = int.from_bytes(header[60:64], "big")
    owner = int.from_bytes(header[68:72], "big")
    # The power may have died while the book was made; SQLite then empties it on opening.
    unfinished = owner == 0 and path.with_name(f"{path.name}-journal").exists()
    if owner != _APPLICATION_ID and not unfinished:
        raise BookError(f"{path} belongs to another program: name another book with --book.")
    if found > FORMAT:
        raise BookError(
            f"The book {path} has format {found} and this fieldbook reads up to {FORMAT}: "
            "update fieldbook; the book was not touched."
        )


def connect_in_memory() -> Connection:
    """A connection to an empty database in memory, into which a book can be copied."""
    return _engine("sqlite://", ()).connect()


def is_current(raw: sqlite3.Connection, path: Path) -> bool:
    """Whether the book at `path`, or a copy of it, has this fieldbook's format and tables.

    Raises BookError where a newer fieldbook added to them.
    """
    if raw.execute("PRAGMA user_version").fetchone()[0] != FORMAT:
        return False
    differs = difference(raw)
    refuse_newer(raw, differs, path)
    return not differs.missing


def _engine(url: str, settings: Sequence[str]) -> Engine:
    """An engine of a single connection, with these settings and our own BEGIN."""
    engine = create_engine(
        url,
        poolclass=StaticPool,
        # The book is opened in a thread and used in another. Without an isolation level sqlite3
        # begins no transaction of its own.
        connect_args={"check_same_thread": False, "isolation_level": None},
    )

    @event.listens_for(engine, "connect")
    def apply_settings(raw: sqlite3.Connection, _record: object) -> None:
        for setting in settings:
            raw.execute(setting)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def _prepare(connection: Connection, path: Path) -> None:
    """Bring the file up to this fieldbook, and append what another program wrote since.

    A book whose layout changes is backed up first. Then all is done in one transaction.
    """
    raw = raw_of(connection)
    with connection.begin():
        found = connection.exec_driver_sql("PRAGMA user_version").scalar_one()
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
        connection.exec_driver_sql(f"PRAGMA application_id={_APPLICATION_ID}")
        connection.exec_driver_sql(f"PRAGMA user_version={FORMAT}")


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
    rows = bring_up(connection, difference(raw_of(connection)))
    for table in GUARDED:
        guard(connection, table)
    make_triggers(connection)
    # Checks may find more in the new columns, so no stored board row holds any longer.
    make_board(connection)
    make_search(connection)
    return rows


def append_foreign(connection: Connection) -> None:
    """Append the changes that another program left in the outbox, as nobody's."""
    changes = append_outbox(connection, another_program())
    rebuild_rows(connection, [(change.table, change.row_id) for change in changes])
