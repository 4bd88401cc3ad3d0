"""Copies of a book by SQLite's own backup, each checked before it counts, the oldest let go."""

from __future__ import annotations

import os
import sqlite3
import time
from datetime import datetime
from pathlib import Path

KEPT = 7
_A_DAY = 24 * 3600


def backup_folder(book: Path) -> Path:
    """Where a book's backups are."""
    return book.with_name(f"{book.name}.backups")


def backups(book: Path) -> list[Path]:
    """The backups of a book, newest first."""
    return sorted(backup_folder(book).glob("*.sqlite"), reverse=True)


def has_recent_backup(book: Path) -> bool:
    """Whether there is a backup of the last day."""
    newest = next(iter(backups(book)), None)
    try:
        return newest is not None and time.time() - newest.stat().st_mtime < _A_DAY
    except OSError:
        return False


def back_up(source: sqlite3.Connection, book: Path, why: str) -> Path:
    """Copy the open book to a file of its own; it has that name only once it is whole and sound.

    `why` is part of the name: "closed", "before-format-5". Raises OSError or sqlite3.Error.
    """
    folder = backup_folder(book)
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    stamp = datetime.now().strftime("%Y%m%d-%H%M%S-%f")
    part = folder / f"{stamp}.part"
    try:
        os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
        copy = sqlite3.connect(part)
        try:
            source.backup(copy)
            sound = copy.execute("PRAGMA quick_check").fetchone()[0] == "ok"
        finally:
            copy.close()
        if not sound:
            raise sqlite3.DatabaseError("the copy is not sound")
        whole = folder / f"{stamp}-{why}.sqlite"
        part.replace(whole)
    finally:
        part.unlink(missing_ok=True)
    for old in backups(book)[KEPT:]:
        old.unlink(missing_ok=True)
    return whole
