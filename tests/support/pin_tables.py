"""Pin the tables of the current format, for tests/book/test_pinned_tables.py to hold the model to.

Run it after adding a table, a column or an index: python tests/support/pin_tables.py
"""

from __future__ import annotations

import json
from pathlib import Path

from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateIndex, CreateTable, DDLElement

from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.lifecycle.book_tables import MODEL
from fieldbook.store.lifecycle.known_layout import OWN_TABLES, record_parts
from fieldbook.store.lifecycle.layout import parts_of_model

PINS = Path(__file__).parents[1] / "book"


def pin(book_format: int = FORMAT) -> Path:
    """The file that pins a format."""
    return PINS / f"format_{book_format}_tables.sql"


def tables() -> str:
    """The statements that make the tables of a new book, in the order of their names."""
    made = []
    for _, table in sorted(MODEL.tables.items()):
        indexes = sorted(table.indexes, key=lambda index: str(index.name))
        statements: list[DDLElement] = [CreateTable(table), *map(CreateIndex, indexes)]
        for statement in statements:
            made.append(str(statement.compile(dialect=sqlite.dialect())).strip())
    lines = (line.rstrip() for statement in made for line in f"{statement};".split("\n"))
    return "\n".join(lines).expandtabs(2) + "\n"


if __name__ == "__main__":
    pin().write_text(tables(), "utf-8")
    lines = map(json.dumps, sorted(parts_of_model().difference(record_parts())))
    OWN_TABLES.write_text("[\n" + ",\n".join(lines) + "\n]\n", "utf-8")
    print(f"Pinned {pin()}.")
