"""The widget of a sheet: it draws the sheet and turns keys into entries and actions.

Each key is carried out inside its own handler, not by a message that is handled later: what is
typed ahead of a slow disk then meets the sheet as the key before left it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Protocol

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region, Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from fieldbook.actions.bulk.pasted_text import is_table
from fieldbook.actions.keymap import action_for
from fieldbook.records.values import printable
from fieldbook.screens.job.cell_entry import CellEntry
from fieldbook.screens.job.cursor import Cursor
from fieldbook.screens.job.line_edit import LineEdit, field_segments
from fieldbook.screens.sheets.drawing import Line, label_end, line_width, segments
from fieldbook.screens.sheets.presses import Step, TypedPress
from fieldbook.screens.sheets.sheet import Cell, Sheet

_MOVES = {"up": (-1, 0), "down": (1, 0), "left": (0, -1), "right": (0, 1)}
_KEEPS: Mapping[str, Step] = {"enter": "next", "up": "up", "down": "down", "tab": "next"}
"""Keys that keep what is typed, and where the cursor then goes."""
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
_TICKS = {"y": True, "n": False}
"""The letters that answer a tick."""


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


class SheetView(ScrollView, can_focus=True):
    """Draws a sheet, moves the cursor, and passes what is typed and pressed to a CellEntry."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        f"sheet--{part}" for part in (*_PARTS, "cursor", "field", "caret")
    }

    def __init__(self, host: SheetHost, entry: CellEntry) -> None:
        """An empty sheet; `show` fills it."""
        super().__init__(id="sheet")
        self._host, self._entry = host, entry
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
        """Scroll so that the cell is seen, and above a section's first row its title and heads."""
        region, y = self.cursor.region(), self.cursor.y
        held, size = label_end(self.cursor.lines[y]), self.scrollable_content_region.size
        top = y
        while top > 0 and self.cursor.lines[top - 1].row is None:
            top -= 1
        bottom = y
        # What stands below a row and holds no cell, such as the colours of marks, belongs to it.
        while bottom + 1 < len(self.cursor.lines) and _is_told(self.cursor.lines[bottom + 1]):
            bottom += 1
        x, down = int(self.scroll_offset.x), int(self.scroll_offset.y)
        x = max(x, region.right - size.width) if size.width else x
        x = min(x, region.x - held)
        down = max(down, bottom - size.height + 1) if size.height else down
        self.scroll_to(x, min(down, top), animate=False, force=True)

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
        if scroll_x:
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

    # keys

    def on_key(self, event: events.Key) -> None:
        """Type, move, pick, tick or press; a key that is none of these goes on to the screen."""
        front = self.app.focused
        if front is not self:
            # Typed ahead: the key before moved the focus (say, to a dialog), but this one was
            # already on its way here. It belongs to what has the focus now.
            event.stop()
            event.prevent_default()
            if front is not None:
                front.post_message(events.Key(event.key, event.character))
            return
        cell = self.cursor.cell
        taken = (
            self._typed(cell, event)
            if cell and self._edit
            else self._moved(event.key) or self._acted(cell, event)
        )
        if taken:
            event.stop()
            event.prevent_default()

    def on_paste(self, event: events.Paste) -> None:
        """Put pasted text into the field as one line; a table goes into the cells from here on."""
        cell = self.cursor.cell
        if self._edit is None and is_table(event.text):
            event.stop()
            self._host.paste(event.text)
            return
        if cell is None or not (self._edit or _takes_typing(cell)):
            return
        event.stop()
        if self._edit is None:
            self._open(cell, "")
        assert self._edit is not None
        self._edit.insert(printable(event.text))
        self._paint(self.cursor.y)

    def _typed(self, cell: Cell, event: events.Key) -> bool:
        """Whether the key was for the open field, or asked for an action."""
        assert self._edit is not None
        if event.key == "escape":
            self.leave_typing()
        elif event.key in _KEEPS:
            self._keep(cell, _KEEPS[event.key])
        elif event.is_printable and event.character:
            self._edit.insert(event.character)
        elif not self._edit.key(event.key):
            action = action_for(event.key, "place")
            if action is None:
                return False
            self._host.do(action.name)
        self._paint(self.cursor.y)
        return True

    def _keep(self, cell: Cell, step: Step) -> bool:
        """Keep what is typed and take the step; where it is refused the field stays open."""
        assert self._edit is not None
        kept = self._entry.keep(cell, self._edit.text, step)
        if kept:
            self._edit = None
            self.show_cursor()
        return kept

    @property
    def typing(self) -> bool:
        """Whether a field is open."""
        return self._edit is not None

    def leave_typing(self) -> None:
        """Close the field; the cell stays as it was."""
        self._edit = None
        self.show_cursor()

    def finish_typing(self) -> bool:
        """Keep what is typed, if anything is; False where it is refused and the field stays."""
        cell = self.cursor.cell
        return self._edit is None or cell is None or self._keep(cell, "stay")

    def _moved(self, key: str) -> bool:
        if key in _MOVES:
            self.cursor.move(*_MOVES[key])
        elif key in ("home", "end"):
            self.cursor.to_edge(end=key == "end")
        else:
            return False
        self.show_cursor()
        return True

    def _acted(self, cell: Cell | None, event: events.Key) -> bool:
        """Whether the key asked for an action, or was for the cell."""
        action = action_for(event.key, "place")
        if action is not None:
            self._host.do(action.name)
        elif cell is None:
            return False
        elif event.key == "enter":
            self._entered(cell)
        elif event.key == "space" and self._spaced(cell):
            pass
        elif event.is_printable and event.character:
            self._begin(cell, event.character)
        else:
            return False
        return True

    def _entered(self, cell: Cell) -> None:
        """Enter: press the cell, open its list or its field, or go on from a tick."""
        match cell.press:
            case None if cell.fact.kind == "tick":
                self._entry.go_on()
            case None if cell.fact.kind in ("choice", "link", "colour"):
                self._entry.choose(cell)
            case None | TypedPress():
                self._open(cell, self._entry.opening_text(cell))
            case press:
                self._entry.press(press)

    def _spaced(self, cell: Cell) -> bool:
        """Space: press the cell or turn its tick; False where it is a character like others."""
        match cell.press:
            case None if cell.fact.kind == "tick":
                self._entry.turn_tick(cell)
            case None | TypedPress():
                return False
            case press:
                self._entry.press(press)
        return True

    def _begin(self, cell: Cell, char: str) -> None:
        """A character picks the option it is the key of, answers a tick, or opens the field."""
        letter = char.lower()
        option = next((option for option in cell.options if option.key == letter), None)
        if not _takes_typing(cell):
            self._host.say("Nothing is typed here: the foot of the screen names its keys.")
        elif cell.fact.kind == "colour" and option is not None:
            self._entry.pick(cell, option)
        elif cell.fact.kind != "tick":
            self._open(cell, char.strip())
        elif letter in _TICKS:
            self._entry.set_tick(cell, _TICKS[letter])
        else:
            self._host.say("Space turns the tick: yes, no, blank. y is yes, n is no.")

    def _open(self, cell: Cell, text: str) -> None:
        """Open the field over a cell."""
        self._edit = LineEdit.at_end(text)
        self._host.typing(cell)
        self._paint(self.cursor.y)

    def on_click(self, event: events.Click) -> None:
        """Put the cursor where the mouse points, once what is typed is kept."""
        if self.finish_typing():
            offset = self.scroll_offset
            self.cursor.go_to_point(event.x + int(offset.x), event.y + int(offset.y))
            self.show_cursor()


def _is_told(line: Line) -> bool:
    """Whether a line is a row without cells, which the cursor can't reach."""
    return line.row is not None and not line.row.cells


def _takes_typing(cell: Cell) -> bool:
    return cell.press is None or isinstance(cell.press, TypedPress)
