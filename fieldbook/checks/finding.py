"""What a check found: a flag, with its place, its numbers, its source and what mends it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Severity = Literal["stop", "fix", "note"]
Place = Literal["street", "boxes", "ground", "controller", "desk"]

SEVERITIES: tuple[Severity, ...] = ("stop", "fix", "note")
PLACES: tuple[Place, ...] = ("street", "boxes", "ground", "controller", "desk")
COMMON_PRACTICE = "Common practice, no source."


@dataclass(frozen=True)
class CellRef:
    """The cell that mends a flag: table, row id and column. The row need not exist yet."""

    table: str
    row_id: str
    column: str


@dataclass(frozen=True)
class Number:
    """One figure a flag rests on, in our unit."""

    name: str
    value: float
    unit: str


@dataclass(frozen=True)
class Finding:
    """A flag. `code` is a stable short name of the check, such as "flow over supply".

    severity stop: do not bury, do not energise; fix: mend it; note: worth knowing.
    """

    code: str
    severity: Severity
    place: Place
    sentence: str
    mend: str
    source: str
    at: CellRef
    numbers: tuple[Number, ...] = ()
