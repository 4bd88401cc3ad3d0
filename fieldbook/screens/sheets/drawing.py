"""How a sheet is drawn: its lines, and the segments of one line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style

from fieldbook.screens.job.line_edit import LineEdit
from fieldbook.screens.sheets.sheet import Cell, Mood, Row, Section, Sheet
from fieldbook.screens.widgets.text import fit
from fieldbook.trade.colours import pattern

Styles = Callable[[str], Style]
"""Gives the style of a part: title, label, value, open, absent, cursor, tail ..."""
GAP = 1
_MARGIN = 1
_SHORT_LABEL = 5
_NEAR_BLACK, _NEAR_WHITE = 0x30, 0xE0
_GRAY = "#8c8c8c"


@dataclass(frozen=True)
class Line:
    """One line of a drawn sheet."""

    section: Section
    row: Row | None = None
    heads: bool = False
    blank: bool = False


def lines_of(sheet: Sheet) -> list[Line]:
    """Every line of a sheet, top to bottom."""
    return list(_lines(sheet))


def _lines(sheet: Sheet) -> Iterator[Line]:
    for count, section in enumerate(sheet.sections):
        if count and section.title:
            yield Line(section, blank=True)
        if section.title:
            yield Line(section)
        if section.heads and any(len(row.cells) > 1 or row.label for row in section.rows):
            yield Line(section, heads=True)
        for row in section.rows:
            yield Line(section, row)


def cell_left(section: Section, row: Row, index: int) -> int:
    """The column where a cell begins."""
    before = row.cells[:index]
    return _MARGIN + _label_width(section, row) + sum(cell.width + GAP for cell in before)


def label_end(line: Line) -> int:
    """The column where a line's label ends and its cells begin."""
    if line.row is not None:
        return _MARGIN + _label_width(line.section, line.row)
    return _MARGIN + (line.section.label_width if line.heads else len(line.section.title))


def line_width(line: Line) -> int:
    """How many columns a line needs."""
    if line.row is None:
        return _MARGIN + len(line.section.title)
    cells = sum(cell.width + GAP for cell in line.row.cells)
    return _MARGIN + _label_width(line.section, line.row) + cells + len(line.row.tail)


def segments(line: Line, styles: Styles, cursor: int | None) -> list[Segment]:
    """The segments of one line; `cursor` is the index of the cell under the cursor."""
    if line.blank:
        return []
    margin = Segment(" " * _MARGIN, styles("label"))
    if line.heads:
        return [margin, *_heads(line.section, styles)]
    if line.row is None:
        return [margin, Segment(line.section.title, styles("title"))]
    row = line.row
    drawn = [margin]
    if width := _label_width(line.section, row):
        drawn += _label(row, width, styles)
    for index, cell in enumerate(row.cells):
        drawn += _cell(cell, styles, index == cursor, row.mood)
        drawn.append(Segment(" " * GAP, styles("label")))
    if row.tail:
        drawn.append(Segment(row.tail, styles("tail")))
    return drawn


def typed_segments(edit: LineEdit, width: int, styles: Styles) -> list[Segment]:
    """The field that is typed into, exactly `width` cells, its caret standing out."""
    text, caret = edit.window(width)
    under = text[caret : caret + 1] or " "
    rest = fit(text[caret + 1 :], max(width - cell_len(text[:caret] + under), 0))
    return [
        Segment(text[:caret], styles("field")),
        Segment(under, styles("caret")),
        Segment(rest, styles("field")),
    ]


def blocks(swatch: tuple[str, str | None]) -> list[tuple[str, str, str]]:
    """A swatch as two blocks: character, colour, colour behind it.

    The second has the stripe's colour, else a pattern that is the colour's own. Near black and near
    white are hatched over gray, so that they show on either theme.
    """
    base, stripe = swatch
    return [_block(base), _block(stripe) if stripe else (pattern(base), base, _GRAY)]


def _block(colour: str) -> tuple[str, str, str]:
    levels = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]
    hatched = max(levels) < _NEAR_BLACK or min(levels) > _NEAR_WHITE
    return ("▓", colour, _GRAY) if hatched else ("█", colour, colour)


def _label(row: Row, width: int, styles: Styles) -> list[Segment]:
    """The label, and beside it how what the row stands for is."""
    if not row.beside:
        return [Segment(fit(row.label, width - GAP) + " " * GAP, styles("label"))]
    first = max(cell_len(row.label), _SHORT_LABEL) + GAP
    mood = styles(row.mood or "label")
    return [
        Segment(fit(row.label, first), styles("label")),
        Segment(fit(row.beside, width - GAP - first) + " " * GAP, mood),
    ]


def _label_width(section: Section, row: Row) -> int:
    """Add-lines have no label and start at the margin."""
    return section.label_width if row.label else 0


def _heads(section: Section, styles: Styles) -> list[Segment]:
    """Column heads over the row with the most cells."""
    row = max((row for row in section.rows if row.label), key=lambda row: len(row.cells))
    text = " " * section.label_width
    for head, cell in zip(section.heads, row.cells, strict=False):
        text += fit(head, cell.width) + " " * GAP
    return [Segment(text.rstrip(), styles("head"))]


def _cell(cell: Cell, styles: Styles, under_cursor: bool, mood: Mood) -> list[Segment]:
    look = mood if mood and cell.act == "water" else _look(cell)
    style = styles("cursor") if under_cursor else styles(look)
    text, width = _words(cell), cell.width
    swatch: list[Segment] = []
    if cell.swatch is not None and width > 4:
        swatch = [
            *(
                Segment(char, Style(color=fore, bgcolor=back))
                for char, fore, back in blocks(cell.swatch)
            ),
            Segment(" ", style),
        ]
        width -= 3
    return [*swatch, Segment(fit(text, width), style)]


def _look(cell: Cell) -> str:
    """The component that draws a cell."""
    if cell.act.startswith("add "):
        return "add"
    if cell.open:
        return "open"
    if cell.text == "NO":
        return "bad"
    return "value" if cell.text not in ("", "-") else "absent"


def _words(cell: Cell) -> str:
    """What stands in a cell: its value, or a mark that says one is wanted."""
    if cell.text:
        return cell.text
    if cell.open:
        return "____" if cell.fact.kind != "tick" else "[ ]"
    return "[ ]" if cell.fact.kind == "tick" else "·"
