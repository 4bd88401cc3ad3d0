"""Lines drawn in braille: a character cell holds dots in 2 columns and 4 rows (Unicode, U+2800)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

Point = tuple[float, float]
"""Columns and rows of cells from the left top corner."""
WIDE, HIGH = 2, 4
"""Dots of a cell across and down."""
_BRAILLE = 0x2800
_BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""The bit of each dot by row and column: the first six dots came before the lowest row did."""
_DASH = 6
"""Dots of a dash with the gap after it; half of them are drawn."""


class Dots:
    """A grid of dots; a cell without any is not in it."""

    def __init__(self) -> None:
        """No dot is set."""
        self._cells: dict[tuple[int, int], int] = {}

    def set(self, x: int, y: int) -> None:
        """Set a dot, counted in dots from the left top; one outside the grid is left out."""
        if x >= 0 and y >= 0:
            at = (x // WIDE, y // HIGH)
            self._cells[at] = self._cells.get(at, 0) | _BITS[y % HIGH][x % WIDE]

    def draw(self, points: Sequence[Point], *, dashed: bool = False) -> None:
        """Set the dots along a line through points, given in cells."""
        for number, (x, y) in enumerate(_along(points)):
            if not dashed or number % _DASH < _DASH // 2:
                self.set(x, y)

    def characters(self) -> Iterator[tuple[int, int, str]]:
        """Column, row and character of every cell that has a dot."""
        for (column, row), bits in self._cells.items():
            yield column, row, chr(_BRAILLE + bits)


def _along(points: Sequence[Point]) -> Iterator[tuple[int, int]]:
    """Every dot on the way through the points, each once in a row, without gaps."""
    last: tuple[int, int] | None = None
    scaled = [(x * WIDE, y * HIGH) for x, y in points]
    for (x, y), (to_x, to_y) in pairwise(scaled if len(scaled) > 1 else scaled * 2):
        # One step more than dots, so that rounding never leaves a dot out.
        steps = math.ceil(max(abs(to_x - x), abs(to_y - y))) + 1
        for step in range(steps + 1):
            part = step / steps
            # Rounding down gives each dot the same share of the way.
            dot = math.floor(x + (to_x - x) * part), math.floor(y + (to_y - y) * part)
            if dot != last:
                yield dot
                last = dot
