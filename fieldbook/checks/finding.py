"""What a check found: a flag, with the cell that mends it, its numbers and its source."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from fieldbook.records.base import Place
from fieldbook.records.loaded_job import record_of
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE

Severity = Literal["stop", "fix", "note"]

SEVERITIES: tuple[Severity, ...] = ("stop", "fix", "note")


@dataclass(frozen=True)
class CellRef:
    """The cell that mends a flag: table, row id and column. The row need not exist yet."""

    table: str
    row_id: str
    column: str

    @property
    def place(self) -> Place:
        """The place where the cell is entered; the desk for a table that is not known here."""
        record = record_of(self.table)
        return record.sheet if record is not None else "desk"


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
    `sentence` says what is wrong and where, `mend` how to put it right, `at` names the cell that
    mends it and with it the place, `source` tells where the figures come from.
    """

    code: str
    severity: Severity
    place: Place = field(init=False)
    sentence: str
    mend: str
    source: str = field(default=COMMON_PRACTICE, kw_only=True)
    at: CellRef
    numbers: tuple[Number, ...] = field(default=(), kw_only=True)

    def __post_init__(self) -> None:
        """Take the place from the cell."""
        object.__setattr__(self, "place", self.at.place)
