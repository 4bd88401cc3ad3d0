"""A drawing on a grid of character cells, which a terminal and a print both show.

What is put on it are words, pipes and axes (lines from cell to cell), bars and curves. In a
terminal these are characters: box lines, half blocks, braille. In SVG they are shapes and text.
Columns and rows count from 0 at the left top; where something lies between cells they are
fractions, with whole numbers at the cells' left or upper edge.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from rich.cells import cell_len

from fieldbook.papers.dots import Dots, Point
from fieldbook.papers.picture import INK, Line, Piece, Role, plain_line, text_style
from fieldbook.papers.svg import CELL_H, CELL_W, MARGIN, document, grid_size, grid_text
from fieldbook.papers.text_widths import wrapped

_UP, _DOWN, _LEFT, _RIGHT = 1, 2, 4, 8
_LINES = {
    _UP: "╵", _DOWN: "╷", _LEFT: "╴", _RIGHT: "╶",
    _UP | _DOWN: "│", _LEFT | _RIGHT: "─",
    _DOWN | _RIGHT: "┌", _DOWN | _LEFT: "┐", _UP | _RIGHT: "└", _UP | _LEFT: "┘",
    _UP | _DOWN | _RIGHT: "├", _UP | _DOWN | _LEFT: "┤",
    _DOWN | _LEFT | _RIGHT: "┬", _UP | _LEFT | _RIGHT: "┴",
    _UP | _DOWN | _LEFT | _RIGHT: "┼",
}  # fmt: skip
"""Characters by the sides of the cell that a line leaves it on."""
_FILL: dict[Role, str] = {**INK, "": "#8a8a8a"}
"""What bars are filled with: those that only pass are lighter than those that stand."""


class Words(NamedTuple):
    """A text that begins in a cell."""

    column: int
    row: int
    text: str
    role: Role


class Bar(NamedTuple):
    """A bar in a row, from one fraction of columns to another."""

    row: int
    start: float
    end: float
    role: Role


class Curve(NamedTuple):
    """A line through points, which are columns and rows; dashed or whole."""

    points: tuple[Point, ...]
    dashed: bool


class Spot(NamedTuple):
    """A sign at a point of columns and rows; without one it is a dot, which only a print shows."""

    point: Point
    sign: str
    role: Role


class Canvas:
    """A drawing that grows as things are put on it."""

    def __init__(self) -> None:
        """Nothing is drawn yet."""
        self._words: list[Words] = []
        self._bars: list[Bar] = []
        self._curves: list[Curve] = []
        self._spots: list[Spot] = []
        self._joints: dict[tuple[int, int], int] = {}
        self._dotted: set[tuple[int, int]] = set()

    def say(self, column: int, row: int, text: str, role: Role = "") -> None:
        """Put a text on the drawing, beginning in a cell."""
        if text.strip():
            self._words.append(Words(column, row, text, role))

    def say_up_to(self, column: int, row: int, text: str, role: Role = "") -> None:
        """Put a text on the drawing that ends before a column."""
        self.say(column - cell_len(text), row, text, role)

    def say_wrapped(self, row: int, text: str, width: int, role: Role = "") -> int:
        """Put a sentence on as many rows as it needs from this one; returns the row after it."""
        for line in list(wrapped(text, width, cell_len)) or [""]:
            self.say(0, row, line, role)
            row += 1
        return row

    def link(self, start: tuple[int, int], end: tuple[int, int]) -> None:
        """Draw a straight line from the middle of one cell to that of another, across or down."""
        (column, row), (to_column, to_row) = min(start, end), max(start, end)
        across = row == to_row
        ahead, behind = (_RIGHT, _LEFT) if across else (_DOWN, _UP)
        cells = (
            [(at, row) for at in range(column, to_column + 1)]
            if across
            else [(column, at) for at in range(row, to_row + 1)]
        )
        for number, cell in enumerate(cells):
            ways = (ahead if number < len(cells) - 1 else 0) | (behind if number else 0)
            self._joints[cell] = self._joints.get(cell, 0) | ways

    def tick(self, column: int, row: int) -> None:
        """Draw half a cell of line, from the middle of a cell down."""
        self._joints[column, row] = self._joints.get((column, row), 0) | _DOWN

    def dotted(self, column: int, rows: Iterable[int]) -> None:
        """Draw a dotted line down a column, behind everything else."""
        self._dotted |= {(column, row) for row in rows}

    def bar(self, row: int, start: float, end: float, role: Role = "") -> None:
        """Draw a bar between two columns; where they are the same place it is a thin line."""
        self._bars.append(Bar(row, min(start, end), max(start, end), role))

    def curve(self, points: Sequence[Point], *, dashed: bool = False) -> None:
        """Draw a line through points."""
        self._curves.append(Curve(tuple(points), dashed))

    def spot(self, point: Point, sign: str = "", role: Role = "strong") -> None:
        """Mark a point of columns and rows with a sign, or with a dot in a print alone."""
        self._spots.append(Spot(point, sign, role))

    def is_free(self, column: int, row: int, text: str) -> bool:
        """Whether a text would cover nothing but blank cells and dotted lines."""
        grid = self._grid()
        return not any((at, row) in grid for at in range(column - 1, column + cell_len(text) + 1))

    def add_below(self, other: Canvas, gap: int = 1) -> None:
        """Put another drawing under what is here, with so many blank rows between."""
        down = self.rows + gap if self.rows else 0
        self._words += [one._replace(row=one.row + down) for one in other._words]
        self._bars += [one._replace(row=one.row + down) for one in other._bars]
        self._curves += [
            one._replace(points=tuple((x, y + down) for x, y in one.points))
            for one in other._curves
        ]
        self._spots += [
            one._replace(point=(one.point[0], one.point[1] + down)) for one in other._spots
        ]
        self._joints |= {(at, row + down): ways for (at, row), ways in other._joints.items()}
        self._dotted |= {(at, row + down) for at, row in other._dotted}

    @property
    def columns(self) -> int:
        """How many columns its characters take."""
        return max((column + 1 for column, _ in self._grid(dotted=True)), default=0)

    @property
    def rows(self) -> int:
        """How many rows its characters take."""
        return max((row + 1 for _, row in self._grid(dotted=True)), default=0)

    def lines(self) -> tuple[Line, ...]:
        """The drawing as characters, row after row."""
        grid = self._grid(dotted=True)
        last = max((row for _, row in grid), default=-1)
        width = max((column for column, _ in grid), default=-1) + 1
        return tuple(
            _line([grid.get((column, row), (" ", "")) for column in range(width)])
            for row in range(last + 1)
        )

    def text(self) -> str:
        """The drawing as plain lines."""
        return "\n".join(map(plain_line, self.lines()))

    def svg(self, title: str) -> str:
        """The drawing as an SVG document."""
        drawn = [
            *(_path(_down(column, row), dash="1 3") for column, row in sorted(self._dotted)),
            *(_rectangle(bar) for bar in self._bars),
            *(_path(_through(curve.points), 1.8, _dash(curve)) for curve in self._curves),
            *(_path(_joint(cell, ways)) for cell, ways in sorted(self._joints.items())),
            *map(_dot, self._spots),
        ]
        for words in self._words:
            drawn += grid_text(words.column, words.row, words.text, text_style(words.role))
        return document(title, grid_size(self.columns, self.rows), drawn)

    def _grid(self, *, dotted: bool = False) -> dict[tuple[int, int], tuple[str, Role]]:
        """Characters with their roles by column and row; what is drawn later covers the earlier."""
        grid: dict[tuple[int, int], tuple[str, Role]] = {}
        if dotted:
            grid |= dict.fromkeys(self._dotted, ("┊", "faint"))
        dots = Dots()
        for curve in self._curves:
            dots.draw(curve.points, dashed=curve.dashed)
        grid |= {(column, row): (char, "") for column, row, char in dots.characters()}
        for bar in self._bars:
            grid |= {(at, bar.row): (char, bar.role) for at, char in _blocks(bar)}
        grid |= {cell: (_LINES[ways], "") for cell, ways in self._joints.items() if ways}
        for spot in self._spots:
            if spot.sign:
                grid[int(spot.point[0]), int(spot.point[1])] = (spot.sign, spot.role)
        for words in self._words:
            column = words.column
            for char in words.text:
                wide = cell_len(char)
                if not wide:
                    # A combining accent belongs to the cell before it.
                    before = grid.get((column - 1, words.row), ("", words.role))
                    grid[column - 1, words.row] = (before[0] + char, words.role)
                    continue
                grid[column, words.row] = (char, words.role)
                if wide > 1:
                    grid[column + 1, words.row] = ("", words.role)
                column += wide
        return grid


def _line(cells: Sequence[tuple[str, Role]]) -> Line:
    """Cells as pieces, one for each stretch of the same role, without the blanks at the end."""
    pieces: list[Piece] = []
    for char, role in cells:
        if pieces and (pieces[-1].role == role or not char.strip()):
            pieces[-1] = pieces[-1]._replace(text=pieces[-1].text + char)
        else:
            pieces.append(Piece(char, None, role))
    if pieces:
        pieces[-1] = pieces[-1]._replace(text=pieces[-1].text.rstrip())
    return tuple(pieces)


def _blocks(bar: Bar) -> list[tuple[int, str]]:
    """The columns of a bar with their characters, to half a column."""
    first, last = round(bar.start * 2), round(bar.end * 2)
    if first == last:
        return [(first // 2, "│" if first % 2 else "▏")]
    found = []
    for column in range(first // 2, (last + 1) // 2):
        left, right = first <= column * 2 < last, first <= column * 2 + 1 < last
        found.append((column, "█" if left and right else "▌" if left else "▐"))
    return found


def _dash(curve: Curve) -> str:
    return "6 4" if curve.dashed else ""


def _path(way: str, width: float = 1.2, dash: str = "") -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{way}" fill="none" stroke="#111111" stroke-width="{width:g}"{dashes}/>'


def _x(column: float) -> float:
    return round(MARGIN + column * CELL_W, 2)


def _y(row: float) -> float:
    return round(MARGIN + row * CELL_H, 2)


def _through(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{_x(x):g} {_y(y):g}" for x, y in points)


def _down(column: int, row: int) -> str:
    return f"M{_x(column + 0.5):g} {_y(row):g}V{_y(row + 1):g}"


def _joint(cell: tuple[int, int], ways: int) -> str:
    """The way from the middle of a cell to each side that its lines leave it on."""
    x, y = cell[0] + 0.5, cell[1] + 0.5
    ends = {_UP: (x, y - 0.5), _DOWN: (x, y + 0.5), _LEFT: (x - 0.5, y), _RIGHT: (x + 0.5, y)}
    return "".join(_through([(x, y), end]) for side, end in ends.items() if ways & side)


def _rectangle(bar: Bar) -> str:
    x, y, wide = _x(bar.start), _y(bar.row) + 3, max((bar.end - bar.start) * CELL_W, 1.0)
    return (
        f'<rect x="{x:g}" y="{y:g}" width="{wide:g}" height="{CELL_H - 6:g}" '
        f'fill="{_FILL[bar.role]}"/>'
    )


def _dot(spot: Spot) -> str:
    """A diamond where the point has a sign, else a dot."""
    x, y, ink = _x(spot.point[0]), _y(spot.point[1]), INK[spot.role]
    if spot.sign:
        way = f"M{x - 5:g} {y:g}L{x:g} {y - 5:g}L{x + 5:g} {y:g}L{x:g} {y + 5:g}Z"
        return f'<path d="{way}" fill="{ink}"/>'
    return f'<circle cx="{x:g}" cy="{y:g}" r="3" fill="{ink}"/>'
