"""Whether a column can hold a value, and the amounts in a row that can be calculated with."""

from __future__ import annotations

import math

from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import LONGEST_HIDDEN, LONGEST_TEXT, Fact
from fieldbook.records.loaded_job import RECORDS
from fieldbook.records.printable import printable
from fieldbook.records.values import ValueRefusedError, from_file


def column_accepts(table: str, column: str, value: object) -> bool:
    """Whether a value from elsewhere, such as another laptop, fits the column unchanged.

    A table or column that is not known here, because a newer fieldbook made it, accepts anything.
    """
    record = RECORDS.get(table)
    if value is None or record is None:
        return True
    if column == "id":
        return False
    fact = facts_of(record).get(column)
    if fact is None:
        return True
    long_text = fact.kind == "text" and len(str(value)) > LONGEST_TEXT
    if fact.kind in ("hidden", "link", "when") or long_text:
        if isinstance(value, str):
            return len(value) <= LONGEST_HIDDEN and printable(value) == value
        return type(value) is int and value in (0, 1)
    return _fits(fact, value)


def amount(row: Record | None, column: str) -> float | None:
    """A row's amount in our unit; None if it is not entered, not finite or beyond its limits.

    The book keeps to a column's limits, but a job built elsewhere may not, and no check may fail
    on it.
    """
    if row is None:
        return None
    value = getattr(row, column)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return None
    fact = facts_of(type(row))[column]
    return float(value) if fact.low <= value <= fact.high else None


def _fits(fact: Fact, value: object) -> bool:
    """Whether the column would keep the value as it is; SQLite keeps a tick as 0 or 1."""
    if fact.kind == "tick":
        return type(value) in (int, bool) and value in (0, 1)
    if value == "":
        return fact.kind not in ("amount", "whole")
    try:
        return bool(from_file(fact, value) == value)
    except ValueRefusedError:
        return False
