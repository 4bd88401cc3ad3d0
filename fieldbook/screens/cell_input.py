"""The field that opens over a cell while it is typed into."""

from __future__ import annotations

from dataclasses import dataclass

from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.widgets import Input

from fieldbook.screens.places.sheet import Cell

_LEAST = 14
_LEAVE = {"enter": "on", "up": "up", "down": "down", "tab": "on"}


class CellInput(Input):
    """One line over a cell. It says what was typed; others decide whether it is kept."""

    @dataclass
    class Typed(Message):
        """The text to keep, and where to go then: "on", "up" or "down"."""

        cell: Cell
        text: str
        then: str

    @dataclass
    class Left(Message):
        """Given up: the old value stays."""

        cell: Cell

    def __init__(self) -> None:
        """Hidden until `open`."""
        super().__init__(compact=True, id="cell-input", select_on_focus=False)
        self.display = False
        self.cursor_blink = False
        self._cell: Cell | None = None

    def open(self, cell: Cell, text: str, place: Region, room: int) -> None:
        """Lie over `place`, holding `text`; `room` is how wide the sheet is."""
        self._cell = cell
        self.value = text
        self.cursor_position = len(text)
        width = min(max(place.width, _LEAST), room)
        self.styles.width = width
        self.styles.offset = (max(0, min(place.x, room - width)), place.y)
        self.display = True
        self.focus()

    def shut(self) -> None:
        """Go away."""
        self.display = False
        self._cell = None

    async def _on_key(self, event: events.Key) -> None:
        cell = self._cell
        if cell is not None and (event.key in _LEAVE or event.key == "escape"):
            event.stop()
            event.prevent_default()
            if event.key == "escape":
                self.post_message(self.Left(cell))
            else:
                self.post_message(self.Typed(cell, self.value, _LEAVE[event.key]))
            return
        await super()._on_key(event)
