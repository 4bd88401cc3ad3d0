"""The tables of a book's file, compared with those of the model and brought up to them.

A table, column or index that is only added to the model needs no migration step and no new FORMAT:
the next opening adds it to the file. Any other change of the model needs both.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from sqlalchemy import Column, Table
from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateIndex, CreateTable, DDLElement

from fieldbook.store.errors import BookError
from fieldbook.store.journal.triggers import trigger_name
from fieldbook.store.lifecycle.book_tables import MODEL
from fieldbook.store.lifecycle.known_layout import INDEX, PartFields, parts_of
from fieldbook.store.sqlite.book_connection import Connection

_TEXT = "VARCHAR"
_DERIVED = "board_line"
"""Made anew from the record whenever the layout changes, so how the file has it never matters."""
_ROWS_OF_ENTRIES = """
SELECT DISTINCT journal.row_id FROM journal
WHERE journal."table" = ? AND EXISTS (
  SELECT 1 FROM json_each(?) gained
  WHERE journal.op = gained.value
    OR (journal.op = 'add' AND instr(journal.value, '"' || gained.value || '"') > 0))
"""


class Part(NamedTuple):
    """A column of a table, or an index on it.

    `kind` is the declared type, such as VARCHAR, or INDEX. `required` is 1 for NOT NULL, else 0.
    """

    table: str
    name: str
    kind: str
    required: int


@dataclass(frozen=True)
class Difference:
    """What a file lacks of the model (`missing`), and what it has and the model lacks (`unknown`).

    A part that both have but describe differently is in both. `tables` are those of the file.
    """

    missing: frozenset[Part]
    unknown: frozenset[Part]
    tables: frozenset[str]


def difference(book: sqlite3.Connection, dropped: Iterable[str] = ()) -> Difference:
    """Compare the tables of a file with the model; those that will be dropped count as missing."""
    rows, model = parts_of(book), parts_of_model()
    here = {row for row in rows if row[0] not in dropped}
    # SQLite ignores a type's length, as in VARCHAR(80), and so does this comparison.
    unknown = {Part(table, name, kind.split("(")[0], n) for table, name, kind, n in here - model}
    missing = {Part(*part) for part in model - here}
    tables = frozenset(row[0] for row in here)
    return Difference(frozenset(missing - unknown), frozenset(unknown - missing), tables)


def parts_of_model() -> set[PartFields]:
    """Every column and index that a new book gets, as the fields of a Part."""
    found = set()
    # Compiling a type costs most, and four hundred columns share four classes of type.
    kinds: dict[type, str] = {}
    for table in MODEL.tables.values():
        for column in table.columns:
            of_type = column.type.__class__
            if of_type not in kinds:
                kinds[of_type] = str(column.type.compile(sqlite.dialect())).split("(")[0]
            required = 0 if column.nullable else 1
            found.add((table.name, column.name, kinds[of_type], required))
        found.update((table.name, str(index.name), INDEX, 0) for index in table.indexes)
    return found


def refuse_newer(book: sqlite3.Connection, found: Difference, path: Path) -> None:
    """Raise BookError if a newer fieldbook added columns or tables to a book of this format.

    To go on would lose no entry, as the journal keeps what this fieldbook does not know. But the
    rows would go wrong: what another laptop enters in an unknown column can't be written to it
    here, and the newer fieldbook, finding every column present, would never look in the journal for
    it. So the book is left untouched. A table without our triggers is another program's: it is
    ignored.
    """
    ours = MODEL.tables
    for part in sorted(found.unknown):
        if part.kind == INDEX or part.table == _DERIVED:
            continue
        if part.table in ours:
            newer = part.name not in ours[part.table].columns
        else:
            query = "SELECT 1 FROM sqlite_schema WHERE type = 'trigger' AND name = ?"
            watched = book.execute(query, (trigger_name(part.table, "insert"),))
            newer = watched.fetchone() is not None
        if newer:
            raise BookError(
                f"The book {path} is of a newer fieldbook (it has {part.table}.{part.name}): "
                "update fieldbook; the book was not touched."
            )


def refuse_incompatible(found: Difference, path: Path) -> None:
    """Raise BookError if a column that the file lacks, or has otherwise, can't be brought up."""
    held = {part[:2]: part for part in found.unknown}
    for part in sorted(found.missing):
        if part.kind == INDEX or part.table == _DERIVED or part.table not in found.tables:
            continue
        column = MODEL.tables[part.table].columns[part.name]
        there = held.get(part[:2])
        if there is None:
            fits = not (column.primary_key or column.unique or column.foreign_keys)
        else:
            fits = there.kind == part.kind
        # Rows that have no value yet can be given one only in a text column: "".
        if not fits or (part.required and part.kind != _TEXT):
            raise BookError(
                f"The book {path} can't be given {part.table}.{part.name} as this fieldbook has "
                "it: make a new book from its journal with fieldbook rebuild NEW."
            )


def bring_up(connection: Connection, found: Difference) -> list[tuple[str, str]]:
    """Add to the file what it lacks, inside the caller's transaction.

    Returns the rows (table, id) that have entries on a new column or table, to be rebuilt: a
    fieldbook that did not know it kept such entries of other laptops in the journal.
    """
    gained: dict[str, list[str]] = {}
    for table in MODEL.sorted_tables:
        lacking = {part for part in found.missing if part.table == table.name}
        if not lacking or table.name == _DERIVED:
            continue
        if table.name in found.tables:
            gained[table.name] = _complete(connection, table, lacking)
        else:
            make_table(connection, table)
            gained[table.name] = table.columns.keys()
    return [
        row for name, columns in gained.items() for row in _rows_with(connection, name, columns)
    ]


def make_board_table(connection: Connection) -> None:
    """Make the table of board rows anew and empty, whatever the file has."""
    connection.run(f"DROP TABLE IF EXISTS {_DERIVED}")
    make_table(connection, MODEL.tables[_DERIVED])


def make_table(connection: Connection, table: Table) -> None:
    """Make a table of the model, with its indexes."""
    connection.run(_ddl(CreateTable(table)))
    for index in sorted(table.indexes, key=lambda index: str(index.name)):
        connection.run(_ddl(CreateIndex(index)))


def _ddl(statement: DDLElement) -> str:
    """A statement that makes something, as SQLite takes it."""
    return str(statement.compile(dialect=sqlite.dialect()))


def _complete(connection: Connection, table: Table, lacking: Iterable[Part]) -> list[str]:
    """Give a table the parts it lacks; returns the names of its new columns."""
    rows = connection.run(f'PRAGMA table_info("{table.name}")')
    here = {row[1] for row in rows}
    new = [column for column in table.columns if column.name not in here]
    if any(part.kind != INDEX and part.name in here for part in lacking):
        _remake(connection, table, here)
    else:
        for column in new:
            _add(connection, column)
        for index in table.indexes:
            connection.run(_ddl(CreateIndex(index, if_not_exists=True)))
    return [column.name for column in new]


def _add(connection: Connection, column: Column[Any]) -> None:
    kind = column.type.compile(sqlite.dialect())
    blank = "" if column.nullable else " NOT NULL DEFAULT ''"
    connection.run(f'ALTER TABLE "{column.table.name}" ADD COLUMN "{column.name}" {kind}{blank}')


def _remake(connection: Connection, table: Table, here: set[str]) -> None:
    """Make a table anew around its rows, because SQLite can't change NOT NULL of a column."""
    # Rows of other tables refer to this one: SQLite is to check that on commit, not before.
    connection.run("PRAGMA defer_foreign_keys=ON")
    connection.run(f'CREATE TEMP TABLE remade AS SELECT * FROM "{table.name}"')
    connection.run(f'DROP TABLE "{table.name}"')
    make_table(connection, table)
    values = []
    for column in table.columns:
        held = f'remade."{column.name}"' if column.name in here else "NULL"
        values.append(held if column.nullable else f"coalesce({held}, '')")
    listed = ", ".join(f'"{column.name}"' for column in table.columns)
    connection.run(f'INSERT INTO "{table.name}" ({listed}) SELECT {", ".join(values)} FROM remade')
    connection.run("DROP TABLE remade")


def _rows_with(connection: Connection, table: str, columns: Sequence[str]) -> list[tuple[str, str]]:
    """The rows (table, id) of a table that have an entry on one of these columns.

    A row is found too if a text that was added with it holds the column's name in quotes. It is
    then rebuilt for nothing, as it was.
    """
    rows = connection.run(_ROWS_OF_ENTRIES, (table, json.dumps(columns)))
    return [(table, row[0]) for row in rows.all()]
