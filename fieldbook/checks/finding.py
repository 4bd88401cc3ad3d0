"""What checks find: a flag, with the cell that mends it, its numbers and its source."""

from __future__ import annotations

from dataclasses import dataclass, field

from fieldbook.checks.severity import Severity
from fieldbook.records.base import Place, facts_of
from fieldbook.records.loaded_job import RECORDS
from fieldbook.records.tables.sign_offs import SIGN_OFF_PLACES
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE


@dataclass(frozen=True)
class CellRef:
    """A cell of the record: table, row id and column. The row need not exist yet."""

    table: str
    row_id: str
    column: str

    @property
    def place(self) -> Place:
        """The place where the cell is entered; the desk for a table that is not known here.

        The cell of a sign-off has its kind for a row id.
        """
        if self.table == "sign_off":
            return SIGN_OFF_PLACES.get(self.row_id, "desk")
        record = RECORDS.get(self.table)
        return record.sheet if record is not None else "desk"

    @property
    def source(self) -> str:
        """The source that the cell's column names, else common practice."""
        record = RECORDS.get(self.table)
        fact = facts_of(record).get(self.column) if record is not None else None
        return (fact.source if fact is not None else "") or COMMON_PRACTICE


@dataclass(frozen=True)
class Missing:
    """Something that is not entered or not proven, in words, and the cell where it is entered."""

    words: str
    at: CellRef


@dataclass(frozen=True)
class Number:
    """One figure that a flag rests on, in our unit."""

    name: str
    value: float
    unit: str


@dataclass(frozen=True)
class Finding:
    """A flag. `code` is a stable short name of the check, such as "flow over supply".

    `severity` is stop: do not bury, do not energise; fix: mend it; or note: worth knowing.
    `sentence` says what is wrong and where, `mend` how to put it right. `at` is the cell that mends
    it and so gives the place. `source` says where the figures come from.
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
