"""A sheet on the screen: drawing it, and the keys on it.

Keys act at once, inside the handler of the key: what is typed ahead of a slow disk then meets the
sheet as it is after the key before, never an older one.
"""

from __future__ import annotations

from typing import ClassVar, Protocol

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region, Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from fieldbook.actions.keymap import action_for
from fieldbook.records.values import printable
from fieldbook.screens.job.cursor import Cursor
from fieldbook.screens.job.line_edit import LineEdit
from fieldbook.screens.sheets.drawing import label_end, line_width, segments, typed_segments
from fieldbook.screens.sheets.sheet import TYPED_ACTS, Cell, Option, Sheet

_MOVES = {"up": (-1, 0), "down": (1, 0), "left": (0, -1), "right": (0, 1)}
_KEEPS = {"enter": "on", "up": "up", "down": "down", "tab": "on"}
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
_NUMERIC = "0123456789.+-"
_FIRST = {"amount": _NUMERIC, "whole": _NUMERIC, "curve": _NUMERIC, "tick": ""}
"""The characters that begin a value of a kind; of the others any does."""


class SheetHost(Protocol):
    """What a sheet asks of the screen it is on."""

    def moved(self, cell: Cell | None) -> None:
        """The cursor is on this cell now."""

    def begin(self, cell: Cell) -> str:
        """The text that a cell's field opens with."""

    def typing(self, cell: Cell) -> None:
        """The cell's field is open."""

    def keep(self, cell: Cell, text: str, then: str) -> bool:
        """Keep what was typed and go `then` on, up or down; False: refused, still typing."""

    def tick(self, cell: Cell) -> None:
        """Space on a tick, or on a cell that does something."""

    def pick(self, cell: Cell, option: Option) -> None:
        """An option was picked by its key."""

    def choose(self, cell: Cell) -> None:
        """Enter on a cell that is not typed into."""

    def do(self, name: str) -> None:
        """An action of the registry."""


class SheetView(ScrollView, can_focus=True):
    """Draws a sheet and turns keys into what its host does; it changes no record itself."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        f"sheet--{part}" for part in (*_PARTS, "cursor", "field", "caret")
    }

    def __init__(self, host: SheetHost, *, id: str | None = None) -> None:
        """An empty sheet; `show` fills it."""
        super().__init__(id=id)
        self._host = host
        self._at = Cursor()
        self._edit: LineEdit | None = None
        self._painted_y = 0

    # what is shown

    def show(self, sheet: Sheet) -> None:
        """Draw another sheet, the cursor kept on its cell where that is still there."""
        self._edit = None
        self._at.show(sheet)
        width = max((line_width(line) for line in self._at.lines), default=0)
        self.virtual_size = Size(width, len(self._at.lines))
        self.settle()
        self.refresh()

    @property
    def at(self) -> Cursor:
        """The cursor; call `settle` after moving it."""
        return self._at

    @property
    def cell(self) -> Cell | None:
        """The cell under the cursor."""
        return self._at.cell

    def settle(self) -> None:
        """Bring the cursor into view, and tell where it is."""
        if self._at.row is not None:
            self._bring_into_view()
        self._paint(self._painted_y, self._at.y)
        self._painted_y = self._at.y
        self._host.moved(self.cell)

    def _paint(self, *lines: int) -> None:
        """Draw these lines of the sheet again, no others."""
        down, width = int(self.scroll_offset.y), self.size.width
        self.refresh(*(Region(0, y - down, width, 1) for y in lines if y >= down))

    def _bring_into_view(self) -> None:
        """Scroll so that the cursor's cell is seen, and over a first row its title and heads."""
        region, y = self._at.region(), self._at.y
        held, size = label_end(self._at.lines[y]), self.scrollable_content_region.size
        top = y
        while top > 0 and self._at.lines[top - 1].row is None:
            top -= 1
        x, down = int(self.scroll_offset.x), int(self.scroll_offset.y)
        x = max(x, region.right - size.width) if size.width else x
        x = min(x, region.x - held)
        down = max(down, y - size.height + 1) if size.height else down
        self.scroll_to(x, min(down, top), animate=False, force=True)

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        scroll_x, scroll_y = self.scroll_offset
        line_no = y + scroll_y
        base = self.rich_style
        if line_no >= len(self._at.lines):
            return Strip.blank(self.size.width, base)
        line = self._at.lines[line_no]
        here = line_no == self._at.y
        drawn = segments(line, self._part, self._at.cell_no if here else None)
        strip = Strip(drawn)
        if here and self._edit is not None:
            strip = self._with_field(strip)
        if scroll_x:
            # The row's label stays in sight while its cells scroll under it.
            held = label_end(line)
            cells = strip.crop(held + scroll_x, scroll_x + self.size.width)
            strip = Strip.join([strip.crop(0, held), cells])
        strip = strip.crop(0, self.size.width)
        return strip.extend_cell_length(self.size.width, base).apply_style(Style())

    def _with_field(self, strip: Strip) -> Strip:
        """The line with the field that is typed into laid over its cell."""
        assert self._edit is not None
        region, scroll_x = self._at.region(), self.scroll_offset.x
        room = max(self.scrollable_content_region.width + scroll_x - region.x, 1)
        width = min(max(region.width, _LEAST_FIELD), room)
        field: list[Segment] = typed_segments(self._edit, width, self._part)
        strip = strip.extend_cell_length(region.x + width)
        after = strip.crop(region.x + width, strip.cell_length)
        return Strip.join([strip.crop(0, region.x), Strip(field), after])

    def _part(self, part: str) -> Style:
        return self.get_component_rich_style(f"sheet--{part}")

    def on_resize(self) -> None:
        """The cursor stays in view."""
        self.settle()

    # keys

    def on_key(self, event: events.Key) -> None:
        """Type, move, pick, tick, or act; whatever else goes on to the screen."""
        front = self.app.focused
        if front is not self:
            # Typed ahead: the key before has moved the focus on, so this one is not for the sheet.
            event.stop()
            event.prevent_default()
            if front is not None:
                front.post_message(events.Key(event.key, event.character))
            return
        cell = self.cell
        taken = (
            self._typed(cell, event)
            if cell and self._edit
            else self._moved(event.key) or self._acted(cell, event)
        )
        if taken:
            event.stop()
            event.prevent_default()

    def on_paste(self, event: events.Paste) -> None:
        """Pasted text goes into the field, as one line."""
        cell = self.cell
        if cell is None or not (self._edit or self._takes_typing(cell)):
            return
        event.stop()
        if self._edit is None:
            self._open(cell, "")
        assert self._edit is not None
        self._edit.insert(printable(event.text))
        self._paint(self._at.y)

    def _typed(self, cell: Cell, event: events.Key) -> bool:
        """A key while a cell is typed into: all but the app's own are for the field."""
        assert self._edit is not None
        if event.key == "escape":
            self._edit = None
            self.settle()
        elif event.key in _KEEPS:
            if self._host.keep(cell, self._edit.text, _KEEPS[event.key]):
                self._edit = None
                self.settle()
        elif event.is_printable and event.character:
            self._edit.insert(event.character)
        elif not self._edit.key(event.key):
            return event.key not in ("ctrl+q", "ctrl+p")
        self._paint(self._at.y)
        return True

    def _moved(self, key: str) -> bool:
        if key in _MOVES:
            self._at.move(*_MOVES[key])
        elif key in ("home", "end"):
            self._at.to_edge(end=key == "end")
        else:
            return False
        self.settle()
        return True

    def _acted(self, cell: Cell | None, event: events.Key) -> bool:
        """Whether the key was one for the cell itself, or an action's."""
        char = event.character if event.is_printable else None
        typing = cell is not None and char is not None and cell.takes(char)
        action = action_for(event.key, "place", typing=typing)
        if action is not None:
            self._host.do(action.name)
        elif cell is None:
            return False
        elif event.key == "enter":
            self._entered(cell)
        elif event.key == "space" and (cell.fact.kind == "tick" or cell.act):
            self._host.tick(cell)
        else:
            return char is not None and self._begin(cell, char)
        return True

    def _entered(self, cell: Cell) -> None:
        chosen = cell.fact.kind in ("choice", "link", "tick", "colour")
        if chosen or not self._takes_typing(cell):
            self._host.choose(cell)
            return
        self._open(cell, self._host.begin(cell))

    def _begin(self, cell: Cell, char: str) -> bool:
        """A character on a cell: the option it is the key of, else the first of what is typed."""
        option = next((one for one in cell.options if one.key == char.lower()), None)
        if cell.fact.kind == "colour" and option is not None:
            self._host.pick(cell, option)
        elif self._takes_typing(cell) and char in _FIRST.get(cell.fact.kind, char):
            self._open(cell, char.strip())
        else:
            return False
        return True

    def _open(self, cell: Cell, text: str) -> None:
        """Open the field over a cell."""
        self._edit = LineEdit.at_end(text)
        self._host.typing(cell)
        self._paint(self._at.y)

    def _takes_typing(self, cell: Cell) -> bool:
        return not cell.act or cell.act in TYPED_ACTS

    def on_click(self, event: events.Click) -> None:
        """Put the cursor where the mouse points."""
        if self._edit is None:
            offset = self.scroll_offset
            self._at.go_to_point(event.x + int(offset.x), event.y + int(offset.y))
            self.settle()
