"""A picture made of characters: the same lines as text for a terminal and as SVG for paper.

Stored text is drawn literally in both.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import NamedTuple

from rich.cells import cell_len

_CELL_W, _CELL_H = 8.0, 18.0
_MARGIN = 12.0
_RUN = re.compile(r"\S+(?: \S+)*")


class Piece(NamedTuple):
    """A run of text; with a swatch (base colour, stripe or None) two cells of it come before."""

    text: str
    swatch: tuple[str, str | None] | None = None

    @property
    def width(self) -> int:
        """Terminal cells."""
        return cell_len(self.text) + (3 if self.swatch is not None else 0)


Line = tuple[Piece, ...]


@dataclass(frozen=True)
class Picture:
    """A title and lines of pieces."""

    title: str
    lines: tuple[Line, ...]

    @property
    def width(self) -> int:
        """The cells of its widest line."""
        widths = [sum(piece.width for piece in line) for line in self.lines]
        return max([cell_len(self.title), *widths])

    def text(self) -> str:
        """The picture as plain lines; a swatch is left to its word."""
        drawn = ["".join(_spoken(piece) for piece in line).rstrip() for line in self.lines]
        return "\n".join([self.title, *drawn])

    def svg(self) -> str:
        """The picture as an SVG document that needs no font of its own."""
        high = _MARGIN * 2 + _CELL_H * (len(self.lines) + 1)
        wide = _MARGIN * 2 + _CELL_W * self.width
        drawn = _text(0, 0, self.title, bold=True)
        for row, line in enumerate(self.lines, start=1):
            column = 0
            for piece in line:
                drawn += _piece(piece, column, row)
                column += piece.width
        return "\n".join(
            [
                f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}" height="{high:g}" '
                f'viewBox="0 0 {wide:g} {high:g}" role="img" '
                f'aria-label="{escape(self.title, quote=True)}">',
                f'<rect width="{wide:g}" height="{high:g}" fill="#ffffff"/>',
                '<g font-family="monospace" font-size="13" fill="#111111" xml:space="preserve">',
                *drawn,
                "</g>",
                "</svg>",
                "",
            ]
        )


def row_of(*pieces: Piece | str) -> Line:
    """A line from pieces and plain strings."""
    return tuple(Piece(one) if isinstance(one, str) else one for one in pieces)


def columns(cells: Sequence[Piece], width: int) -> Line:
    """Pieces in columns of `width` cells, a bar before, between and after them."""
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
    return Piece(text, piece.swatch)


def _spoken(piece: Piece) -> str:
    return f"   {piece.text}" if piece.swatch is not None else piece.text


def _piece(piece: Piece, column: int, row: int) -> list[str]:
    """A piece in SVG: its swatch as two rectangles, then its text."""
    if piece.swatch is None:
        return _text(column, row, piece.text)
    base, stripe = piece.swatch
    x, y = _MARGIN + column * _CELL_W, _MARGIN + row * _CELL_H + 3
    half = f'width="{_CELL_W:g}" height="{_CELL_H - 6:g}" stroke="#555555" stroke-width="0.5"'
    return [
        f'<rect x="{x:g}" y="{y:g}" {half} fill="{base}"/>',
        f'<rect x="{x + _CELL_W:g}" y="{y:g}" {half} fill="{stripe or base}"/>',
        *_text(column + 3, row, piece.text),
    ]


def _text(column: int, row: int, text: str, *, bold: bool = False) -> list[str]:
    """Text on the grid: each run of words begins in its cell and takes the cells it has there."""
    drawn = []
    for run in _RUN.finditer(text):
        x = _MARGIN + (column + cell_len(text[: run.start()])) * _CELL_W
        y = _MARGIN + row * _CELL_H + 13
        weight = ' font-weight="bold"' if bold else ""
        length = _CELL_W * cell_len(run[0])
        drawn.append(
            f'<text x="{x:g}" y="{y:g}" textLength="{length:g}" '
            f'lengthAdjust="spacingAndGlyphs"{weight}>{escape(run[0])}</text>'
        )
    return drawn
