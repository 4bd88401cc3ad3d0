"""Where the cells of a section stand on a screen of some width. All figures are terminal cells.

A column is as wide as the widest of what stands in it, so nothing in it is cut. Columns for which
there is no room are left out whole, and the section's title says how many.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from rich.cells import cell_len

from fieldbook.screens.sheets.sheet import Cell, Row, Section

GAP, MARGIN = 1, 2
NAME = -1
"""In place of the index of a cell: the name of the row, before its cells."""
SHORT_LABEL = 5
_LABELS_PART = 3
"""Labels take a third of the room at most, where the sheet does not give them more."""


@dataclass(frozen=True)
class Layout:
    """The columns of a section: their widths, the first in view, how many are in view from it."""

    room: int
    label: int
    widths: tuple[int, ...]
    first: int = 0
    shown: int = 0

    @property
    def before(self) -> int:
        """How many columns are left of what is in view."""
        return self.first

    @property
    def after(self) -> int:
        """How many columns are right of what is in view."""
        return len(self.widths) - self.first - self.shown

    def is_in_columns(self, row: Row) -> bool:
        """Whether a row's cells stand in the columns; else its one cell has a width of its own."""
        if not row.label:
            return False
        return len(row.cells) > 1 or row.cells[0].width <= self.widths[0] if row.cells else False

    def label_of(self, row: Row) -> int:
        """The width of a row's name with the gap behind it; rows that add have none."""
        return self.label if row.label else 0

    def span(self, row: Row, index: int) -> tuple[int, int] | None:
        """Where a cell begins and how wide it is; None where it is not in view."""
        left = MARGIN + self.label_of(row)
        if not self.is_in_columns(row):
            wanted = max(row.cells[index].width, cell_len(words(row.cells[index])))
            return left, max(min(wanted, self.room - left), 1)
        if not self.first <= index < self.first + self.shown:
            return None
        left += sum(self.widths[self.first : index]) + GAP * (index - self.first)
        return left, max(min(self.widths[index], self.room - left), 1)

    def cell_at(self, row: Row, x: int) -> int:
        """The index of the cell at a column of the terminal; NAME left of all of them."""
        if row.label and x < MARGIN + self.label_of(row):
            return NAME
        spans = [(no, self.span(row, no)) for no in range(len(row.cells))]
        return max((no for no, span in spans if span and span[0] <= x), default=self.first)


def layout_of(section: Section, room: int) -> Layout:
    """The layout of a section in `room`, from its first column on."""
    return _begun_at(Layout(room, _label_width(section, room), tuple(_widths(section)), 0, 0), 0)


def _begun_at(layout: Layout, first: int) -> Layout:
    """The layout scrolled to its column `first`."""
    left, shown = MARGIN + layout.label, 0
    for width in layout.widths[first:]:
        if shown and left + width > layout.room:
            break
        left += width + GAP
        shown += 1
    return replace(layout, first=first, shown=shown)


def layout_with(
    layout: Layout, first: int, column: int, typed: tuple[int, int] | None = None
) -> Layout:
    """The layout scrolled as little as possible from `first` so that `column` is in view.

    `typed` is the column that is typed into and the width its text needs: the column grows with
    the text, so that the field covers no cell beside it.
    """
    if typed is not None and typed[0] < len(layout.widths):
        widths = list(layout.widths)
        widths[typed[0]] = max(widths[typed[0]], typed[1])
        layout = replace(layout, widths=tuple(widths))
    layout = _begun_at(layout, min(first, max(column, 0)))
    while column >= layout.first + layout.shown and layout.after:
        layout = _begun_at(layout, layout.first + 1)
    return layout


def tail_fits(section: Section, row: Row, room: int) -> bool:
    """Whether what follows a row's cells has room behind them."""
    layout = layout_of(section, room)
    cells = layout.widths if row.cells and row.label else ()
    left = MARGIN + layout.label_of(row) + sum(cells) + GAP * len(cells)
    return left + cell_len(row.tail) <= room


def words(cell: Cell) -> str:
    """What stands in a cell: its value, or a mark that says one is wanted."""
    if cell.text:
        return cell.text
    if cell.open:
        return "____" if cell.fact.kind != "tick" else "[ ]"
    return "[ ]" if cell.fact.kind == "tick" else "·"


def _columns(section: Section) -> int:
    return max((len(row.cells) for row in section.rows if row.label), default=0)


def _widths(section: Section) -> list[int]:
    columns = _columns(section)
    widths = [cell_len(head) for head in section.heads[:columns]]
    widths += [0] * (columns - len(widths))
    for row in section.rows:
        if row.label and len(row.cells) in (columns, *range(2, columns)):
            for no, cell in enumerate(row.cells):
                swatch = 3 if cell.swatch is not None else 0
                widths[no] = max(widths[no], cell.width, cell_len(words(cell)) + swatch)
    return widths


def _label_width(section: Section, room: int) -> int:
    widest = max((_label_needs(row) for row in section.rows if row.label), default=0)
    most = max(room // _LABELS_PART, min(section.label_width, room // 2))
    return min(max(widest, 0 if section.heads else section.label_width), most)


def _label_needs(row: Row) -> int:
    first = cell_len(row.label) + GAP
    if not row.beside:
        return first
    return max(first, SHORT_LABEL + GAP) + cell_len(row.beside) + GAP
