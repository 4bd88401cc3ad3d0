"""One property's row on the board, and the first page of rows before the book is open.

Light to import: neither the record nor the checks, so that rows come with the first frame.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from fieldbook.checks.severity import tally
from fieldbook.store.board.stored_row import StoredRow, first_rows

if TYPE_CHECKING:
    from fieldbook.records.base import Place

_FIRST_PAGE = 60
"""As many rows as a tall terminal shows."""


@dataclass(frozen=True)
class BoardRow:
    """A property as the board shows it; `place` is where its next step is.

    `known` is false while the row is stale: then only address, customer, phone and access count.
    The names of the other fields are keys of the stored JSON.
    """

    job_id: str
    address: str
    customer: str
    phone: str
    access: str
    zones: int = 0
    flushed: int = 0
    next: str = ""
    place: Place = "street"
    stops: int = 0
    fixes: int = 0
    notes: int = 0
    open: int = 0
    known: bool = True

    @property
    def flags(self) -> str:
        """The counted flags, worst first, such as "1 stop, 2 fixes"; "-" for none."""
        return tally({"stop": self.stops, "fix": self.fixes, "note": self.notes}) or "-"

    @property
    def unchecked(self) -> str:
        """How many checks are open, such as "3 open"; "-" for none."""
        return f"{self.open} open" if self.open else "-"


def from_stored(stored: StoredRow, today: date) -> BoardRow:
    """A stored row; `known` only if its last valid day is not over."""
    held = json.loads(stored.content)
    # Rows of an older fieldbook hold a column that is no longer shown.
    held.pop("wired", None)
    return BoardRow(**held, known=stored.valid_until >= today.isoformat())


class FirstPage:
    """The first rows of a book that is not open yet, as it stored them."""

    def __init__(self, path: Path) -> None:
        """Read them by plain sqlite3; empty where that can't be done at once."""
        today = date.today()
        self._rows = [from_stored(row, today) for row in first_rows(path, _FIRST_PAGE)]

    def __len__(self) -> int:
        """How many rows were read."""
        return len(self._rows)

    def window(self, first: int, most: int) -> Sequence[BoardRow]:
        """At most `most` rows from the index `first`, which counts from 0."""
        return self._rows[first : first + most]

    def index_of(self, job_id: str) -> int | None:
        """The index of a property; None when it is not among them."""
        return next((at for at, row in enumerate(self._rows) if row.job_id == job_id), None)
