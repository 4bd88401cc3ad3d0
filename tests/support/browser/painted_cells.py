"""The words on a terminal, from the bytes that Textual sends to it.

Textual puts the cursor on a cell, then writes: colours and modes are left out, the rest is text.
"""

from __future__ import annotations

import re

from rich.cells import cell_len

_PARTS = re.compile(r"\x1b\[(\d+);(\d+)H|\x1b\[[0-?]*[ -/]*[@-~]|\x1b[^\[]|([\r\n])|([^\x1b\r\n])")


class PaintedCells:
    """A terminal that only knows which character stands in which cell."""

    def __init__(self) -> None:
        """An empty terminal."""
        self._cells: dict[tuple[int, int], str] = {}
        self._x = self._y = 0

    def feed(self, painted: bytes) -> None:
        """Take what the app wrote."""
        for found in _PARTS.finditer(painted.decode("utf-8")):
            row, column, line_end, character = found.groups()
            if row is not None:
                self._x, self._y = int(column) - 1, int(row) - 1
            elif line_end is not None:
                self._x, self._y = 0, self._y + (line_end == "\n")
            elif character is not None:
                self._cells[self._x, self._y] = character
                self._x += cell_len(character)

    def lines(self, width: int, height: int) -> list[str]:
        """The lines of a screen of this size, a character a cell."""
        cells = self._cells
        return ["".join(cells.get((x, y), " ") for x in range(width)) for y in range(height)]
