"""What every SVG of a paper is made of: the document around it, and text on a grid of cells.

A document stands alone: no style sheet, font, script or picture of another file is named in it, so
that it can be printed, sent and kept. Text stays text, so that it can be searched and read aloud.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape

from rich.cells import cell_len

CELL_W, CELL_H = 8.0, 18.0
"""Pixels of a character cell."""
MARGIN = 12.0
_BASELINE = 13.0
_RUN = re.compile(r"\S+(?: \S+)*")

_FONTS = "'DejaVu Sans Mono', monospace"
"""The first comes with what sets PDFs, which knows no "monospace"."""


def document(
    title: str, size: tuple[float, float], drawn: Iterable[str], font: str = _FONTS
) -> str:
    """An SVG document so many pixels across and down, on white; its title is its label."""
    wide, high = size
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}" height="{high:g}" '
            f'viewBox="0 0 {wide:g} {high:g}" role="img" '
            f'aria-label="{escape(title, quote=True)}">',
            f'<rect width="{wide:g}" height="{high:g}" fill="#ffffff"/>',
            f'<g font-family="{font}" font-size="13" fill="#111111" xml:space="preserve">',
            *drawn,
            "</g>",
            "</svg>",
            "",
        ]
    )


def grid_size(columns: int, rows: int) -> tuple[float, float]:
    """The pixels of a grid of cells with a margin around it."""
    return MARGIN * 2 + CELL_W * columns, MARGIN * 2 + CELL_H * rows


def grid_text(column: int, row: int, text: str, style: str = "") -> list[str]:
    """Text on the grid: each run of words starts in its cell and is as wide as its cells.

    `style` holds further attributes, such as ' font-weight="bold"'. `textLength` keeps columns true
    in any font.
    """
    drawn = []
    for run in _RUN.finditer(text):
        x = MARGIN + (column + cell_len(text[: run.start()])) * CELL_W
        y = MARGIN + row * CELL_H + _BASELINE
        length = CELL_W * cell_len(run[0])
        drawn.append(
            f'<text x="{x:g}" y="{y:g}" textLength="{length:g}" '
            f'lengthAdjust="spacingAndGlyphs"{style}>{escape(run[0])}</text>'
        )
    return drawn
