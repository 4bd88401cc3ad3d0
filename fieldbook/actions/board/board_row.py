"""One property's row on the board, and the first page of rows before the book is open.

Light to import: neither the record nor the checks, so that rows come with the first frame.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from fieldbook.checks.severity import tally
from fieldbook.store.board.stored_row import StoredRow, first_rows

if TYPE_CHECKING:
    from fieldbook.records.base import Place

_FIRST_PAGE = 60
"""As many rows as a tall terminal shows."""


PlaceState = Literal["nothing", "begun", "done"]
STATES: tuple[PlaceState, ...] = ("nothing", "begun", "done")
"""How far a place is, in the order of the digits that are stored."""


@dataclass(frozen=True)
class RunsOut:
    """What runs out first on a property, and its last day; the words depend on today."""

    what: str
    on: date

    @classmethod
    def from_stored(cls, stored: str) -> RunsOut | None:
        """From a day in ISO 8601, a space and what it is; None for nothing."""
        day, _, what = stored.partition(" ")
        return cls(what, date.fromisoformat(day)) if day else None

    @property
    def stored(self) -> str:
        """As `from_stored` reads it."""
        return f"{self.on.isoformat()} {self.what}"

    def days(self, today: date) -> int:
        """How many days are left; below 0 it has run out."""
        return (self.on - today).days

    def when(self, today: date) -> str:
        """Its day in short: "3 days", "today", "ran out"; far ahead the day itself."""
        days = self.days(today)
        if days < 0:
            return "overdue" if self.is_test else "ran out"
        return {0: "today", 1: "1 day"}.get(days, f"{days} days")

    def sentence(self, today: date) -> str:
        """Such as "Ticket runs out in 3 days, 2026-05-04"."""
        days, verb = self.days(today), ("runs out", "ran out")
        if self.is_test:
            verb = ("is due", "was due")
        named = {-1: "yesterday", 0: "today", 1: "tomorrow"}
        when = named.get(days, f"in {days} days" if days > 0 else f"{-days} days ago")
        what = self.what[:1].upper() + self.what[1:]
        return f"{what} {verb[days < 0]} {when}, {self.on.isoformat()}"

    @property
    def is_test(self) -> bool:
        """Whether it is a test that falls due, rather than something that ends."""
        return self.what.endswith("test")


@dataclass(frozen=True)
class BoardRow:
    """A property as the board shows it; `place` is where its next step is.

    `known` is false while the row is stale: then only address, customer, phone and access count.
    `places` has the state of each place in their order. Of a property that is not on this laptop
    `elsewhere` says what the row was made from, and `changed` is the day of its last change. The
    names of the other fields are keys of the stored JSON.
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
    places: tuple[PlaceState, ...] = ()
    runs_out: RunsOut | None = None
    known: bool = True
    elsewhere: str = ""
    changed: str = ""

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
    return BoardRow(
        **held,
        places=tuple(STATES[int(digit)] for digit in stored.places or ""),
        runs_out=RunsOut.from_stored(stored.runs_out or ""),
        # A line that was made from a few entries, without the checks, says nothing of places.
        known=stored.valid_until >= today.isoformat()
        and not (held.get("elsewhere") and not stored.places),
    )


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
