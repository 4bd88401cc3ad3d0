"""Pin the tables of the current format, for tests/book/test_pinned_tables.py to hold the model to.

Run it after adding a table, a column or an index: python tests/support/pin_tables.py
"""

from __future__ import annotations

from pathlib import Path

from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateIndex, CreateTable, DDLElement
from sqlmodel import SQLModel

import fieldbook.store.book  # noqa: F401 - imports every module that declares a table
from fieldbook.store.journal.entry import FORMAT

PINS = Path(__file__).parents[1] / "book"


def pin(book_format: int = FORMAT) -> Path:
    """The file that pins a format."""
    return PINS / f"format_{book_format}_tables.sql"


def tables() -> str:
    """The statements that make the tables of a new book, in the order of their names."""
    made = []
    for _, table in sorted(SQLModel.metadata.tables.items()):
        indexes = sorted(table.indexes, key=lambda index: str(index.name))
        statements: list[DDLElement] = [CreateTable(table), *map(CreateIndex, indexes)]
        for statement in statements:
            made.append(str(statement.compile(dialect=sqlite.dialect())).strip())
    lines = (line.rstrip() for statement in made for line in f"{statement};".split("\n"))
    return "\n".join(lines).expandtabs(2) + "\n"


if __name__ == "__main__":
    pin().write_text(tables(), "utf-8")
    print(f"Pinned {pin()}.")
