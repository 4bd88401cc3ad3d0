"""A terminal's screen as a small SVG: one line of the file for each line of the screen.

Rich draws one too, but its picture names a host for fonts and ids that change, and is four times
as large. The fonts are whatever the reader's machine has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from html import escape, unescape

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

CELL_WIDTH, CELL_HEIGHT, FONT_SIZE = 9, 19, 15
_BASELINE = 14
_FONTS = "'DejaVu Sans Mono',Menlo,Consolas,monospace"
_GAP = re.compile(r"\s{2,}")
_LINE = re.compile(r"<text .*?</text>")


class ScreenPicture:
    """Draws strips; each look of text and each background has a class, numbered as they come."""

    def __init__(self, strips: Sequence[Strip]) -> None:
        """`strips` are all of one width, as the screen has it."""
        self._strips = strips
        self._looks: dict[str, str] = {}

    def svg(self) -> str:
        """The picture."""
        lines = [self._line(y, strip) for y, strip in enumerate(self._strips)]
        width = max(strip.cell_length for strip in self._strips) * CELL_WIDTH
        height = len(self._strips) * CELL_HEIGHT
        looks = "".join(f".{name}{{{look}}}" for look, name in self._looks.items())
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
            f'font-family="{_FONTS}" font-size="{FONT_SIZE}">'
        )
        style = f"<style>text{{white-space:pre}}rect{{shape-rendering:crispEdges}}{looks}</style>"
        return "\n".join([head, style, *lines, "</svg>", ""])

    def _line(self, y: int, strip: Strip) -> str:
        """The backgrounds of a line, then its words."""
        backs: list[tuple[str, int]] = []
        words: list[str] = []
        x = 0
        for text, style in _runs(strip):
            fore, back = _colours(style)
            backs += [(back, x)] if not backs or backs[-1][0] != back else []
            words += self._words(x, text, f"fill:{fore}{_weight(style)}")
            x += cell_len(text)
        ends = [begins for _, begins in backs[1:]] + [x]
        rects = "".join(
            f'<rect class="{self._look(f"fill:{back}")}" x="{begins * CELL_WIDTH}" '
            f'y="{y * CELL_HEIGHT}" width="{(end - begins) * CELL_WIDTH}" height="{CELL_HEIGHT}"/>'
            for (back, begins), end in zip(backs, ends, strict=True)
        )
        line = f'<text y="{y * CELL_HEIGHT + _BASELINE}">{"".join(words)}</text>'
        return rects + (line if words else "")

    def _words(self, x: int, text: str, look: str) -> Iterator[str]:
        """Text at a cell, without blanks at its ends, and cut where several blanks stand."""
        at = 0
        for gap in [*_GAP.finditer(text), None]:
            part = text[at : gap.start() if gap else len(text)]
            if words := part.strip():
                begins = x + cell_len(text[:at]) + len(part) - len(part.lstrip())
                where = f'x="{begins * CELL_WIDTH}" textLength="{cell_len(words) * CELL_WIDTH}"'
                shown = escape(words, quote=False)
                yield f'<tspan class="{self._look(look)}" {where}>{shown}</tspan>'
            at = gap.end() if gap else at

    def _look(self, look: str) -> str:
        return self._looks.setdefault(look, f"c{len(self._looks)}")


def _runs(strip: Strip) -> Iterator[tuple[str, Style]]:
    """The text of a line, in parts of one look each."""
    parts = [Segment(text, style or Style()) for text, style, _ in strip]
    for text, style, _ in Segment.simplify(parts):
        yield text, style or Style()


def _colours(style: Style) -> tuple[str, str]:
    """The colours of the text and behind it, as #rrggbb."""
    fore, back = (
        colour.get_truecolor().hex if colour is not None else default
        for colour, default in ((style.color, "#ffffff"), (style.bgcolor, "#000000"))
    )
    return (back, fore) if style.reverse else (fore, back)


def _weight(style: Style) -> str:
    return (
        (";font-weight:bold" if style.bold else "")
        + (";font-style:italic" if style.italic else "")
        + (";text-decoration:underline" if style.underline else "")
    )


def words_of(svg: str) -> list[str]:
    """The words of each line of a picture, to say in what two of them differ."""
    return [
        unescape(re.sub(r"<[^>]*>", " ", found.group())).strip() for found in _LINE.finditer(svg)
    ]
