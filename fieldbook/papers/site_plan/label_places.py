"""Places for labels on a drawing: none covers another, a mark, or the drawing's edge.

A label has a few places where it may stand. Of those that are free it takes the one that crosses
the fewest lines, the earlier where several do. One without a free place is left out: whoever draws
says what it would have said in a list beside the drawing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

Point = tuple[float, float]
Segment = tuple[Point, Point]


class Box(NamedTuple):
    """An upright rectangle; y grows downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    def holds(self, other: Box) -> bool:
        """Whether the other lies within this one."""
        across = self.left <= other.left and other.right <= self.right
        return across and self.top <= other.top and other.bottom <= self.bottom

    def crossed_by(self, segment: Segment) -> bool:
        """Whether a straight line passes through (Liang and Barsky's clipping)."""
        (x, y), (to_x, to_y) = segment
        first, last = 0.0, 1.0
        for start, way, low, high in (
            (x, to_x - x, self.left, self.right),
            (y, to_y - y, self.top, self.bottom),
        ):
            if way == 0.0:
                if not low <= start <= high:
                    return False
                continue
            near, far = sorted(((low - start) / way, (high - start) / way))
            first, last = max(first, near), min(last, far)
        return first <= last


class LabelPlaces:
    """What is taken on one drawing, and the lines that labels rather leave free."""

    def __init__(self, room: Box, lines: Sequence[Segment] = ()) -> None:
        """Nothing is taken yet; every label lies within `room`."""
        self._room, self._lines = room, lines
        self._taken: list[Box] = []

    def take(self, box: Box) -> None:
        """Keep labels off a mark."""
        self._taken.append(box)

    def is_free(self, box: Box) -> bool:
        """Whether a box lies within the room and covers nothing that is taken."""
        return self._room.holds(box) and not any(box.overlaps(one) for one in self._taken)

    def place(self, candidates: Iterable[Box]) -> Box | None:
        """Take the best of the free candidates; None where none is free."""
        best: Box | None = None
        fewest = -1
        for box in candidates:
            if not self.is_free(box):
                continue
            crossed = sum(box.crossed_by(line) for line in self._lines)
            if best is None or crossed < fewest:
                best, fewest = box, crossed
            if not crossed:
                break
        if best is not None:
            self.take(best)
        return best


def around(at: Point, reach: Point, size: Point) -> Iterator[list[Box]]:
    """Rings of places for a label of a size around a mark that reaches so far from its middle.

    In each ring right, left, below and above come first, then the four corners.
    """
    (x, y), (wide, high) = at, size
    for far in (1.0, 2.0):
        across, down = reach[0] * far, reach[1] * far
        lefts = (x + across, x - across - wide, x - wide / 2)
        tops = (y - high / 2, y + down, y - down - high)
        sides = ((0, 0), (1, 0), (2, 1), (2, 2), (0, 1), (0, 2), (1, 1), (1, 2))
        yield [Box(lefts[i], tops[j], lefts[i] + wide, tops[j] + high) for i, j in sides]


def along(segment: Segment, size: Point) -> Iterator[Box]:
    """Places for a label of a size along a line: its middle first, then towards its ends."""
    (x, y), (to_x, to_y) = segment
    wide, high = size
    for part in (0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2):
        middle_x, middle_y = x + (to_x - x) * part, y + (to_y - y) * part
        left, top = middle_x - wide / 2, middle_y - high / 2
        yield Box(left, top, left + wide, top + high)
