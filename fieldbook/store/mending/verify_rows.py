"""Verify the rows of a book: each is what its entries make it."""

from __future__ import annotations

import sqlite3
from collections.abc import Container, Iterator
from functools import lru_cache
from itertools import groupby
from operator import itemgetter

from fieldbook.records.column_values import column_accepts
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.journal.entry import FIELDS, SELECT_NUMBERED, Entry, from_row
from fieldbook.store.journal.merge import merge_row
from fieldbook.store.journal.row_rebuilding import table_row
from fieldbook.store.mending.verify_journal import REBUILD
from fieldbook.store.sqlite.row_statements import column_list

_BY_ROW = f"{SELECT_NUMBERED} ORDER BY row_id"
"""The journal's index gives this order: nothing is sorted, and one row is held at a time."""
_TABLE, _ROW_ID = 1 + FIELDS.index("table"), 1 + FIELDS.index("row_id")
_JOBS_KEPT = 1_000


def differing_rows(book: sqlite3.Connection, unsealed: Container[int]) -> Iterator[str]:
    """A sentence for each row that is not what its entries make it.

    Entries with a number in `unsealed` are not what was sealed: they are passed over here.
    """
    # Entries and rows are read side by side in the order of row ids. One query for each row would
    # take longer than the comparison.
    tables = {name: _StoredRows(book, name) for name in RECORDS}

    @lru_cache(_JOBS_KEPT)
    def has_job(job_id: object) -> bool:
        return book.execute("SELECT 1 FROM job WHERE id = ?", (job_id,)).fetchone() is not None

    def expected(table: str, row_id: str, entries: list[Entry]) -> tuple[object, ...] | None:
        """The row that entries make; None if there is none, or its property is not here yet."""
        values = merge_row(entries, column_accepts).values
        if values is None or not (table == "job" or has_job(values.get("job_id"))):
            return None
        return tuple(table_row(table, row_id, values).values())

    for row_id, group in groupby(book.execute(_BY_ROW), key=itemgetter(1 + _ROW_ID)):
        by_table: dict[str, list[Entry]] = {}
        for number, *row in group:
            entries = by_table.setdefault(row[_TABLE], [])
            if number not in unsealed:
                entries.append(from_row(row))
        for table, entries in by_table.items():
            if table not in RECORDS:
                continue
            yield from tables[table].without_entry(before=row_id)
            stored = tables[table].take(row_id)
            if entries and stored != expected(table, row_id, entries):
                yield _sentence(table, row_id)
    for rows in tables.values():
        yield from rows.without_entry()


class _StoredRows:
    """The rows of a table in the order of their ids, each read once."""

    def __init__(self, book: sqlite3.Connection, table: str) -> None:
        self._table = table
        # The index of the key gives this order, as it does for the journal.
        self._rows = book.execute(
            f'SELECT {column_list(RECORDS[table])} FROM "{table}" ORDER BY id'
        )
        self._next: tuple[object, ...] | None = self._rows.fetchone()

    def take(self, row_id: str) -> tuple[object, ...] | None:
        """The row with this id, if it is the next one."""
        found = self._next
        if found is None or found[0] != row_id:
            return None
        self._next = self._rows.fetchone()
        return found

    def without_entry(self, before: str | None = None) -> Iterator[str]:
        """A sentence for each row before an id, or for all that are left: no entry made them."""
        while self._next is not None and (before is None or str(self._next[0]) < before):
            yield _sentence(self._table, str(self._next[0]))
            self._next = self._rows.fetchone()


def _sentence(table: str, row_id: str) -> str:
    return f"A row of {table} ({row_id}) is not what its entries make it: {REBUILD}."
