"""The axes of a plot: round numbers at whole cells, and where a value lies on the canvas."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from fieldbook.papers.canvas import Canvas
from fieldbook.papers.dots import Point

_STEPS = (1.0, 2.0, 5.0, 10.0)


class Scale:
    """An axis from 0 to a round number, with round numbers at whole cells."""

    def __init__(self, most: float, cells: int, least_gap: int) -> None:
        """It reaches `most` in at most `cells` cells, with numbers `least_gap` cells apart."""
        self.step = round_step(most, max(cells // least_gap, 1))
        count = max(math.ceil(most / self.step - 1e-9), 1)
        self.gap = max(cells // count, 1)
        self.end, self.cells = count * self.step, count * self.gap

    def at(self, value: float) -> float:
        """How many cells from 0 a value lies."""
        return value / self.end * self.cells

    def marks(self) -> Iterator[tuple[int, str]]:
        """The numbers on the axis: cells from 0, and the number."""
        places = max(-math.floor(math.log10(self.step) + 1e-9), 0)
        for number in range(round(self.end / self.step) + 1):
            yield number * self.gap, f"{number * self.step:.{places}f}"


def round_step(most: float, count: int) -> float:
    """The smallest step of 1, 2 or 5 times a power of ten that reaches `most` in `count` steps."""
    rough = most / count
    power = 10.0 ** math.floor(math.log10(rough))
    return next(step * power for step in _STEPS if step * power >= rough * (1 - 1e-9))


class Axes:
    """The frame of a plot on a canvas, with 0 at its left bottom."""

    def __init__(
        self, canvas: Canvas, most: Point, room: tuple[int, int], units: tuple[str, str]
    ) -> None:
        """`most` are the values that must have room; `room` columns and rows, words included.

        `units` are those across and up. The first row holds the upper unit, the last two the
        axis and its numbers.
        """
        columns, rows = room
        self._up = Scale(most[1], rows - 3, 2)
        labels = [label for _, label in self._up.marks()]
        margin = max(len(word) for word in (*labels, units[1])) + 1
        self._across = Scale(most[0], columns - margin - 3 - len(units[0]), 8)
        self._left, self._foot = margin, self._up.cells + 1
        self._draw(canvas, units)

    @property
    def end(self) -> Point:
        """The values at the ends of both axes."""
        return self._across.end, self._up.end

    @property
    def rows(self) -> range:
        """The rows of the plot, above the axis."""
        return range(1, self._foot)

    def place(self, point: Point) -> Point:
        """Where a point of values lies, in columns and rows."""
        x, y = point
        return self._left + 0.5 + self._across.at(x), self._foot + 0.5 - self._up.at(y)

    def clipped(self, curve: Sequence[Point]) -> list[Point]:
        """The part of a curve, as values, that lies within the axis across."""
        found = [point for point in curve[:1] if point[0] <= self._across.end]
        for (x, y), (to_x, to_y) in pairwise(curve):
            if to_x <= self._across.end:
                found.append((to_x, to_y))
            elif x < self._across.end:
                part = (self._across.end - x) / (to_x - x)
                found.append((self._across.end, y + (to_y - y) * part))
        return found

    def _draw(self, canvas: Canvas, units: tuple[str, str]) -> None:
        left, foot = self._left, self._foot
        canvas.link((left, 1), (left, foot))
        canvas.link((left, foot), (left + self._across.cells, foot))
        canvas.say_up_to(left - 1, 0, units[1], "faint")
        for cells, label in self._up.marks():
            canvas.say_up_to(left - 1, foot - cells, label, "faint")
            canvas.link((left - 1, foot - cells), (left, foot - cells))
        for cells, label in self._across.marks():
            if cells:
                canvas.tick(left + cells, foot)
            canvas.say(left + cells - len(label) // 2, foot + 1, label, "faint")
        canvas.say(left + self._across.cells + 3, foot + 1, units[0], "faint")
