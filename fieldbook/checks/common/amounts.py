"""Amounts that a check can reckon with: entered, finite, and within what their column takes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache

from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact


def amount(row: Record | None, column: str) -> float | None:
    """A row's amount in our unit; None if it is not entered or can't be true.

    The book keeps to a column's limits; a job built otherwise may not, and no check may fail on it.
    """
    if row is None:
        return None
    value = getattr(row, column)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return None
    fact = _facts(type(row))[column]
    return float(value) if fact.low <= value <= fact.high else None


@cache
def _facts(record: type[Record]) -> Mapping[str, Fact]:
    """The columns of a table, looked up once: a check asks for thousands of amounts."""
    return facts_of(record)
