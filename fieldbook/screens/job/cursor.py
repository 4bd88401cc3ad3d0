"""The cursor on a sheet: the row and cell it is on, and the ways it moves."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fieldbook.checks.finding import CellRef
from fieldbook.screens.sheets.drawing import Line, lines_of
from fieldbook.screens.sheets.sheet import Cell, Row, Section, Sheet
from fieldbook.screens.sheets.table_layout import NAME, Layout
from fieldbook.trade.cautions import Caution


class Cursor:
    """A row and a cell of a sheet. Rows are counted without titles, heads and blank lines.

    Left of a row's first cell the cursor is on the row's name, and on no cell.

    It only knows where it is: the sheet's widget scrolls and paints (`SheetView.show_cursor`).
    """

    def __init__(self) -> None:
        """On an empty sheet; `show` gives it one."""
        self.lines: list[Line] = []
        self._rows: list[tuple[int, Line, Row]] = []
        """Of each row with cells: the line it is drawn on, that line, the row itself."""
        self.row_no = 0
        self._cell_no = 0
        self._sheet = Sheet(())

    def show(self, sheet: Sheet, room: int) -> None:
        """Move to another sheet: to the same cell where it is still there, else stay near.

        `room` is how many terminal cells its lines have.
        """
        here, on_name = self.row_cell, self.on_name
        self._sheet = sheet
        self.fit(room)
        if here is None or not self.go_to(here.at):
            self._put(self.row_no, self._cell_no)
        elif on_name:
            self._put(self.row_no, NAME)

    def fit(self, room: int) -> None:
        """Lay the lines out anew for another width; the cursor stays where it is."""
        self.lines = lines_of(self._sheet, room)
        self._rows = [
            (y, line, line.row) for y, line in enumerate(self.lines) if line.row and line.row.cells
        ]

    def forget(self) -> None:
        """Go to the top of whatever is shown next."""
        self.row_no = self._cell_no = 0
        self._rows = []

    @property
    def row(self) -> Row | None:
        """The row under the cursor; None on an empty sheet."""
        return self._rows[self.row_no][2] if self._rows else None

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of the section under the cursor."""
        return self.section.cautions if self.section is not None else ()

    @property
    def section(self) -> Section | None:
        """The section under the cursor; None on an empty sheet."""
        return self._rows[self.row_no][1].section if self._rows else None

    @property
    def on_name(self) -> bool:
        """Whether the cursor is on the name of its row."""
        return self._cell_no == NAME and self.row is not None and bool(self.row.label)

    @property
    def cell_no(self) -> int:
        """The index of the cell under the cursor in its row; NAME on the row's name."""
        if self.on_name:
            return NAME
        # Rows have different lengths: moving down keeps the column it came from in `_cell_no`.
        row = self.row
        return max(min(self._cell_no, len(row.cells) - 1), 0) if row else 0

    @property
    def cell(self) -> Cell | None:
        """The cell under the cursor; None on the name of a row, and on an empty sheet."""
        return None if self.on_name else self.row_cell

    @property
    def row_cell(self) -> Cell | None:
        """The cell under the cursor, or the first of the row whose name it is on."""
        row = self.row
        return row.cells[max(self.cell_no, 0)] if row else None

    @property
    def y(self) -> int:
        """The line of the sheet that the cursor is on; -1 on an empty sheet."""
        return self._rows[self.row_no][0] if self._rows else -1

    # to a cell

    def go_to(self, at: CellRef) -> bool:
        """Go to a cell, or to its row when the column has no cell; False when neither is there."""
        in_row: tuple[int, int] | None = None
        for row_no, (_, _, row) in enumerate(self._rows):
            for cell_no, cell in enumerate(row.cells):
                if cell.at == at:
                    self._put(row_no, cell_no)
                    return True
                if in_row is None and (cell.at.table, cell.at.row_id) == (at.table, at.row_id):
                    in_row = (row_no, cell_no)
        if in_row is not None:
            self._put(*in_row)
        return in_row is not None

    def go_to_point(self, x: int, y: int, layout_of: Callable[[Section], Layout]) -> None:
        """Go to the cell or the name at a column and a line; stay where there is no row.

        `layout_of` gives the layout that a section is drawn in.
        """
        for row_no, (line_no, line, row) in enumerate(self._rows):
            if line_no == y:
                self._put(row_no, layout_of(line.section).cell_at(row, x))

    # to what is still open

    def go_to_first_open(self) -> bool:
        """Go to the first cell that wants a value; False when there is none."""
        return self._to_open(range(len(self._rows)), first_cell=0)

    def next_open(self) -> bool:
        """Go to the next cell that wants a value down to the end of the sheet; False: none does."""
        order = range(self.row_no, len(self._rows))
        return self._to_open(order, first_cell=self.cell_no + 1)

    def go_on(self) -> None:
        """Go to the next cell: along the row, then to the next row, and skip none.

        At the end of a section a row that still lacks something is filled first.
        """
        if not self._rows:
            return
        row, same = self._rows[self.row_no][2], self._rows_of(self._rows[self.row_no][1].section)
        ends = self.cell_no + 1 == len(row.cells) and self.row_no == same[-1]
        if not ends or not self._to_open([self.row_no], first_cell=0):
            self.read(1)

    def read(self, step: int) -> None:
        """Go a cell on (1) or back (-1) in the order of reading, also into another row."""
        row = self.row
        if row is None:
            return
        cell_no, row_no = self.cell_no + step, self.row_no + step
        if 0 <= cell_no < len(row.cells):
            self._put(self.row_no, cell_no)
        elif 0 <= row_no < len(self._rows):
            last = len(self._rows[row_no][2].cells) - 1
            self._put(row_no, 0 if step > 0 else last)

    # by steps

    def move(self, down: int, right: int) -> None:
        """Go so many rows and cells on, as far as there are any; left of the first is the name."""
        cell_no = self.cell_no + right if right else self._cell_no
        if right and self.row is not None and not self.row.label:
            cell_no = max(cell_no, 0)
        self._put(self.row_no + down, cell_no)

    def to_edge(self, *, end: bool) -> None:
        """Go to the first or the last cell of the row."""
        self._put(self.row_no, len(self.row.cells) - 1 if end and self.row else 0)

    def move_section(self, step: int) -> None:
        """Go to the first row of the next (1) or previous (-1) section, as far as there is one."""
        firsts: list[int] = []
        for no in range(len(self._rows)):
            if not no or self._rows[no][1].section is not self._rows[no - 1][1].section:
                firsts.append(no)
        if not firsts:
            return
        if step > 0:
            wanted = next((no for no in firsts if no > self.row_no), firsts[-1])
        else:
            wanted = next((no for no in reversed(firsts) if no < self.row_no), firsts[0])
        self._put(wanted, 0)

    def _rows_of(self, section: Section) -> list[int]:
        return [no for no, (_, line, _) in enumerate(self._rows) if line.section is section]

    def _to_open(self, rows: Sequence[int], first_cell: int) -> bool:
        """Go to the first open cell of these rows; in the first of them from `first_cell` on."""
        for count, row_no in enumerate(rows):
            cells = self._rows[row_no][2].cells
            for cell_no in range(0 if count else first_cell, len(cells)):
                if cells[cell_no].open:
                    self._put(row_no, cell_no)
                    return True
        return False

    def _put(self, row_no: int, cell_no: int) -> None:
        self.row_no = max(0, min(row_no, len(self._rows) - 1))
        self._cell_no = max(NAME, cell_no)
