"""A question to the crew about what laptops entered differently, and the answers to it."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.actions.cell_history import laptop_word, minute_of
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import PLACE_WORDS
from fieldbook.records.conflict import Version
from fieldbook.store.changes import Change

TWICE = "twice"
ADDRESS = "address"
"""The kinds of questions about a number given twice, or an address; others are of a conflict."""


@dataclass(frozen=True)
class Option:
    """One answer: its words, who entered it (a line each), and the changes that carry it out.

    `what` names the act, as undo shows it; `done` is the sentence shown once it is chosen.
    `job_id` is the property that the act is one of, if it may be another than the open one.
    """

    words: str
    by: tuple[str, ...]
    changes: tuple[Change, ...]
    what: str
    done: str
    job_id: str = ""


@dataclass(frozen=True)
class Question:
    """One thing that differs, and the cell `at` which it stands.

    `explanation` says how it came about, `notes` what can't be chosen here, a line each.
    `typed`: another value may be typed.
    """

    kind: str
    title: str
    explanation: str
    at: CellRef
    options: tuple[Option, ...] = ()
    notes: tuple[str, ...] = ()
    typed: bool = False

    @property
    def open(self) -> bool:
        """Whether it can be answered here."""
        return bool(self.options) or self.typed

    @property
    def where(self) -> str:
        """The place its cell is entered at, such as "at the street"."""
        place = self.at.place
        return f"{'in' if place == 'ground' else 'at'} the {PLACE_WORDS[place]}"


def author_line(version: Version, own: str) -> str:
    """Such as "AB, 2026-05-04 08:12, this laptop"; `own` is the origin of this laptop."""
    who = version.who or "another program"
    return f"{who}, {minute_of(version.wall)}, {laptop_word(version.origin, own)}"
