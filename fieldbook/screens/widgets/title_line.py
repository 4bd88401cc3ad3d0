"""The top line of a screen: what is open on the left, whose entries on the right."""

from __future__ import annotations

from rich.cells import cell_len
from textual.content import Content
from textual.widgets import Static

from fieldbook.screens.widgets.text import fit


class TitleLine(Static):
    """Two texts, the left one cut when both don't fit."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="title", markup=False)
        self._left = self._right = ""

    def show(self, left: str, right: str) -> None:
        """Show these, literally."""
        self._left, self._right = left, right
        self._fill()

    def on_resize(self) -> None:
        """Fit it again."""
        self._fill()

    def _fill(self) -> None:
        room = (self.size.width or 80) - 2
        left = fit(self._left, max(room - cell_len(self._right) - 1, 1))
        self.update(Content(f"{left} {self._right}"), layout=False)
