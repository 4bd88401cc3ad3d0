"""Numbers given twice: each of two laptops may add a zone 3, and terminal 3 be used twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.records.loaded_job import LoadedJob

NUMBERED: Mapping[str, str] = {"zone": "number", "valve_box": "name", "cable": "name"}
"""Tables whose rows a crew knows by a number or letter, and the column that holds it."""


@dataclass(frozen=True)
class Double:
    """Rows of a table that hold the same number or name, the first entered first."""

    table: str
    column: str
    value: int | str
    row_ids: tuple[str, ...]


def doubles(job: LoadedJob) -> list[Double]:
    """Numbers and names that more than one row has."""
    found: list[Double] = []
    tables = job.tables()
    for table, column in NUMBERED.items():
        by_value: dict[int | str, list[str]] = {}
        for row in sorted(tables[table], key=lambda one: one.id):
            value = getattr(row, column)
            if value not in (None, ""):
                by_value.setdefault(value, []).append(row.id)
        found += [
            Double(table, column, value, tuple(ids))
            for value, ids in by_value.items()
            if len(ids) > 1
        ]
    return found
