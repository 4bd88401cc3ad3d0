"""What is seen or measured at each thing, so that no copy may enter it: colours, ohms, serials.

A copied observation would be shown as if somebody had looked, and the checks would believe it.
"""

from __future__ import annotations

from fieldbook.actions.cells import fact_at
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.fact import Fact
from fieldbook.records.known_by import NUMBERED
from fieldbook.units import RESISTANCE

_NUMBERS_OF_ONE = ("number", "meter_number", "serial", "tester_no", "licence", "ran")
"""Columns that belong to one thing or person alone, and the zone that ran as it was energised."""
_NEVER = ("colour", "colours", "hidden", "when")
"""Kinds of values that are seen at each wire, or that the program writes."""


def is_observed(column: str, fact: Fact) -> bool:
    """Whether a value of this column is seen, read or stamped on each thing by itself."""
    return fact.kind in _NEVER or fact.measure is RESISTANCE or column in _NUMBERS_OF_ONE


def refuse_repeating(at: CellRef, fact: Fact | None = None) -> None:
    """Raise RefusedError where the value of a cell must not be repeated in another row."""
    fact = fact or fact_at(at)
    if NUMBERED.get(at.table) == at.column:
        raise RefusedError(f"{fact.label} names this row alone: type another in each row.")
    if is_observed(at.column, fact):
        raise RefusedError(
            f"{fact.label} is seen or read at each one: look again and enter it in each row."
        )
