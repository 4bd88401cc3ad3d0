"""The plan in characters, for a terminal: a map with labels, and below it the tapes in words.

Pipes are solid lines of dots and tapes dashed ones; the wall is a heavy line with the house shaded
behind it. A label never covers another or a mark. One that finds no room is left out of the map:
the list below names every part, its tapes and its corners.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from rich.cells import cell_len

from fieldbook.checks.common.naming import quantity, system_of
from fieldbook.checks.ground.fixed_points import Spot
from fieldbook.papers.dots import Dots
from fieldbook.papers.picture import Line, Piece, Role, plain_line
from fieldbook.papers.site_plan.label_places import Box, LabelPlaces, Point, along, around
from fieldbook.papers.site_plan.plan import MARK_WORDS, MarkKind, Plan, plan_of
from fieldbook.papers.site_plan.plan_words import (
    CAUTION,
    NOTHING,
    corner_list,
    tape_list,
    which_way,
)
from fieldbook.papers.text_widths import wrapped
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import LENGTH

GLYPHS: Mapping[MarkKind, str] = {
    "corner": "▲",
    "box": "■",
    "head": "○",
    "splice": "✕",
    "end": "•",
    "other": "♦",
}
_ASPECT = 2.0
"""How many times as high as wide a character cell is, roughly."""
_SIDE, _TOP, _FOOT = 3, 1, 1
"""Cells left free around the map, where labels of its outermost marks stand."""
_FT_IN_M = 1 / 0.3048


class _Cell(NamedTuple):
    column: int
    row: int


class _Map:
    """A grid of characters, and the scale by which ft become cells."""

    def __init__(self, plan: Plan, width: int, height: int) -> None:
        """Fit the plan into so many cells."""
        low, high = plan.frame
        wide, deep = max(high.x_ft - low.x_ft, 10.0), max(high.y_ft - low.y_ft, 10.0)
        across, down = max(width - 2 * _SIDE - 1, 4), max(height - _TOP - _FOOT - 1, 2)
        self.ft_in_cell = max(wide / across, deep / (down * _ASPECT))
        self.width, self.height = width, height
        # What the scale leaves over goes to both sides, so that the map stands in the middle.
        self._left = (width - 1 - wide / self.ft_in_cell) / 2
        self._top = _TOP + (down - deep / self.ft_in_cell / _ASPECT) / 2
        self._west, self._north = low.x_ft, max(high.y_ft, low.y_ft + 10.0)
        self._chars: dict[_Cell, Piece] = {}

    def at(self, spot: Spot) -> tuple[float, float]:
        """Column and row of a spot, in fractions of cells."""
        x = self._left + (spot.x_ft - self._west) / self.ft_in_cell
        y = self._top + (self._north - spot.y_ft) / self.ft_in_cell / _ASPECT
        return x + 0.5, y + 0.5

    def cell(self, spot: Spot) -> _Cell:
        """The cell a spot lies in."""
        x, y = self.at(spot)
        return _Cell(math.floor(x), math.floor(y))

    def put(self, column: int, row: int, text: str, role: Role = "") -> None:
        """Write a text from a cell on, over what is there; outside the grid nothing is written."""
        for char in text:
            if 0 <= column < self.width and 0 <= row < self.height:
                self._chars[_Cell(column, row)] = Piece(char, None, role)
            column += max(cell_len(char), 1)

    def dots(self, dots: Dots, role: Role) -> None:
        """Draw lines of dots."""
        for column, row, char in dots.characters():
            self.put(column, row, char, role)

    def lines(self) -> Iterator[Line]:
        """The rows of the grid, each as runs of one ink."""
        for row in range(self.height):
            yield tuple(self._runs(row))

    def _runs(self, row: int) -> list[Piece]:
        runs: list[Piece] = []
        column = 0
        while column < self.width:
            found = self._chars.get(_Cell(column, row), Piece(" "))
            if runs and runs[-1].role == found.role:
                runs[-1] = runs[-1]._replace(text=runs[-1].text + found.text)
            else:
                runs.append(found)
            column += max(cell_len(found.text), 1)
        return runs


def plan_picture(job: LoadedJob, width: int, height: int) -> Iterator[Line]:
    """The plan for a terminal, line by line: a map of `height` rows, then its key and its lists."""
    plan = plan_of(job)
    if not plan.marks:
        yield (Piece(NOTHING),)
    else:
        drawn = _Map(plan, width, max(height, 6))
        _draw(plan, drawn)
        yield from drawn.lines()
        yield from _wrapped(f"{_scale_words(job, drawn)}, {which_way(plan)}", width, "faint")
        yield from _wrapped(_key(plan), width, "faint")
        yield (Piece("Corners, where a tape begins", None, "title"),)
        for mark, words in corner_list(job, plan):
            yield from _entry(GLYPHS[mark.kind], words, width)
        if plan.parts:
            yield (Piece("How to find each part", None, "title"),)
        for mark, words in tape_list(job, plan):
            yield from _entry(GLYPHS[mark.kind], f"{mark.name}: {words}", width)
    for name in plan.lacks:
        yield from _entry("?", f"Not located: {name}.", width)
    yield from _wrapped(CAUTION, width, "tight")


def plan_lines(job: LoadedJob, width: int, height: int = 20) -> list[str]:
    """The plan as plain lines."""
    return [plain_line(line) for line in plan_picture(job, width, height)]


def _draw(plan: Plan, drawn: _Map) -> None:
    """Draw everything: lines, then labels where there is room, then the marks over all."""
    room = Box(0, 0, drawn.width, drawn.height)
    lines = [(drawn.at(tape.start), drawn.at(tape.end)) for tape in plan.drawn_tapes]
    lines += [(drawn.at(pipe.start), drawn.at(pipe.end)) for pipe in plan.pipes]
    if plan.wall is not None:
        lines.append((drawn.at(plan.wall[0]), drawn.at(plan.wall[1])))
    places = LabelPlaces(room, lines)
    tapes, pipes = Dots(), Dots()
    for tape in plan.drawn_tapes:
        tapes.draw([drawn.at(tape.start), drawn.at(tape.end)], dashed=True)
    for pipe in plan.pipes:
        pipes.draw([drawn.at(pipe.start), drawn.at(pipe.end)])
    drawn.dots(tapes, "faint")
    drawn.dots(pipes, "")
    _draw_wall(plan, drawn, places)
    cells = _free_cells(plan, drawn, places)
    if plan.wall is not None:
        # Only now, since corners stand on the wall.
        places.take(_span(*map(drawn.at, plan.wall)))
    _label_marks(plan, drawn, places, cells)
    _label_lines(plan, drawn, places)
    for index, mark in enumerate(plan.marks):
        drawn.put(*cells[index], GLYPHS[mark.kind], "strong")


def _free_cells(plan: Plan, drawn: _Map, places: LabelPlaces) -> dict[int, _Cell]:
    """A cell for each mark: its own, or one beside it where another stands there."""
    cells: dict[int, _Cell] = {}
    order = sorted(range(len(plan.marks)), key=lambda index: plan.marks[index].kind != "box")
    for index in order:
        own = drawn.cell(plan.marks[index].at)
        wanted = (_Cell(own.column + dx, own.row + dy) for dx, dy in _RINGS)
        cell = next((one for one in wanted if places.is_free(_box(one))), own)
        places.take(_box(cell))
        cells[index] = cell
    return cells


_RINGS = sorted(
    ((dx, dy) for dx in range(-3, 4) for dy in range(-3, 4)),
    key=lambda way: (max(abs(way[0]), abs(way[1])), abs(way[1]), way),
)
"""Steps from a cell to itself, then to the cells around it, the nearest first."""


def _span(start: Point, end: Point) -> Box:
    """The cells of a level wall; of a slanting one none, or its labels would find no room."""
    (x, y), (to_x, to_y) = start, end
    row = math.floor(y)
    if math.floor(to_y) != row:
        return Box(0, 0, 0, 0)
    return Box(math.floor(min(x, to_x)), row, math.floor(max(x, to_x)) + 1, row + 1)


def _box(cell: _Cell, width: int = 1) -> Box:
    return Box(cell.column, cell.row, cell.column + width, cell.row + 1)


def _label_marks(plan: Plan, drawn: _Map, places: LabelPlaces, cells: Mapping[int, _Cell]) -> None:
    """Name the marks: boxes first, since they are what is looked for; heads are many and alike."""
    ranks = {"box": 0, "corner": 1, "splice": 2, "other": 2, "end": 3}
    named = [index for index in cells if plan.marks[index].kind in ranks]
    for index in sorted(named, key=lambda index: (ranks[plan.marks[index].kind], index)):
        cell, text = cells[index], plan.marks[index].label
        middle = (cell.column + 0.5, cell.row + 0.5)
        rings = around(middle, (1.5, 0.5), (cell_len(text), 1))
        found = next(filter(None, (places.place(_snapped(ring)) for ring in rings)), None)
        if found is not None:
            role: Role = "strong" if plan.marks[index].kind == "box" else ""
            drawn.put(int(found.left), int(found.top), text, role)


def _label_lines(plan: Plan, drawn: _Map, places: LabelPlaces) -> None:
    """Write the lengths of tapes on them, and each zone's name on one of its pipes."""
    words = [(pipe, pipe.zone or "mainline") for pipe in plan.pipes]
    first = {name: pipe for pipe, name in reversed(words)}
    labels = [(tape.start, tape.end, tape.words) for tape in plan.drawn_tapes]
    labels += [(pipe.start, pipe.end, name) for name, pipe in first.items()]
    for start, end, text in labels:
        segment = (drawn.at(start), drawn.at(end))
        # A blank on each side parts the words from the dots of the line.
        found = places.place(_snapped(along(segment, (cell_len(text) + 2, 1))))
        if found is not None:
            drawn.put(int(found.left), int(found.top), f" {text} ")


def _snapped(boxes: Iterable[Box]) -> Iterator[Box]:
    """The boxes moved onto whole cells."""
    for box in boxes:
        left, top = math.floor(box.left), math.floor(box.top)
        yield Box(left, top, left + box.right - box.left, top + box.bottom - box.top)


def _draw_wall(plan: Plan, drawn: _Map, places: LabelPlaces) -> None:
    """The wall as a heavy line with the house behind it; a slanting wall as a double line."""
    if plan.wall is None:
        return
    (x, y), (to_x, to_y) = (drawn.at(spot) for spot in plan.wall)
    if math.floor(y) == math.floor(to_y) and to_x > x:
        left, right, row = math.floor(x), math.floor(to_x), math.floor(y)
        drawn.put(left, row, "━" * (right - left + 1), "strong")
        drawn.put(left, row - 1, "░" * (right - left + 1), "faint")
        text = " house "
        wanted = Box(left + 1, row - 1, left + 1 + len(text), row)
        if right - left > len(text) + 2 and places.place([wanted]) is not None:
            drawn.put(left + 1, row - 1, text)
        return
    dots = Dots()
    # The house is on the left of the way along the wall, seen in a picture whose y grows downwards.
    length = math.hypot(to_x - x, (to_y - y) * _ASPECT) or 1.0
    aside_x, aside_y = (to_y - y) * _ASPECT / length, -(to_x - x) / length / _ASPECT
    for far in (0.0, 0.5):
        shift_x, shift_y = aside_x * far, aside_y * far
        dots.draw([(x + shift_x, y + shift_y), (to_x + shift_x, to_y + shift_y)])
    drawn.dots(dots, "strong")


def _scale_words(job: LoadedJob, drawn: _Map) -> str:
    """A bar of a round length."""
    unit = _FT_IN_M if system_of(job) == "metric" else 1.0
    lengths = [step * 10**power * unit for power in range(4) for step in (1, 2, 5)]
    fitting = [one for one in lengths if one / drawn.ft_in_cell <= max(drawn.width / 4, 8)]
    feet = max(fitting, default=lengths[0])
    bar = "─" * max(round(feet / drawn.ft_in_cell) - 2, 0)
    return f"├{bar}┤ {quantity(job, feet, LENGTH)}"


def _key(plan: Plan) -> str:
    """What the signs stand for, of those that are on the map."""
    kinds = [kind for kind in MARK_WORDS if any(mark.kind == kind for mark in plan.marks)]
    words = [f"{GLYPHS[kind]} {MARK_WORDS[kind]}" for kind in kinds]
    if plan.tapes:
        words.append("┄ tape")
    if plan.pipes:
        words.append("─ pipe, straight between its located ends")
    if plan.wall is not None:
        words.append("━ house wall")
    return "   ".join(words)


def _wrapped(text: str, width: int, role: Role) -> Iterator[Line]:
    for line in wrapped(text, width, cell_len):
        yield (Piece(line, None, role),)


def _entry(sign: str, text: str, width: int) -> Iterator[Line]:
    """A line of a list: its sign, and its words wrapped beside it."""
    for number, line in enumerate(wrapped(text, max(width - 2, 20), cell_len)):
        yield (Piece(f"{sign} " if number == 0 else "  ", None, "strong"), Piece(line))
