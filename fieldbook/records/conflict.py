"""Conflicts: entries of several laptops that differ and that nobody has settled yet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from fieldbook.records.values import Value

ConflictKind = Literal["cell", "removed", "unreadable", "evidence", "broken link"]
CELL: Final = "cell"
REMOVED: Final = "removed"
UNREADABLE: Final = "unreadable"
EVIDENCE: Final = "evidence"
BROKEN_LINK: Final = "broken link"


@dataclass(frozen=True)
class Version:
    """What one laptop entered: the value, by whom and when; `origin` is the laptop's identity."""

    value: Value
    who: str
    wall: str
    origin: str


@dataclass(frozen=True)
class Conflict:
    """One cell or row in conflict. The sheet shows the first of the versions.

    `kind` says what is in conflict. cell: its values differ. removed: one laptop removed the row
    while another changed it, so the row stays. unreadable: a newer fieldbook entered a value that
    this one can't read, so the cell is blank. evidence: somebody tried to change a sign-off, which
    stays as it was signed. broken link: the row links to another row, `gone` (table, row id), that
    was removed; the version says who removed it, and its value is that row's number or name.
    `joined` is the id of the row with which it was joined by that, if it was.
    """

    table: str
    row_id: str
    column: str
    kind: ConflictKind
    versions: tuple[Version, ...]
    gone: tuple[str, str] = ("", "")
    joined: str = ""


@dataclass(frozen=True)
class BrokenLink:
    """A row whose link leads to a row that the job doesn't have."""

    table: str
    row_id: str
    column: str
    to_table: str
    to_row: str
