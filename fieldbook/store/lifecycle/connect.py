"""Open the SQLite file of a book with the settings that survive a power cut.

journal_mode=DELETE with synchronous=EXTRA keeps the last committed entry when the power dies;
locking_mode=EXCLUSIVE lets one instance hold the book and tells a second one at once.
"""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DatabaseError
from sqlalchemy.pool import StaticPool

from fieldbook.records import loaded_job as _loaded
from fieldbook.store import places as _places
from fieldbook.store import settings as _settings

# Registers every table of the record in SQLModel's metadata.
from fieldbook.store.board import board_table as _board
from fieldbook.store.board.search import make_search
from fieldbook.store.changes import another_program
from fieldbook.store.errors import BookError, BookHeldError
from fieldbook.store.journal import journal_tables as _journal
from fieldbook.store.journal.append import append_outbox
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.journal.receive import rebuild_rows
from fieldbook.store.journal.triggers import GUARDED, guard, make_triggers
from fieldbook.store.lifecycle.layout import bring_up, difference, refuse_newer, refuse_unlike
from fieldbook.store.lifecycle.migrate import (
    DROPPED,
    FIRST_MERGING,
    append_differences,
    append_old_log,
    read_log,
)
from fieldbook.store.sqlite.backup import back_up
from fieldbook.store.sqlite.lock import holder_sentence
from fieldbook.store.sqlite.transactions import raw_of

_APPLICATION_ID = 0x66626B31
_MAGIC = b"SQLite format 3\x00"
_REGISTERED = (_board, _journal, _loaded, _places, _settings)
_SETTINGS = (
    "PRAGMA busy_timeout=0",
    "PRAGMA locking_mode=EXCLUSIVE",
    "PRAGMA journal_mode=DELETE",
    "PRAGMA synchronous=EXTRA",
    "PRAGMA foreign_keys=ON",
)


def connect(path: Path) -> Connection:
    """The one connection to the book at `path`, making the file (mode 0600) if there is none.

    Raises BookHeldError when another instance has it, BookError for whatever else, in one sentence.
    """
    _make_file(path)
    try:
        _refuse_newer(path)
        return _opened(path)
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


def _opened(path: Path) -> Connection:
    """The connection, ready; one that can't be made ready lets go of the file."""
    engine = _engine(path)
    try:
        connection = engine.connect()
        _take_hold(connection)
        _prepare(connection, path)
    except BaseException:
        engine.dispose()
        raise
    return connection


def _make_file(path: Path) -> None:
    """Create the folder and an empty file that only its owner reads."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
        if path.stat().st_mode & 0o077:
            path.chmod(0o600)
    except OSError as why:
        raise BookError(
            f"The book {path} can't be opened ({why.strerror}): name another with --book."
        ) from why


def _refuse_newer(path: Path) -> None:
    """Refuse a newer book, or another program's file, before anything could touch it.

    The header is read as bytes: SQLite itself would first roll back what a cut-off entry left.
    """
    with path.open("rb") as file:
        header = file.read(100)
    if not header:
        return
    if len(header) < 100 or not header.startswith(_MAGIC):
        raise sqlite3.DatabaseError("file is not a database")
    found = int.from_bytes(header[60:64], "big")
    owner = int.from_bytes(header[68:72], "big")
    begun = owner == 0 and path.with_name(f"{path.name}-journal").exists()
    if owner != _APPLICATION_ID and not begun:
        raise BookError(f"{path} belongs to another program: name another book with --book.")
    if found > FORMAT:
        raise BookError(
            f"The book {path} has format {found} and this fieldbook reads up to {FORMAT}: "
            "update fieldbook; the book was not touched."
        )


def _engine(path: Path) -> Engine:
    """An engine of a single connection that leaves transactions to us."""
    engine = create_engine(
        f"sqlite:///{path.absolute()}",
        poolclass=StaticPool,
        connect_args={"check_same_thread": False, "isolation_level": None, "timeout": 0},
    )

    @event.listens_for(engine, "connect")
    def settings(raw: sqlite3.Connection, _record: object) -> None:
        for line in _SETTINGS:
            raw.execute(line)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def _take_hold(connection: Connection) -> None:
    """Take the exclusive lock now, not at the first entry."""
    raw = raw_of(connection)
    raw.execute("BEGIN EXCLUSIVE")
    raw.execute("COMMIT")


def _prepare(connection: Connection, path: Path) -> None:
    """Bring the file up to this fieldbook, in one transaction, and seal what another program wrote.

    A book that has to be changed for that is backed up first; a new one has nothing to back up.
    """
    raw = raw_of(connection)
    with connection.begin():
        found = connection.exec_driver_sql("PRAGMA user_version").scalar_one()
        differs = difference(raw, DROPPED if found < FIRST_MERGING else ())
        if found == FORMAT:
            refuse_newer(raw, differs, path)
            if not differs.missing:
                append_foreign(connection)
                return
        refuse_unlike(differs, path)
    if found:
        _back_up_first(raw, path, found)
    with connection.begin():
        if 0 < found < FIRST_MERGING:
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
    """Bring the tables up to the model, and make the triggers and the board's rows anew.

    Returns the rows (table, id) that the journal may tell more of than the file could hold.
    """
    rows = bring_up(connection, difference(raw_of(connection)))
    for table in GUARDED:
        guard(connection, table)
    make_triggers(connection)
    # The checks may find more in the new columns, so no board row stays as it was.
    make_search(connection)
    return rows


def append_foreign(connection: Connection) -> None:
    """Seal what another program wrote; its rows are then nobody's."""
    changes = append_outbox(connection, another_program())
    rebuild_rows(connection, [(change.table, change.row_id) for change in changes])
