"""A picture made of characters: the same lines as text for a terminal and as SVG for paper.

Text from the record is drawn as it is in both, never as markup.
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
    """A run of text, behind a swatch of two cells (base colour, stripe or None) if it has one."""

    text: str
    swatch: tuple[str, str | None] | None = None

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
        drawn = ["".join(_plain(piece) for piece in line).rstrip() for line in self.lines]
        return "\n".join([self.title, *drawn])

    def svg(self) -> str:
        """The picture as an SVG document; `textLength` keeps columns true in any font."""
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
    return Piece(text, piece.swatch)


def _plain(piece: Piece) -> str:
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
    """Text on the grid: each run of words starts in its cell and is as wide as its cells."""
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
