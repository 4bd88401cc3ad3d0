"""The drawing of a sheet: its lines, its cursor, the field that is typed into, what is in view."""

from __future__ import annotations

from typing import ClassVar, Protocol

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from fieldbook.screens.job.cursor import Cursor
from fieldbook.screens.job.line_edit import LineEdit, field_segments
from fieldbook.screens.sheets.drawing import Line, label_end, line_width, segments
from fieldbook.screens.sheets.sheet import Cell, Sheet

_PARTS = (
    "title",
    "head",
    "label",
    "value",
    "open",
    "absent",
    "good",
    "tight",
    "bad",
    "add",
    "tail",
)
_LEAST_FIELD = 14
_ROOM_BESIDE = 8
"""Fewest lines of a view that shows what stands above and below the cursor too."""
_NEAR = 3
"""How many lines below the cursor the next row may stand: a blank line, a title and its heads."""


class SheetHost(Protocol):
    """What a sheet tells the screen it is on."""

    def moved(self, cell: Cell | None) -> None:
        """The cursor is on this cell now."""

    def typing(self, cell: Cell) -> None:
        """The cell's field was opened."""

    def do(self, name: str) -> None:
        """An action of the keymap is asked for."""

    def say(self, sentence: str) -> None:
        """A sentence is to be shown under the sheet."""

    def paste(self, text: str) -> None:
        """A table was pasted on the cell under the cursor."""


class SheetCanvas(ScrollView, can_focus=True):
    """Draws a sheet line by line, and over the cursor's cell the field that is typed into."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        f"sheet--{part}" for part in (*_PARTS, "cursor", "field", "caret")
    }

    def __init__(self, host: SheetHost) -> None:
        """An empty sheet; `show` fills it."""
        super().__init__(id="sheet")
        self._host = host
        self.cursor = Cursor()
        self._edit: LineEdit | None = None
        self._painted_y = 0

    # what is shown

    def show(self, sheet: Sheet) -> None:
        """Draw another sheet; the cursor stays on its cell where that is still there."""
        self._edit = None
        self.cursor.show(sheet)
        width = max((line_width(line) for line in self.cursor.lines), default=0)
        self.virtual_size = Size(width, len(self.cursor.lines))
        self.show_cursor()
        self.refresh()

    def show_cursor(self) -> None:
        """Bring the cursor into view, paint it, and report its cell."""
        if self.cursor.row is not None:
            self._bring_into_view()
        self._paint(self._painted_y, self.cursor.y)
        self._painted_y = self.cursor.y
        self._host.moved(self.cursor.cell)

    def _paint(self, *lines: int) -> None:
        """Draw these lines of the sheet again and no others, so that moving the cursor is cheap."""
        down, width = int(self.scroll_offset.y), self.size.width
        self.refresh(*(Region(0, y - down, width, 1) for y in lines if y >= down))

    def _bring_into_view(self) -> None:
        """Scroll so that the cell is seen, the rows beside it, a first row's title and heads."""
        region, y = self.cursor.region(), self.cursor.y
        held, size = label_end(self.cursor.lines[y]), self.scrollable_content_region.size
        # The line above and the one below say where the next key leads.
        beside = 1 if size.height >= _ROOM_BESIDE else 0
        top = max(y - beside, 0)
        while top > 0 and self.cursor.lines[top - 1].row is None:
            top -= 1
        bottom = y
        # What stands below a row and holds no cell, such as the colours of marks, belongs to it.
        while bottom + 1 < len(self.cursor.lines) and _is_told(self.cursor.lines[bottom + 1]):
            bottom += 1
        bottom = self._next_row(bottom) if beside else bottom
        x, down = int(self.scroll_offset.x), int(self.scroll_offset.y)
        x = max(x, region.right - size.width) if size.width else x
        # The view begins with a whole cell: half a value beside the label would read as another.
        x = next((left for left in self.cursor.lefts() if left - held >= x), region.x) - held
        down = max(down, bottom - size.height + 1) if size.height else down
        self.scroll_to(x, min(down, top), animate=False, force=True)

    def _next_row(self, y: int) -> int:
        """The line of the next row below with cells, where it is near; else `y`."""
        below = enumerate(self.cursor.lines[y + 1 : y + 1 + _NEAR], y + 1)
        return next((no for no, line in below if line.row is not None and line.row.cells), y)

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        scroll_x, scroll_y = self.scroll_offset
        line_no = y + scroll_y
        base = self.rich_style
        if line_no >= len(self.cursor.lines):
            return Strip.blank(self.size.width, base)
        line = self.cursor.lines[line_no]
        here = line_no == self.cursor.y
        drawn = segments(line, self._part, self.cursor.cell_no if here else None)
        strip = Strip(drawn)
        if here and self._edit is not None:
            strip = self._with_field(strip)
        # What has one cell, such as "+ a run", fits and would lose its first words.
        if scroll_x and (line.row is None or len(line.row.cells) > 1):
            # The row's label stays in sight while its cells scroll under it.
            held = label_end(line)
            cells = strip.crop(held + scroll_x, scroll_x + self.size.width)
            strip = Strip.join([strip.crop(0, held), cells])
        strip = strip.crop(0, self.size.width)
        return strip.extend_cell_length(self.size.width, base)

    def _with_field(self, strip: Strip) -> Strip:
        """The line, with the field that is typed into laid over its cell."""
        assert self._edit is not None
        region, scroll_x = self.cursor.region(), self.scroll_offset.x
        room = max(self.scrollable_content_region.width + scroll_x - region.x, 1)
        width = min(max(region.width, _LEAST_FIELD), room)
        field: list[Segment] = field_segments(self._edit, width, self._part)
        strip = strip.extend_cell_length(region.x + width)
        after = strip.crop(region.x + width, strip.cell_length)
        return Strip.join([strip.crop(0, region.x), Strip(field), after])

    def _part(self, part: str) -> Style:
        return self.get_component_rich_style(f"sheet--{part}")

    def on_resize(self) -> None:
        """Keep the cursor in view; a sentence under the sheet, whose height did it, stays."""
        if self.cursor.row is not None:
            self._bring_into_view()
        self.refresh()


def _is_told(line: Line) -> bool:
    """Whether a line is a row without cells, which the cursor can't reach."""
    return line.row is not None and not line.row.cells
