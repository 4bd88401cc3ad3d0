"""A picture made of characters: the same lines as text for a terminal and as SVG for paper.

Text from the record is drawn as it is in both, never as markup.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from rich.cells import cell_len

from fieldbook.papers.svg import CELL_H, CELL_W, MARGIN, document, grid_size, grid_text

Role = Literal["", "title", "strong", "faint", "good", "tight", "wrong"]
"""What a piece of text is, for the colour or weight that a screen or a print gives it.

Its words or its sign say the same, so that nothing is lost without colour.
"""

INK: dict[Role, str] = {"": "#111111", "faint": "#555555", "good": "#0f5a1c", "tight": "#6b4700"}
INK |= {"title": "#0b4f3a", "strong": "#111111", "wrong": "#9c1400"}
"""What each part is printed in: dark enough to be read in a copy without colours."""
_BOLD: tuple[Role, ...] = ("title", "strong", "wrong")


class Piece(NamedTuple):
    """A run of text, behind a swatch of two cells (base colour, stripe or None) if it has one."""

    text: str
    swatch: tuple[str, str | None] | None = None
    role: Role = ""

    @property
    def width(self) -> int:
        """Its width in character cells."""
        return cell_len(self.text) + (3 if self.swatch is not None else 0)


Line = tuple[Piece, ...]


@dataclass(frozen=True)
class Picture:
    """A title and lines of pieces."""

    title: str
    lines: tuple[Line, ...]

    @property
    def width(self) -> int:
        """The width of its widest line in character cells."""
        widths = [sum(piece.width for piece in line) for line in self.lines]
        return max([cell_len(self.title), *widths])

    def text(self) -> str:
        """The picture as plain lines; a swatch is blank there, beside its word."""
        return "\n".join([self.title, *map(plain_line, self.lines)])

    def svg(self) -> str:
        """The picture as an SVG document."""
        drawn = grid_text(0, 0, self.title, ' font-weight="bold"')
        for row, line in enumerate(self.lines, start=1):
            column = 0
            for piece in line:
                drawn += _piece(piece, column, row)
                column += piece.width
        return document(self.title, grid_size(self.width, len(self.lines) + 1), drawn)


def text_style(role: Role) -> str:
    """The attributes of a text in SVG: its weight and what it is printed in."""
    bold = ' font-weight="bold"' if role in _BOLD else ""
    return f'{bold} fill="{INK[role]}"' if role else ""


def row_of(*pieces: Piece | str) -> Line:
    """A line from pieces and plain strings."""
    return tuple(Piece(piece) if isinstance(piece, str) else piece for piece in pieces)


def columns(cells: Sequence[Piece], width: int) -> Line:
    """Pieces in columns of `width` cells, with a bar before, between and after them."""
    line: list[Piece] = [Piece("│")]
    for cell in cells:
        kept = _fitted(cell, width)
        line += [kept, Piece(" " * (width - kept.width) + "│")]
    return tuple(line)


def _fitted(piece: Piece, width: int) -> Piece:
    room = width - (piece.width - cell_len(piece.text))
    text = piece.text
    while cell_len(text) > room:
        text = text[:-2].rstrip("…") + "…" if len(text) > 1 else ""
    return piece._replace(text=text)


def plain_line(line: Line) -> str:
    """A line without colours; a swatch is blank."""
    return "".join(_plain(piece) for piece in line).rstrip()


def _plain(piece: Piece) -> str:
    return f"   {piece.text}" if piece.swatch is not None else piece.text


def _piece(piece: Piece, column: int, row: int) -> list[str]:
    """A piece in SVG: its swatch as two rectangles, then its text."""
    if piece.swatch is None:
        return grid_text(column, row, piece.text, text_style(piece.role))
    base, stripe = piece.swatch
    x, y = MARGIN + column * CELL_W, MARGIN + row * CELL_H + 3
    half = f'width="{CELL_W:g}" height="{CELL_H - 6:g}" stroke="#555555" stroke-width="0.5"'
    return [
        f'<rect x="{x:g}" y="{y:g}" {half} fill="{base}"/>',
        f'<rect x="{x + CELL_W:g}" y="{y:g}" {half} fill="{stripe or base}"/>',
        *grid_text(column + 3, row, piece.text, text_style(piece.role)),
    ]
