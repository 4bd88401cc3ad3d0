"""How a sheet is drawn: the lines it has, and the segments of a line. Widths count cells."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from textwrap import wrap

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style

from fieldbook.languages.in_use import say
from fieldbook.screens.sheets.presses import Add
from fieldbook.screens.sheets.sheet import Cell, Mood, Row, Section, Sheet
from fieldbook.screens.sheets.table_layout import (
    GAP,
    MARGIN,
    NAME,
    SHORT_LABEL,
    Layout,
    tail_fits,
    words,
)
from fieldbook.screens.widgets.terminal_cells import blocks, fit, right

Styles = Callable[[str], Style]
"""Gives the style of a part by its name in style.tcss, such as "title", "value" or "cursor"."""
_HANGS = " "
"""Before titles and cautions: one cell less than before rows, so that they stand out."""
_MARK = "> "
"""Before the row under the cursor: in glare a colour alone is not seen."""
MORE_GAP = "   "
"""Between how many columns are left and how many are right of what is in view."""
_NUMBERS = ("amount", "whole")


@dataclass(frozen=True)
class Line:
    """One line of a drawn sheet. `told` is what follows a row, where it has no room beside it."""

    section: Section
    row: Row | None = None
    heads: bool = False
    blank: bool = False
    caution: str = ""
    told: str = ""
    mood: Mood = ""


@dataclass(frozen=True)
class Here:
    """The cursor on a line: the index of its cell or NAME, and what draws a field over it."""

    cell: int
    field: Callable[[int], list[Segment]] | None = None


def lines_of(sheet: Sheet, room: int) -> list[Line]:
    """Every line of a sheet in `room` cells, top to bottom."""
    return list(_lines(sheet, room))


def _lines(sheet: Sheet, room: int) -> Iterator[Line]:
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
            if row.tail and not tail_fits(section, row, room):
                yield from _told(section, row, room)


def _told(section: Section, row: Row, room: int) -> Iterator[Line]:
    """The lines below a row for what has no room behind its cells."""
    for part in wrap(row.tail, max(room - MARGIN - 2, 10)):
        yield Line(section, told=part, mood=row.tail_mood)


def segments(line: Line, layout: Layout, styles: Styles, here: Here | None) -> list[Segment]:
    """The segments of one line; `here` is the cursor, where it is on this line."""
    if line.blank:
        return []
    if line.heads:
        return _heads(line.section, layout, styles)
    if line.caution:
        return [Segment(_HANGS + line.caution, styles("tight"))]
    if line.told:
        return [Segment(" " * (MARGIN + 2) + line.told, styles(line.mood or "tail"))]
    if line.row is None:
        return _title(line.section, layout, styles)
    return _row(line, line.row, layout, styles, here)


def _row(line: Line, row: Row, layout: Layout, styles: Styles, here: Here | None) -> list[Segment]:
    """The mark of the cursor's row, the name, the cells in view, what follows them."""
    drawn = [Segment(_MARK if here else " " * MARGIN, styles("mark" if here else "label"))]
    at = here.cell if here is not None else None
    if width := layout.label_of(row):
        part = "label" if at is None else "cursor" if at == NAME else "here"
        drawn += _label(row, width, styles, part)
    in_table = layout.is_in_columns(row) and len(layout.widths) > 1
    for index, cell in enumerate(row.cells):
        if (span := layout.span(row, index)) is not None:
            under = here if at == index else None
            drawn += _cell(cell, span[1], styles, under, to_right=in_table)
            drawn.append(Segment(" " * GAP, styles("label")))
    if row.tail and tail_fits(line.section, row, layout.room):
        drawn += _tail(row, layout, styles)
    return drawn


def _tail(row: Row, layout: Layout, styles: Styles) -> list[Segment]:
    """What follows the cells: below each other, also behind a row with fewer of them."""
    lacks = layout.widths[len(row.cells) :] if layout.is_in_columns(row) else ()
    gap = Segment(" " * sum(width + GAP for width in lacks), styles("label"))
    return [gap, Segment(row.tail, styles(row.tail_mood or "tail"))]


def more_words(layout: Layout) -> tuple[str, str]:
    """How many columns are left and right of what is in view, in words; "" for none."""
    columns = "column" if layout.after == 1 else "columns"
    before = f"< {layout.before}" if layout.before else ""
    return before, say(f"{layout.after} more {columns} >") if layout.after else ""


def _title(section: Section, layout: Layout, styles: Styles) -> list[Segment]:
    """The title, and at its right which way there are more columns."""
    more = MORE_GAP.join(filter(None, more_words(layout)))
    room = layout.room - len(_HANGS)
    if not more:
        return [Segment(_HANGS + fit(section.title, room).rstrip(), styles("title"))]
    title = fit(section.title, room - cell_len(more) - GAP)
    return [Segment(f"{_HANGS}{title}{' ' * GAP}", styles("title")), Segment(more, styles("more"))]


def _label(row: Row, width: int, styles: Styles, part: str) -> list[Segment]:
    """The row's name, and beside it in a word how the thing on the row does."""
    gap = Segment(" " * GAP, styles("label"))
    if not row.beside:
        return [Segment(fit(row.label, width - GAP), styles(part)), gap]
    first = max(cell_len(row.label), SHORT_LABEL) + GAP
    mood = styles(row.mood or "label")
    return [
        Segment(fit(row.label, first - GAP), styles(part)),
        gap,
        Segment(fit(row.beside, width - GAP - first) + " " * GAP, mood),
    ]


def _heads(section: Section, layout: Layout, styles: Styles) -> list[Segment]:
    """The heads of the columns in view, over the row with the most cells."""
    row = max((row for row in section.rows if row.label), key=lambda row: len(row.cells))
    text = " " * (MARGIN + layout.label)
    for no, (head, cell) in enumerate(zip(section.heads, row.cells, strict=False)):
        if (span := layout.span(row, no)) is not None:
            to_right = cell.fact.kind in _NUMBERS and len(layout.widths) > 1
            text += (right if to_right else fit)(head, span[1]) + " " * GAP
    return [Segment(text.rstrip(), styles("head"))]


def _cell(
    cell: Cell, width: int, styles: Styles, under: Here | None, *, to_right: bool
) -> list[Segment]:
    if under is not None and under.field is not None:
        return under.field(width)
    style = styles("cursor" if under is not None else _part(cell))
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
    put = right if to_right and cell.fact.kind in _NUMBERS else fit
    return [*swatch, Segment(put(words(cell), width), style)]


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
