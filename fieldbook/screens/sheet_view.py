"""A sheet on the screen: the cursor, the keys that move it, and the cell being typed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from fieldbook.actions.registry import action_for
from fieldbook.checks.finding import At
from fieldbook.screens.drawing import Line, cell_left, line_width, lines_of, segments
from fieldbook.screens.places.sheet import Cell, Option, Row, Sheet

_MOVES = {
    "up": (-1, 0),
    "down": (1, 0),
    "left": (0, -1),
    "right": (0, 1),
}


class SheetView(ScrollView, can_focus=True):
    """Draws a sheet and turns keys into messages; it changes nothing itself."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        f"sheet--{part}"
        for part in (
            "title",
            "head",
            "label",
            "value",
            "open",
            "absent",
            "bad",
            "add",
            "cursor",
            "tail",
        )
    }

    cursor: reactive[tuple[int, int]] = reactive((0, 0), repaint=False)

    @dataclass
    class Moved(Message):
        """The cursor is on another cell (None on an empty sheet)."""

        cell: Cell | None

    @dataclass
    class Edit(Message):
        """The cell is to be typed into, starting with `text` (None: with its value)."""

        cell: Cell
        text: str | None

    @dataclass
    class Ticked(Message):
        """Space on a tick, or on a cell that does something."""

        cell: Cell

    @dataclass
    class Picked(Message):
        """One of the cell's options was picked by its key."""

        cell: Cell
        option: Option

    @dataclass
    class Chosen(Message):
        """Enter on a cell that is not typed into: a choice, or something done."""

        cell: Cell

    def __init__(self, *, id: str | None = None) -> None:
        """An empty sheet; `show` fills it."""
        super().__init__(id=id)
        self._lines: list[Line] = []
        self._stops: list[int] = []
        self._sheet = Sheet(())

    # what is shown

    def show(self, sheet: Sheet) -> None:
        """Draw another sheet, the cursor kept where it can be."""
        at = self.cell.at if self.cell else None
        self._sheet = sheet
        self._lines = lines_of(sheet)
        self._stops = [y for y, line in enumerate(self._lines) if line.row and line.row.cells]
        width = max((line_width(line) for line in self._lines), default=0)
        self.virtual_size = Size(width, len(self._lines))
        if at is None or not self.go_to(at):
            row = min(self.cursor[0], max(len(self._stops) - 1, 0))
            self.cursor = (row, self.cursor[1])
            self._settle()
        self.refresh()

    @property
    def row(self) -> Row | None:
        """The row under the cursor."""
        if not self._stops:
            return None
        return self._lines[self._stops[self.cursor[0]]].row

    @property
    def cell(self) -> Cell | None:
        """The cell under the cursor."""
        row = self.row
        return row.cells[min(self.cursor[1], len(row.cells) - 1)] if row else None

    def cell_region(self) -> Region:
        """Where the cell under the cursor is drawn, in the sheet's own coordinates."""
        row, cell = self.row, self.cell
        if row is None or cell is None:
            return Region()
        y = self._stops[self.cursor[0]]
        x = cell_left(self._lines[y].section, row, min(self.cursor[1], len(row.cells) - 1))
        return Region(x, y, cell.width, 1)

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        scroll_x, scroll_y = self.scroll_offset
        line_no = y + scroll_y
        base = self.rich_style
        if line_no >= len(self._lines):
            return Strip.blank(self.size.width, base)
        under = None
        if self._stops and self._stops[self.cursor[0]] == line_no and self.cell is not None:
            row = self.row
            under = min(self.cursor[1], len(row.cells) - 1) if row else None
        drawn: list[Segment] = segments(self._lines[line_no], self._style, under)
        strip = Strip(drawn).crop(scroll_x, scroll_x + self.size.width)
        return strip.extend_cell_length(self.size.width, base).apply_style(Style())

    def _style(self, part: str) -> Style:
        return self.get_component_rich_style(f"sheet--{part}")

    # where the cursor is

    def go_to(self, at: At) -> bool:
        """Put the cursor on a cell, or on its row when that column has no cell."""
        rough: tuple[int, int] | None = None
        for row_no, y in enumerate(self._stops):
            row = self._lines[y].row
            assert row is not None
            for cell_no, cell in enumerate(row.cells):
                if cell.at == at:
                    self._put(row_no, cell_no)
                    return True
                if rough is None and (cell.at.table, cell.at.row_id) == (at.table, at.row_id):
                    rough = (row_no, cell_no)
        if rough is not None:
            self._put(*rough)
        return rough is not None

    def go_to_first_open(self) -> bool:
        """Put the cursor on the first cell that wants a value."""
        return self._go_to_open(list(range(len(self._stops))), after=None)

    def go_on(self) -> None:
        """On to the next open cell of the section, else its add-line, else the next open cell."""
        here = self.cursor
        section = self._lines[self._stops[here[0]]].section
        rows = range(len(self._stops))
        same = [no for no in rows if self._lines[self._stops[no]].section is section]
        later = [no for no in same if no >= here[0]]
        if self._go_to_open(later, after=here):
            return
        if self._go_to_open([no for no in same if no < here[0]], after=None):
            return
        if self._is_add(same[-1]) and same[-1] != here[0]:
            self._put(same[-1], 0)
            return
        if not self.next_open():
            self._put(min(here[0] + 1, len(self._stops) - 1), here[1])

    def next_open(self) -> bool:
        """On to the next open cell of the whole sheet, round its end."""
        row = self.cursor[0]
        order = [*range(row, len(self._stops)), *range(row + 1)]
        return self._go_to_open(order, after=self.cursor)

    def move_down(self) -> None:
        """The same column, one row down."""
        self._put(min(self.cursor[0] + 1, max(len(self._stops) - 1, 0)), self.cursor[1])

    def move_up(self) -> None:
        """The same column, one row up."""
        self._put(max(self.cursor[0] - 1, 0), self.cursor[1])

    def move_section(self, step: int) -> None:
        """To the first row of the next or previous section."""
        if not self._stops:
            return
        firsts: list[int] = []
        for no, y in enumerate(self._stops):
            if not no or self._lines[y].section is not self._lines[self._stops[no - 1]].section:
                firsts.append(no)
        here = self.cursor[0]
        if step > 0:
            wanted = next((no for no in firsts if no > here), firsts[0])
        else:
            wanted = next((no for no in reversed(firsts) if no < here), firsts[-1])
        self._put(wanted, 0)

    def _go_to_open(self, rows: list[int], after: tuple[int, int] | None) -> bool:
        for count, row_no in enumerate(rows):
            row = self._lines[self._stops[row_no]].row
            assert row is not None
            start = after[1] + 1 if after and count == 0 and row_no == after[0] else 0
            for cell_no in range(start, len(row.cells)):
                if row.cells[cell_no].open:
                    self._put(row_no, cell_no)
                    return True
        return False

    def _is_add(self, row_no: int) -> bool:
        row = self._lines[self._stops[row_no]].row
        return row is not None and row.cells[0].act.startswith("add ")

    def _put(self, row_no: int, cell_no: int) -> None:
        self.cursor = (row_no, cell_no)
        self._settle()

    def _settle(self) -> None:
        """Bring the cursor into view and tell where it is."""
        if self._stops:
            region = self.cell_region()
            top = self.cursor[0] == 0
            shown = Region(0, 0, 1, 1) if top else region
            self.scroll_to_region(shown, animate=False, force=True)
            if top or region.right > self.size.width:
                self.scroll_to_region(region, animate=False, force=True)
        self.refresh()
        self.post_message(self.Moved(self.cell))

    # keys

    def on_key(self, event: events.Key) -> None:
        """Move, pick, tick, or begin to type; whatever else goes on to the screen."""
        cell = self.cell
        if cell is None or not self._stops:
            return
        taken = self._move(event.key) or self._begin(cell, event)
        if taken:
            event.stop()
            event.prevent_default()

    def _move(self, key: str) -> bool:
        row_no, cell_no = self.cursor
        row = self.row
        assert row is not None
        last = len(row.cells) - 1
        if key in _MOVES:
            down, right = _MOVES[key]
            row_no = max(0, min(len(self._stops) - 1, row_no + down))
            if right:
                cell_no = max(0, min(last, min(cell_no, last) + right))
        elif key == "home":
            cell_no = 0
        elif key == "end":
            cell_no = last
        else:
            return False
        self._put(row_no, cell_no)
        return True

    def _begin(self, cell: Cell, event: events.Key) -> bool:
        """Whether the key was one for the cell itself."""
        if event.key == "enter":
            self.post_message(self._entered(cell))
            return True
        if event.key == "space" and (cell.fact.kind == "tick" or cell.act):
            self.post_message(self.Ticked(cell))
            return True
        char = event.character if event.is_printable else None
        if char is None or action_for(event.key, "place", typing=cell.takes_text):
            return False
        option = next((one for one in cell.options if one.key == char.lower()), None)
        if cell.fact.kind == "colour" and option is not None:
            self.post_message(self.Picked(cell, option))
            return True
        if cell.act and cell.act != "conductors":
            return False
        self.post_message(self.Edit(cell, char if char.strip() else ""))
        return True

    def _entered(self, cell: Cell) -> Message:
        chosen = cell.fact.kind in ("choice", "link", "tick", "colour")
        if chosen or (cell.act and cell.act != "conductors"):
            return self.Chosen(cell)
        return self.Edit(cell, None)

    def on_click(self, event: events.Click) -> None:
        """Put the cursor where the mouse points."""
        y = event.y + self.scroll_offset.y
        x = event.x + self.scroll_offset.x
        if y not in self._stops:
            return
        line = self._lines[y]
        assert line.row is not None
        lefts = [cell_left(line.section, line.row, no) for no in range(len(line.row.cells))]
        self._put(
            self._stops.index(y), max((no for no, at in enumerate(lefts) if at <= x), default=0)
        )
