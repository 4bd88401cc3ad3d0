"""The record by table: headers with units, and a row of values a row of the record."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.values import Value


class TableRows(NamedTuple):
    """One table: its name, its columns, its rows."""

    name: str
    headers: Sequence[str]
    rows: Sequence[Sequence[Value]]


def tables_of(job: LoadedJob) -> Iterator[TableRows]:
    """Every table that has a row, with the columns of the record in our units (their names say)."""
    for name, rows in job.tables().items():
        if rows:
            columns = ["id", *facts_of(TABLES[name])]
            values = [[getattr(row, column) for column in columns] for row in rows]
            yield TableRows(name, columns, values)
