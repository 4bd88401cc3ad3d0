"""What screens and workers tell the app. Light: no record, no store."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from fieldbook.screens.session import OpenBook


@dataclass
class BookOpened(Message):
    """The book is open and its board is read."""

    opened: OpenBook


@dataclass
class BookFailed(Message):
    """The book can't be opened; one sentence says why."""

    sentence: str


class ThemeWanted(Message):
    """Change between the colours for the cab and those for the sun."""


class DemoWanted(Message):
    """Open a scratch copy of the demo properties instead of the book."""


@dataclass
class InitialsGiven(Message):
    """Initials were typed on first run."""

    typed: str
