"""How a sheet is drawn: the lines it has, and the segments of a line. Widths count cells."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style

from fieldbook.screens.sheets.presses import Add
from fieldbook.screens.sheets.sheet import Cell, Row, Section, Sheet
from fieldbook.screens.widgets.terminal_cells import blocks, fit

Styles = Callable[[str], Style]
"""Gives the style of a part by its name in style.tcss, such as "title", "value" or "cursor"."""
GAP = 1
_MARGIN = 1
_SHORT_LABEL = 5


@dataclass(frozen=True)
class Line:
    """One line of a drawn sheet."""

    section: Section
    row: Row | None = None
    heads: bool = False
    blank: bool = False
    caution: str = ""


def lines_of(sheet: Sheet) -> list[Line]:
    """Every line of a sheet, top to bottom."""
    return list(_lines(sheet))


def _lines(sheet: Sheet) -> Iterator[Line]:
    for count, section in enumerate(sheet.sections):
        if count and section.title:
            yield Line(section, blank=True)
        if section.title:
            yield Line(section)
        yield from (Line(section, caution=caution.line) for caution in section.cautions)
        if section.heads and any(len(row.cells) > 1 or row.label for row in section.rows):
            yield Line(section, heads=True)
        for row in section.rows:
            yield Line(section, row)


def cell_left(section: Section, row: Row, index: int) -> int:
    """The column of the terminal where a cell begins."""
    before = row.cells[:index]
    return _MARGIN + _label_width(section, row) + sum(cell.width + GAP for cell in before)


def label_end(line: Line) -> int:
    """The column of the terminal where a line's label ends and its cells begin."""
    if line.row is not None:
        return _MARGIN + _label_width(line.section, line.row)
    if line.heads:
        return _MARGIN + line.section.label_width
    return _MARGIN + cell_len(line.caution or line.section.title)


def line_width(line: Line) -> int:
    """How many terminal cells a line needs."""
    if line.row is None:
        return _MARGIN + cell_len(line.caution or line.section.title)
    cells = sum(cell.width + GAP for cell in line.row.cells)
    return _MARGIN + _label_width(line.section, line.row) + cells + cell_len(line.row.tail)


def segments(line: Line, styles: Styles, cursor: int | None) -> list[Segment]:
    """The segments of one line; `cursor` is the index of the cell under the cursor."""
    if line.blank:
        return []
    margin = Segment(" " * _MARGIN, styles("label"))
    if line.heads:
        return [margin, *_heads(line.section, styles)]
    if line.caution:
        return [margin, Segment(line.caution, styles("tight"))]
    if line.row is None:
        return [margin, Segment(line.section.title, styles("title"))]
    row = line.row
    drawn = [margin]
    if width := _label_width(line.section, row):
        drawn += _label(row, width, styles)
    for index, cell in enumerate(row.cells):
        drawn += _cell(cell, styles, under_cursor=index == cursor)
        drawn.append(Segment(" " * GAP, styles("label")))
    if row.tail:
        drawn.append(Segment(row.tail, styles(row.tail_mood or "tail")))
    return drawn


def _label(row: Row, width: int, styles: Styles) -> list[Segment]:
    """The label, and beside it in a word how the thing on the row does."""
    if not row.beside:
        return [Segment(fit(row.label, width - GAP) + " " * GAP, styles("label"))]
    first = max(cell_len(row.label), _SHORT_LABEL) + GAP
    mood = styles(row.mood or "label")
    return [
        Segment(fit(row.label, first), styles("label")),
        Segment(fit(row.beside, width - GAP - first) + " " * GAP, mood),
    ]


def _label_width(section: Section, row: Row) -> int:
    """The width of a row's label; rows that add have none and begin at the margin."""
    return section.label_width if row.label else 0


def _heads(section: Section, styles: Styles) -> list[Segment]:
    """Column heads over the row with the most cells."""
    row = max((row for row in section.rows if row.label), key=lambda row: len(row.cells))
    text = " " * section.label_width
    for head, cell in zip(section.heads, row.cells, strict=False):
        text += fit(head, cell.width) + " " * GAP
    return [Segment(text.rstrip(), styles("head"))]


def _cell(cell: Cell, styles: Styles, *, under_cursor: bool) -> list[Segment]:
    style = styles("cursor" if under_cursor else _part(cell))
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


def _part(cell: Cell) -> str:
    """The part of the stylesheet that a cell is drawn with."""
    if cell.mood:
        return cell.mood
    if isinstance(cell.press, Add):
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
