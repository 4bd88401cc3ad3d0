"""The drawing of a sheet: its lines, its cursor, the field that is typed into, what is in view."""

from __future__ import annotations

from typing import ClassVar, Protocol

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region, Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from fieldbook.screens.job.cursor import Cursor
from fieldbook.screens.job.line_edit import LineEdit, field_segments
from fieldbook.screens.sheets.drawing import MORE_GAP, Here, Line, more_words, segments
from fieldbook.screens.sheets.sheet import Cell, Section, Sheet
from fieldbook.screens.sheets.table_layout import Layout, layout_of, layout_with

_PARTS = (
    "title",
    "more",
    "head",
    "label",
    "here",
    "mark",
    "value",
    "open",
    "absent",
    "good",
    "tight",
    "bad",
    "add",
    "tail",
)
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
    """Draws a sheet line by line, and over the cursor's cell the field that is typed into.

    A table that is wider than the screen shows whole columns. The section of the cursor is scrolled
    so that its cell is in view; the others begin with their first column. While the cursor's
    section goes on above the view, its title and heads stay on the first lines.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        f"sheet--{part}" for part in (*_PARTS, "cursor", "field", "caret")
    }

    def __init__(self, host: SheetHost) -> None:
        """An empty sheet; `show` fills it."""
        self._drawn: dict[int, tuple[Line, Layout, Strip]] = {}
        """By the id() of its line, each with it: what was drawn of it without the cursor."""
        self._styles: dict[str, Style] = {}
        """By the part of the sheet that is drawn in it; "" is the sheet's own."""
        super().__init__(id="sheet")
        self._host = host
        self.cursor = Cursor()
        self._edit: LineEdit | None = None
        self._painted_y = 0
        self._layouts: dict[int, tuple[Section, Layout]] = {}
        """By the id() of its section, each with it."""
        self._scrolled: Layout | None = None
        """The layout of the cursor's section, with its columns scrolled."""
        self._scrolled_section: Section | None = None
        self._scrolled_title = ""
        """The title of that section: it finds the section again on a sheet that is built anew."""
        self._header: list[int] = []
        """The lines of the title and the heads of the cursor's table."""
        self._pinned: list[Line] = []
        """The lines that stay on top while the cursor's table goes on above the view."""

    # what is shown

    @property
    def _room(self) -> int:
        # The size is 0 before the first layout.
        return self.scrollable_content_region.width or 80

    def show(self, sheet: Sheet) -> None:
        """Draw another sheet; the cursor stays on its cell where that is still there."""
        self._edit = None
        self.cursor.show(sheet, self._room)
        self._forget_layouts()
        self.show_cursor()
        self.refresh()

    def _forget_layouts(self) -> None:
        self._layouts.clear()
        self._drawn.clear()
        self.virtual_size = Size(self._room, len(self.cursor.lines))

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

    def layout_of_section(self, section: Section) -> Layout:
        """Where the cells of a section stand now."""
        # Until the cursor is shown where it went, what is scrolled is the section that it left.
        if section is self._scrolled_section and self._scrolled is not None:
            return self._scrolled
        return self._layout(section)

    def _layout(self, section: Section) -> Layout:
        """The layout of a section whose columns are not scrolled."""
        # To lay out 48 rows takes longer than to draw what is in view of them.
        if id(section) not in self._layouts:
            # Kept with it, as the id() of a section that is gone may be that of another.
            self._layouts[id(section)] = section, layout_of(section, self._room)
        return self._layouts[id(section)][1]

    def _scroll_columns(self) -> None:
        """Bring the column of the cursor into view; another section begins at its first again."""
        section, row, before = self.cursor.section, self.cursor.row, self._scrolled
        if section is None or row is None:
            return
        stays = before is not None and section.title == self._scrolled_title
        first = before.first if before is not None and stays else 0
        layout, column = self._layout(section), self.cursor.cell_no
        typed = None
        if self._edit is not None and layout.is_in_columns(row):
            typed = column, cell_len(self._edit.text) + 1
        column = column if layout.is_in_columns(row) else 0
        self._scrolled = layout_with(layout, first, column, typed)
        self._scrolled_section, self._scrolled_title = section, section.title
        if before != self._scrolled or not stays:
            self.refresh()

    def _bring_into_view(self) -> None:
        """Scroll so that the cell is seen, the rows beside it, a first row's title and heads."""
        self._scroll_columns()
        y, height = self.cursor.y, self.scrollable_content_region.height
        # The line above and the one below say where the next key leads.
        beside = 1 if height >= _ROOM_BESIDE else 0
        top = max(y - beside, 0)
        while top > 0 and self.cursor.lines[top - 1].row is None:
            top -= 1
        self._header = self._header_lines()
        if self._header and top > self._header[0]:
            top = max(top - len(self._header), self._header[0])
        bottom = y
        # What stands below a row and holds no cell, such as the colours of marks, belongs to it.
        while bottom + 1 < len(self.cursor.lines) and _is_told(self.cursor.lines[bottom + 1]):
            bottom += 1
        bottom = self._next_row(bottom) if beside else bottom
        down = int(self.scroll_offset.y)
        down = max(down, bottom - height + 1) if height else down
        down = min(down, top)
        self.scroll_to(0, down, animate=False, force=True)
        self._pin(down)

    def _header_lines(self) -> list[int]:
        """The lines of the title and the heads of the cursor's table, where it has heads."""
        section, lines = self.cursor.section, self.cursor.lines
        if section is None or not section.heads:
            return []
        found: list[int] = []
        for y in range(self.cursor.y - 1, -1, -1):
            line = lines[y]
            if line.section is not section or line.blank:
                break
            if line.row is None and not line.caution and not line.told:
                found.insert(0, y)
        return found

    def _pin(self, down: int) -> None:
        """Keep the title and the heads of the cursor's table in view that is scrolled by `down`."""
        header, before = self._header, self._pinned
        is_above = bool(header) and header[0] < down and self.cursor.y >= down + len(header)
        self._pinned = [self.cursor.lines[y] for y in header] if is_above else []
        # Where the view is scrolled all of it is drawn anyway.
        if [id(line) for line in self._pinned] != [id(line) for line in before]:
            self.refresh()

    def _next_row(self, y: int) -> int:
        """The line of the next row below with cells, where it is near; else `y`."""
        below = enumerate(self.cursor.lines[y + 1 : y + 1 + _NEAR], y + 1)
        return next((no for no, line in below if line.row is not None and line.row.cells), y)

    def _line_at(self, y: int) -> Line | None:
        """The line that is drawn on a line of the view."""
        if y < len(self._pinned):
            return self._pinned[y]
        at = y + int(self.scroll_offset.y)
        return self.cursor.lines[at] if at < len(self.cursor.lines) else None

    def turn_columns(self, x: int, y: int) -> bool:
        """Go to the columns beside the screen where a title that counts them is pointed at.

        False where it is not.
        """
        line = self._line_at(y)
        if line is None or line.row is not None or line.heads or not line.section.heads:
            return False
        layout = self.layout_of_section(line.section)
        before, after = (len(words) for words in more_words(layout))
        beyond = layout.room - after
        if after and x >= beyond:
            column = layout.first + layout.shown
        elif before and beyond - before - len(MORE_GAP) <= x:
            column = layout.first - 1
        else:
            return False
        rows = [row for row in line.section.rows if len(row.cells) > column]
        here = self.cursor.row
        row = here if here in rows and here is not None else rows[0]
        self.cursor.go_to(row.cells[column].at)
        self.show_cursor()
        return True

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        down, base, width = int(self.scroll_offset.y), self._part(""), self.size.width
        line = self._line_at(y)
        if line is None:
            return Strip.blank(width, base)
        here = None
        if y + down == self.cursor.y:
            here = Here(self.cursor.cell_no, self._field if self._edit is not None else None)
        layout = self.layout_of_section(line.section)
        drawn_line, drawn_layout, drawn = self._drawn.get(id(line), (None, None, None))
        # A sheet that is scrolled draws lines that it has drawn before.
        if here is None and drawn is not None and drawn_line is line and drawn_layout == layout:
            return drawn
        strip = Strip(segments(line, layout, self._part, here)).crop(0, width)
        strip = strip.extend_cell_length(width, base)
        if here is None:
            self._drawn[id(line)] = line, layout, strip
        return strip

    def _field(self, width: int) -> list[Segment]:
        """The field that is typed into, in the width of its cell."""
        assert self._edit is not None
        return field_segments(self._edit, width, self._part)

    def _part(self, part: str) -> Style:
        if part not in self._styles:
            named = self.get_component_rich_style(f"sheet--{part}") if part else self.rich_style
            self._styles[part] = named
        return self._styles[part]

    def notify_style_update(self) -> None:
        """Forget the styles, as the theme may have changed; Textual forgets its own at each key."""
        super().notify_style_update()
        self._styles.clear()
        self._drawn.clear()

    def on_resize(self) -> None:
        """Lay out for the new width; keep the cursor in view, and the sentence under the sheet."""
        self.cursor.fit(self._room)
        self._forget_layouts()
        if self.cursor.row is not None:
            self._bring_into_view()
        self.refresh()


def _is_told(line: Line) -> bool:
    """Whether a line belongs to the row above it: it has no cell, so the cursor can't reach it."""
    return bool(line.told) or (line.row is not None and not line.row.cells)
