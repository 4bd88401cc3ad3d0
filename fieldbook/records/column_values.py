"""Whether a column can hold a value that came from elsewhere, such as from another laptop."""

from __future__ import annotations

from functools import cache

from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import record_of
from fieldbook.records.values import ValueRefusedError, from_file, printable

LONGEST_HIDDEN = 40_000
"""What a column that a program fills may hold: the digests of a signature are long."""


@cache
def _facts(table: str) -> dict[str, Fact] | None:
    record = record_of(table)
    return None if record is None else dict(facts_of(record))


def readable(table: str, column: str, value: object) -> bool:
    """Whether the column takes this value as it is; a column not known here may hold anything."""
    facts = _facts(table)
    if value is None or facts is None:
        return True
    if column == "id":
        return False
    fact = facts.get(column)
    if fact is None:
        return True
    if fact.kind in ("hidden", "link", "when") or (fact.kind == "text" and len(str(value)) > 400):
        if isinstance(value, str):
            return len(value) <= LONGEST_HIDDEN and printable(value) == value
        return type(value) is int and value in (0, 1)
    return _fits(fact, value)


def _fits(fact: Fact, value: object) -> bool:
    """Whether it would be kept just so; a tick is 0 or 1 in the book."""
    if fact.kind == "tick":
        return type(value) in (int, bool) and value in (0, 1)
    if value == "":
        return fact.kind not in ("amount", "whole")
    try:
        return bool(from_file(fact, value) == value)
    except ValueRefusedError:
        return False
