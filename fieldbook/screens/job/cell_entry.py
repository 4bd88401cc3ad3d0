"""What is done with a cell: typed text, picked options, ticks and presses become actions.

After each the sheet is drawn again from the book, and the cursor moves on.
"""

from __future__ import annotations

from typing import assert_never

from fieldbook.actions.cells import enter, turn_tick, value_at
from fieldbook.actions.refused import RefusedError
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.job.open_pages import open_page
from fieldbook.screens.sheets.presses import (
    Add,
    AnswerNoHazards,
    ChooseRuleSet,
    KeyPress,
    OpenFile,
    OpenZone,
    Signature,
    Step,
    TickBackfill,
    TickFlush,
    TypedPress,
)
from fieldbook.screens.sheets.sheet import Cell, Option
from fieldbook.screens.sheets.typed_cells import keep_typed, put_option, why_none
from fieldbook.screens.widgets.dialogs import Choose

_SHOWN_AS_TYPED = ("text", "choice", "amount", "whole", "curve")


class CellEntry:
    """Enters what the crew types or presses on the cells of one screen."""

    def __init__(self, host: CommandHost) -> None:
        """`host` is the screen the sheet is on."""
        self._host = host

    # typing

    def opening_text(self, cell: Cell) -> str:
        """The text a cell's field opens with: its value, as a person would type it."""
        if cell.press is not None or cell.fact.kind in _SHOWN_AS_TYPED:
            return cell.text
        value = value_at(self._host.open_job, cell.at)
        return "" if value is None else str(value)

    def keep(self, cell: Cell, text: str, step: Step) -> bool:
        """Keep what was typed and move the cursor; False where it is refused."""

        def kept() -> None:
            self._keep_text(cell, text)
            self._step(cell, step)

        return self._host.attempt(kept)

    def _keep_text(self, cell: Cell, text: str) -> None:
        # An amount is shown rounded: a field left as it opened must not overwrite its digits.
        if text == self.opening_text(cell):
            return
        keep_typed(self._host.open_job, cell, text)
        self._host.redraw()

    # choosing

    def pick(self, cell: Cell, option: Option) -> None:
        """Keep a colour picked by its key, and go down to the next wire."""

        def picked() -> None:
            put_option(self._host.open_job, cell, option)
            self._host.redraw()
            self._move(1)

        self._host.attempt(picked)

    def choose(self, cell: Cell) -> None:
        """Open the list of what the cell can be set to; keep the choice and go on."""
        words = list(cell.words)
        current = words.index(cell.text) if cell.text in words else 0

        def opened() -> None:
            if not words:
                raise RefusedError(why_none(self._host.open_job, cell))
            self._host.app.push_screen(Choose(cell.fact.label, words, current), chosen)

        def chosen(index: int | None) -> None:
            if index is not None:
                self._host.attempt(lambda: put(index))

        def put(index: int) -> None:
            if cell.options:
                put_option(self._host.open_job, cell, cell.options[index])
            else:
                enter(self._host.open_job, cell.at, cell.fact.choices[index], cell.seed)
            self._host.redraw()
            self.go_on()

        self._host.attempt(opened)

    # pressing

    def turn_tick(self, cell: Cell) -> None:
        """Turn a tick from blank to yes, to no, and to blank again."""

        def turned() -> None:
            turn_tick(self._host.open_job, cell.at, cell.seed)
            self._host.redraw()

        self._host.attempt(turned)

    def set_tick(self, cell: Cell, value: bool) -> None:
        """Answer a tick with yes or no, and stay on it."""

        def entered() -> None:
            enter(self._host.open_job, cell.at, value, cell.seed)
            self._host.redraw()

        self._host.attempt(entered)

    def press(self, press: KeyPress) -> None:
        """Do what Enter or Space does on a cell that is no plain column."""
        self._host.attempt(lambda: self._pressed(press))

    def _pressed(self, press: KeyPress) -> None:
        host = self._host
        match press:
            case Add():
                at = press.add(host.open_job)
                host.redraw()
                host.cursor.go_to(at)
                host.show_cursor()
            case TickFlush() | TickBackfill() | AnswerNoHazards():
                self._done(press.tick(host.open_job))
            case Signature():
                self._done(press.sign(host.open_job))
            case OpenZone() | OpenFile() | ChooseRuleSet():
                open_page(host, press)
            case _:
                assert_never(press)

    def _done(self, done: bool) -> None:
        """Go down once something is ticked or signed; stay where it was taken back."""
        self._host.redraw()
        if done:
            self._move(1)

    # moving

    def go_on(self) -> None:
        """Go to the next cell that wants a value."""
        self._host.cursor.go_on()
        self._host.show_cursor()

    def _step(self, cell: Cell, step: Step) -> None:
        if isinstance(cell.press, TypedPress):
            step = cell.press.step(step)
        if step == "next":
            self.go_on()
        elif step != "stay":
            self._move(1 if step == "down" else -1)

    def _move(self, rows: int) -> None:
        self._host.cursor.move(rows, 0)
        self._host.show_cursor()
