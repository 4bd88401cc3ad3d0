"""Verify the rows of a book: each is what its entries make it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Container, Iterator
from itertools import groupby

from fieldbook.records.column_values import column_accepts
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.journal.entry import FIELDS, SELECT_NUMBERED, Entry, from_row
from fieldbook.store.journal.merge import merge_row
from fieldbook.store.journal.receive import table_row
from fieldbook.store.mending.verify_journal import REBUILD
from fieldbook.store.sqlite.row_statements import column_list

_BY_ROW = f"{SELECT_NUMBERED} ORDER BY row_id"
"""The journal's index gives this order: nothing is sorted, and one row is held at a time."""
_ROW_ID = 2 + FIELDS.index("row_id")
_WITHOUT_ENTRY = """
SELECT id FROM "{table}" WHERE NOT EXISTS (
    SELECT 1 FROM journal WHERE row_id = "{table}".id AND "table" = '{table}')
"""


def differing_rows(book: sqlite3.Connection, unsealed: Container[int]) -> Iterator[str]:
    """A sentence for each row that is not what its entries make it.

    Entries with a number in `unsealed` are not what was sealed: they are passed over here.
    """
    jobs = {row[0] for row in book.execute("SELECT id FROM job")}
    finds = {name: _find(book, name) for name in RECORDS}
    rows = book.execute(_BY_ROW)
    for row_id, group in groupby(rows, key=lambda row: row[_ROW_ID]):
        entries = [from_row(row[1:]) for row in group if row[0] not in unsealed]
        for table in dict.fromkeys(entry.table for entry in entries):
            if table not in RECORDS:
                continue
            of_table = [entry for entry in entries if entry.table == table]
            if finds[table](row_id) != _expected(table, row_id, of_table, jobs):
                yield _sentence(table, row_id)
    for table in RECORDS:
        for (row_id,) in book.execute(_WITHOUT_ENTRY.format(table=table)):
            yield _sentence(table, row_id)


def _expected(
    table: str, row_id: str, entries: list[Entry], jobs: set[str]
) -> dict[str, object] | None:
    """The row that entries make; None where there is none, or its property is not here yet."""
    values = merge_row(entries, column_accepts).values
    if values is None or not (table == "job" or values.get("job_id") in jobs):
        return None
    return table_row(table, row_id, values)


def _find(book: sqlite3.Connection, table: str) -> Callable[[str], dict[str, object] | None]:
    """A function that reads one row of a table by its id."""
    query = f'SELECT {column_list(RECORDS[table])} FROM "{table}" WHERE id = ?'

    def find(row_id: str) -> dict[str, object] | None:
        cursor = book.execute(query, (row_id,))
        row = cursor.fetchone()
        if row is None:
            return None
        return dict(zip((column[0] for column in cursor.description), row, strict=True))

    return find


def _sentence(table: str, row_id: str) -> str:
    return f"A row of {table} ({row_id}) is not what its entries make it: {REBUILD}."
