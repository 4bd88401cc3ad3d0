"""What the threads that open a book, or make it anew, post to the app when they are done."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from fieldbook.screens.open_book import OpenBook


@dataclass
class BookOpened(Message):
    """The book is open and its board is read."""

    opened: OpenBook


@dataclass
class BookFailed(Message):
    """The book can't be opened; one sentence says why. `lost`: it can be made anew."""

    sentence: str
    lost: bool = False


@dataclass
class BookRebuilt(Message):
    """The book was made anew; one sentence says from what."""

    sentence: str


def as_sentence(why: Exception) -> str:
    """An error as a person reads it: our own errors are sentences, others are wrapped in one."""
    known = type(why).__module__.startswith("fieldbook.")
    return str(why) if known else f"The book could not be opened ({why})."
