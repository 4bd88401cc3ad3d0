"""What has to be settled, as a crew is asked it: a question and what may be answered."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Place
from fieldbook.store.changes import Change

TWICE = "twice"
"""The kind of a question about a number given twice; the others are those of a conflict."""
PLACE_WORDS: dict[Place, str] = {
    "street": "at the street",
    "boxes": "at the valve boxes",
    "ground": "in the ground",
    "controller": "at the controller",
    "desk": "at the desk",
}


@dataclass(frozen=True)
class Option:
    """One answer: its words, who said so (a line each), and what choosing it changes.

    `what` names the act, as undo says it; `done` is the sentence said once it is chosen.
    """

    words: str
    by: tuple[str, ...]
    changes: tuple[Change, ...]
    what: str
    done: str


@dataclass(frozen=True)
class Question:
    """One thing that differs. `told` says how it came, `notes` what can't be chosen here.

    `typed`: another value may be typed. `at` is the cell it is about.
    """

    kind: str
    title: str
    told: str
    at: CellRef
    place: Place
    options: tuple[Option, ...] = ()
    notes: tuple[str, ...] = ()
    typed: bool = False

    @property
    def open(self) -> bool:
        """Whether anything can be answered."""
        return bool(self.options) or self.typed

    @property
    def where(self) -> str:
        """The place it is entered at, in words."""
        return PLACE_WORDS[self.place]
