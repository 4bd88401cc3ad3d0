"""The message by which a screen asks who is typing: two people may share a laptop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from textual.message import Message


@dataclass
class TypistWanted(Message):
    """Ask who makes the entries from now on; `changed` gets the initials that were chosen."""

    changed: Callable[[str], None]
