"""Figures drawn with characters: curves, each of its own letter, and bars of plain blocks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from fieldbook.screens.widgets.terminal_cells import fit

Point = tuple[float, float]
_EIGHTHS = " ▏▎▍▌▋▊▉"


def bar(part: float, width: int) -> str:
    """A bar that fills `part` (0 to 1) of `width` cells, in eighths; not empty above 0."""
    eighths = round(min(max(part, 0.0), 1.0) * width * 8)
    if part > 0.0:
        eighths = max(eighths, 1)
    return "█" * (eighths // 8) + (_EIGHTHS[eighths % 8] if eighths % 8 else "")


def curves(
    drawn: Mapping[str, Sequence[Point]],
    meet: Point | None,
    width: int,
    height: int,
    units: tuple[str, str],
) -> list[str]:
    """Curves by the letter they are drawn with, an X where they meet, on axes that begin at 0.

    A curve is drawn straight from point to point. `units` are those across and up. Every line is at
    most `width` cells; there are `height` lines, one for the axis below and one for its figures.
    """
    points = [point for curve in drawn.values() for point in curve]
    across = max((x for x, _ in points), default=0.0) or 1.0
    up = max((y for _, y in points), default=0.0) or 1.0
    margin = max(len(f"{up:.3g}"), len(f"{up / 2:.3g}"), len(units[1])) + 1
    columns = max(width - margin - 1, 8)
    grid = [[" "] * columns for _ in range(height)]

    def put(x: float, y: float, letter: str) -> None:
        column = round(x / across * (columns - 1))
        row = height - 1 - round(y / up * (height - 1))
        if 0 <= column < columns and 0 <= row < height:
            grid[row][column] = letter

    for letter, curve in drawn.items():
        for x, y in _between(curve, 12):
            put(x, y, letter)
    if meet is not None:
        put(*meet, "X")
    marks = {0: f"{up:.3g}", height // 2: f"{up / 2:.3g}", height - 1: "0", 1: units[1]}
    lines = [f"{marks.get(no, ''):>{margin - 1}} │{''.join(row)}" for no, row in enumerate(grid)]
    foot = f"{' ' * margin}└{'─' * columns}"
    return [*lines, foot, _foot(across, units[0], margin, columns)]


def _foot(across: float, unit: str, margin: int, columns: int) -> str:
    """The figures under the axis: 0, half, and the end with its unit."""
    half, end = f"{across / 2:.3g}", f"{across:.3g} {unit}"
    first = "0".ljust(columns // 2)
    return fit(" " * (margin + 1) + first + half, margin + 1 + columns - len(end)) + end


def _between(curve: Sequence[Point], steps: int) -> list[Point]:
    """The points of a curve with `steps` straight steps from each to the next."""
    found = list(curve[:1])
    for (x, y), (to_x, to_y) in pairwise(curve):
        for no in range(1, steps + 1):
            found.append((x + (to_x - x) * no / steps, y + (to_y - y) * no / steps))
    return found
