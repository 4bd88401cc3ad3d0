"""Tell whether a file is a book, and has the tables of the model, without importing SQLModel.

A book whose tables are known needs no comparison with the model (`book_tables.py`). The tables of
the record follow from its classes. `own_tables.json` beside this file lists the columns of the
others: `python tests/support/pin_tables.py` renews it, and a test holds it to the model.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from fieldbook.records.base import columns_of
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import FORMAT

APPLICATION_ID = 0x66626B31
"""Marks a SQLite file as a book: "fbk1" in ASCII."""
OWN_TABLES = Path(__file__).with_name("own_tables.json")
INDEX = "INDEX"
PartFields = tuple[str, str, str, int]
"""A column or index: its table, its name, its declared type or INDEX, and 1 for NOT NULL."""
_KINDS: dict[type, str] = {str: "VARCHAR", int: "INTEGER", float: "FLOAT", bool: "BOOLEAN"}
_MAGIC = b"SQLite format 3\x00"
# SQLite file format, section 1.3: the user version at byte 60, the application id at byte 68.
_FORMAT, _OWNER = slice(60, 64), slice(68, 72)
# Tables of SQLite itself, and those behind the full-text table, are none of the model's.
_PARTS = f"""
SELECT m.name, p.name, p.type, p."notnull"
FROM sqlite_schema m JOIN pragma_table_info(m.name) p
WHERE m.type = 'table' AND m.name NOT GLOB 'sqlite_*' AND m.name NOT GLOB 'words*'
UNION ALL
SELECT tbl_name, name, '{INDEX}', 0 FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL
"""


def parts_of(book: sqlite3.Connection) -> list[PartFields]:
    """Every column and index of a file."""
    return book.execute(_PARTS).fetchall()


def record_parts() -> Iterator[PartFields]:
    """Every column and index that the tables of the record have in a new book."""
    for table, record in RECORDS.items():
        for name, column in columns_of(record).items():
            yield table, name, _KINDS[column.kind], 0 if column.optional else 1
            if name == "job_id":
                yield table, f"ix_{table}_job_id", INDEX, 0


def own_parts() -> set[PartFields]:
    """Every column and index that the other tables have in a new book."""
    return {tuple(part) for part in json.loads(OWN_TABLES.read_text("utf-8"))}


def has_known_layout(book: sqlite3.Connection) -> bool:
    """Whether a book has today's format, and exactly the columns of the model."""
    if book.execute("PRAGMA user_version").fetchone()[0] != FORMAT:
        return False
    here, model = set(parts_of(book)), own_parts().union(record_parts())
    # Another index than those of the model harms nothing.
    return model <= here and all(part[2] == INDEX for part in here - model)


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
    found = format_of(header)
    # The power may have died while the book was made; SQLite then empties it on opening.
    blank = not any(header[_OWNER])
    unfinished = blank and path.with_name(f"{path.name}-journal").exists()
    if not is_ours(header) and not unfinished:
        raise BookError(f"{path} belongs to another program: name another book with --book.")
    if found > FORMAT:
        raise BookError(
            f"The book {path} has format {found} and this fieldbook reads up to {FORMAT}: "
            "update fieldbook; the book was not touched."
        )


def format_of(header: bytes) -> int:
    """The format of the book whose first 100 bytes these are."""
    return int.from_bytes(header[_FORMAT], "big")


def is_ours(header: bytes) -> bool:
    """Whether a file that begins with these 100 bytes is a book."""
    return int.from_bytes(header[_OWNER], "big") == APPLICATION_ID
