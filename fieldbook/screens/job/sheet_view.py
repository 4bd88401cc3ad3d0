"""The widget of a sheet: it turns keys and clicks into entries and actions.

Each key is carried out inside its own handler, not by a message that is handled later: what is
typed ahead of a slow disk then meets the sheet as the key before left it.
"""

from __future__ import annotations

from collections.abc import Mapping

from textual import events

from fieldbook.actions.bulk.pasted_text import is_table
from fieldbook.actions.keymap import action_for
from fieldbook.languages.in_use import language_in_use
from fieldbook.languages.language_texts import Language
from fieldbook.records.printable import printable
from fieldbook.screens.job.cell_entry import CellEntry
from fieldbook.screens.job.line_edit import LineEdit
from fieldbook.screens.job.sheet_canvas import SheetCanvas, SheetHost
from fieldbook.screens.sheets.presses import (
    Add,
    CountedPress,
    Signature,
    Step,
    Tick,
    TypedPress,
)
from fieldbook.screens.sheets.sheet import Cell

_MOVES = {"up": (-1, 0), "down": (1, 0), "left": (0, -1), "right": (0, 1)}
_KEEPS: Mapping[str, Step] = {
    "enter": "next",
    "tab": "right",
    "shift+tab": "left",
    "up": "up",
    "down": "down",
}
"""Keys that keep what is typed, and where the cursor then goes."""
_LISTED = ("choice", "link", "colour")
"""Kinds whose values are chosen from a list."""
_TICKS: Mapping[Language, Mapping[str, bool]] = {
    "en": {"y": True, "n": False},
    "es": {"y": True, "s": True, "n": False},
}
"""The letters that answer a tick."""


class SheetView(SheetCanvas):
    """Moves the cursor of a sheet, and passes what is typed and pressed to a CellEntry."""

    def __init__(self, host: SheetHost, entry: CellEntry) -> None:
        """An empty sheet; `show` fills it."""
        super().__init__(host)
        self._entry = entry

    def on_key(self, event: events.Key) -> None:
        """Type, move, pick, tick or press; a key that is none of these goes on to the screen."""
        front = self.app.focused
        if front is not self:
            # Typed ahead: the key before moved the focus (say, to a dialog), but this one was
            # already on its way here. It belongs to what has the focus now.
            event.stop()
            event.prevent_default()
            # A dialog that is just opening has no focus yet: its screen takes the key.
            (front or self.app.screen).post_message(events.Key(event.key, event.character))
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
        self._show_field()

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
        self._show_field()
        return True

    def _show_field(self) -> None:
        """Paint the field; its column grows with what is typed."""
        self._scroll_columns()
        self._paint(self.cursor.y)

    def _keep(self, cell: Cell, step: Step) -> bool:
        """Keep what is typed and take the step; where it is refused the field stays open."""
        assert self._edit is not None
        kept = self._entry.keep(cell, self._edit.text, step)
        if kept:
            self._edit = None
            self.refresh()
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
        elif key in ("tab", "shift+tab"):
            self.cursor.read(1 if key == "tab" else -1)
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
            return self._acted_on_name(event)
        elif event.key == "enter":
            self._entered(cell)
        elif event.key == "space" and self._spaced(cell):
            pass
        elif event.is_printable and event.character:
            self._begin(cell, event.character)
        else:
            return False
        return True

    def _acted_on_name(self, event: events.Key) -> bool:
        """Enter and Space on the name of a row open the whole row."""
        if self.cursor.on_name and event.key in ("enter", "space"):
            self._host.do("whole_row")
        elif self.cursor.on_name and event.is_printable:
            self._host.say("This is the row's name: Enter shows the whole row.")
        else:
            return False
        return True

    def _entered(self, cell: Cell, *, skips: bool = True) -> None:
        """Open the cell's list or its field, add a row, or go on from a tick or a sign-off.

        `skips`: a blank cell that nothing asks for is gone past, as by Enter; not by a click.
        """
        match cell.press:
            case None if cell.fact.kind == "tick":
                self._entry.go_on()
            case None if cell.fact.kind in _LISTED:
                self._entry.choose(cell)
            case None | TypedPress() if skips and not cell.text and not cell.open:
                # Nothing is asked here: one Enter goes past it, typing fills it in.
                self._entry.go_on()
            case None | TypedPress():
                self._open(cell, self._entry.opening_text(cell))
            case press if isinstance(press, Signature | Tick):
                self._entry.go_on()
            case Add() as add if add.empty:
                self._begin_row(cell, add, "")
            case press:
                self._entry.press(press)

    def _spaced(self, cell: Cell) -> bool:
        """Space: press the cell or turn its tick; False where it is a character like others."""
        match cell.press:
            case None if cell.fact.kind == "tick":
                self._entry.turn_tick(cell)
            case CountedPress() as counted:
                self._entry.press(counted)
            case None | TypedPress():
                return False
            case Add():
                self._host.say("Enter adds the row, or type what stands first in it.")
            case press:
                self._entry.press(press)
        return True

    def _begin(self, cell: Cell, char: str) -> None:
        """A character picks the option it is the key of, answers a tick, or opens the field."""
        letter = char.lower()
        option = next((option for option in cell.options if option.key == letter), None)
        if isinstance(cell.press, Add):
            self._begin_row(cell, cell.press, char)
        elif not _takes_typing(cell):
            self._host.say("Nothing is typed here: the foot of the screen names its keys.")
        elif cell.fact.kind == "colour" and option is not None:
            self._entry.pick(cell, option)
        elif cell.fact.kind in ("choice", "link") and cell.press is None:
            self._entry.choose(cell, char.strip())
        elif cell.fact.kind != "tick":
            self._open(cell, char.strip())
            self._entry.say_taken(cell, letter)
        elif letter in _TICKS[language_in_use()]:
            self._entry.set_tick(cell, _TICKS[language_in_use()][letter])
        else:
            self._host.say("Space turns the tick: yes, no, blank. y is yes, n is no.")

    def _begin_row(self, cell: Cell, press: Add, begun: str) -> None:
        """Ask for the first value of a new row: there is no row before one is kept."""
        fact = press.first_fact
        if fact.kind == "choice":
            self._entry.choose_new(press, begun)
            return
        self._open(cell, begun)
        why = f" {fact.why}" if fact.why else ""
        self._host.say(f"{fact.label} of the new row.{why} Enter keeps it, Esc adds no row.")

    def _open(self, cell: Cell, text: str) -> None:
        """Open the field over a cell."""
        self._edit = LineEdit.at_end(text)
        self._host.typing(cell)
        self._show_field()

    def on_click(self, event: events.Click) -> None:
        """Put the cursor on the cell pointed at; a click on the cell it is on acts like its key.

        What is being typed is kept first.
        """
        if not self.finish_typing():
            return
        if self.turn_columns(event.x, event.y):
            return
        before, was_on_name = self.cursor.row_cell, self.cursor.on_name
        line = event.y + int(self.scroll_offset.y)
        self.cursor.go_to_point(event.x, line, self.layout_of_section)
        self.show_cursor()
        cell, first = self.cursor.cell, self.cursor.row_cell
        if first is None or before is None or first.at != before.at:
            return
        if cell is None or was_on_name:
            if cell is None and was_on_name:
                self._host.do("whole_row")
            return
        ticked = cell.press is None and cell.fact.kind == "tick"
        if not (ticked or isinstance(cell.press, Signature | Tick)) or not self._spaced(cell):
            self._entered(cell, skips=False)


def _takes_typing(cell: Cell) -> bool:
    return cell.press is None or isinstance(cell.press, TypedPress)
