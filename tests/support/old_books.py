"""Books that earlier code wrote, kept as SQL in tests/book/old_books, made into files again."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "book" / "old_books"
OLD_BOOKS = sorted(FOLDER.glob("format_*.sql"))
FORMAT_6 = FOLDER / "format_6.sql"
"""The last format that kept its changes in a log of its own."""
FORMAT_7 = FOLDER / "format_7.sql"
"""The first format with a journal that several laptops share."""


def rebuilt(dump: Path, book_file: Path) -> dict[str, int]:
    """Make the old book from its dump; return how many rows each table has."""
    book_file.parent.mkdir(parents=True)
    with closing(sqlite3.connect(book_file)) as raw:
        raw.executescript(dump.read_text("utf-8"))
        names = raw.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
        return {
            name: raw.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for (name,) in names
        }
