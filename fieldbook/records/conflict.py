"""What two laptops said differently of one thing, and nobody has settled yet."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.records.values import Value

CELL, REMOVED, UNREADABLE, EVIDENCE, LOST = "cell", "removed", "unreadable", "evidence", "lost"


@dataclass(frozen=True)
class Version:
    """What one laptop entered: the value (of a cell), by whom, when; `origin` is the laptop's."""

    value: Value
    who: str
    wall: str
    origin: str


@dataclass(frozen=True)
class Conflict:
    """One cell or row in conflict; of the versions the first is the one that is shown.

    `kind` cell: values that differ. removed: the row was removed on one laptop while another
    changed it, and stays. unreadable: a newer fieldbook entered what this one can't read; the cell
    is blank. evidence: somebody tried to change a signature, which stays as it was signed. lost:
    the row names another, `gone` (table, row), that was removed meanwhile, as the version tells,
    whose value is the number or name of what is gone.
    """

    table: str
    row_id: str
    column: str
    kind: str
    versions: tuple[Version, ...]
    gone: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class BrokenLink:
    """A row whose link leads to a row that the job doesn't have."""

    table: str
    row_id: str
    column: str
    to_table: str
    to_row: str
