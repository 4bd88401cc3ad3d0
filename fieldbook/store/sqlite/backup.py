"""One whole copy of a book, made by SQLite's backup API and checked before it counts."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from fieldbook.store.disk import new_private, replace


def backup_folder(book: Path) -> Path:
    """The folder of a book's backups."""
    return book.with_name(f"{book.name}.backups")


def backup_files(book: Path) -> list[Path]:
    """Every whole copy of a book."""
    return sorted(backup_folder(book).glob("*.sqlite"))


def back_up(source: sqlite3.Connection, book: Path, why: str) -> Path:
    """Copy an open book, and rename the copy to its name only when SQLite finds it sound.

    `why` becomes part of the name: "closed", "before-format-5". Raises OSError or sqlite3.Error.
    """
    folder = backup_folder(book)
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    # What an earlier program left when it was killed: only the writer of the book makes copies.
    for left in folder.glob("*.part*"):
        with suppress(OSError):
            left.unlink()
    stamp = datetime.now().strftime("%Y%m%d-%H%M%S-%f")
    part = folder / f"{stamp}.part"
    try:
        # SQLite would create the file readable for others.
        new_private(part).close()
        copy = sqlite3.connect(part)
        try:
            source.backup(copy)
            sound = copy.execute("PRAGMA quick_check").fetchone()[0] == "ok"
        finally:
            copy.close()
        if not sound:
            raise sqlite3.DatabaseError("the copy is not sound")
        whole = folder / f"{stamp}-{why}.sqlite"
        replace(part, whole)
    finally:
        part.unlink(missing_ok=True)
    return whole
