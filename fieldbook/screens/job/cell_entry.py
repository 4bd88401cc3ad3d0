"""What is done with a cell: typed text, picked options, ticks and presses become actions.

After each the sheet is drawn again from the book, and the cursor moves on.
"""

from __future__ import annotations

from typing import assert_never

from fieldbook.actions.cells import enter, meant_by, turn_tick, value_at
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.taken_wires import where_taken, where_zone_runs
from fieldbook.languages.in_use import shown
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.job.open_pages import open_page
from fieldbook.screens.sheets.presses import (
    Add,
    AnswerAll,
    ChooseRuleSet,
    CountedPress,
    KeyPress,
    OpenFile,
    OpenZone,
    ShowSteps,
    Signature,
    Step,
    TickBackfill,
    TickFlush,
)
from fieldbook.screens.sheets.programmes.programme_presses import (
    ChoosePlaceRule,
    OpenMonth,
    WorkOutProgrammes,
)
from fieldbook.screens.sheets.service.audit_press import OpenAudit
from fieldbook.screens.sheets.service.diagnosis_press import OpenDiagnosis
from fieldbook.screens.sheets.sheet import Cell, Option
from fieldbook.screens.sheets.typed_cells import keep_typed, put_option, where_typed, why_none
from fieldbook.screens.widgets.dialogs import Choose, Typing
from fieldbook.trade.shorthand import read_nozzle

_SHOWN_AS_TYPED = ("text", "choice", "amount", "whole", "curve")


class CellEntry:
    """Enters what the crew types or presses on the cells of one screen."""

    def __init__(self, host: CommandHost) -> None:
        """`host` is the screen the sheet is on."""
        self._host = host

    # typing

    def opening_text(self, cell: Cell) -> str:
        """The text a cell's field opens with: its value, as a person would type it."""
        if isinstance(cell.press, Add):
            return ""
        if cell.press is not None or cell.fact.kind in _SHOWN_AS_TYPED:
            return cell.text
        value = value_at(self._host.open_job, cell.at)
        return "" if value is None else str(value)

    def keep(self, cell: Cell, text: str, step: Step) -> bool:
        """Keep what was typed and move the cursor; False where it is refused."""

        def kept() -> None:
            self._keep_text(cell, text)
            named = self._nozzle_named(cell, text)
            # A name such as 15H says nothing of the flow, which this cell still wants.
            self._step("stay" if named and step == "next" else step)
            self._say_where_used(cell)
            if named:
                self._host.say(f"{named} is entered. The flow is on the nozzle's chart: type it.")

        return self._host.attempt(kept)

    def _keep_text(self, cell: Cell, text: str) -> None:
        # An amount is shown rounded: a field left as it opened must not overwrite its digits.
        if text == self.opening_text(cell):
            return
        if isinstance(cell.press, Add):
            self._make_row(cell.press, text)
            return
        keep_typed(self._host.open_job, cell, text)
        self._host.redraw()

    def say_taken(self, cell: Cell, typed: str) -> None:
        """Say where a colour that is being typed is used already."""
        where = where_typed(self._host.open_job, cell, typed)
        if where:
            self._host.say(where)

    def _say_where_used(self, cell: Cell) -> None:
        """Say where the colour or the zone that was entered is used besides."""
        open_job, where = self._host.open_job, ""
        if cell.press is None and cell.fact.kind == "colour":
            colour = value_at(open_job, cell.at)
            where = where_taken(open_job.job, cell.at, str(colour)) if colour else ""
        elif (cell.at.table, cell.at.column) == ("terminal", "zone_id"):
            where = where_zone_runs(open_job.job, cell.at.row_id)
        if where:
            self._host.say(where)

    def _nozzle_named(self, cell: Cell, text: str) -> str:
        """The radius and the arc that were entered by a nozzle's name, while it has no flow."""
        nozzle = read_nozzle(text) if cell.at.column == "nozzle_gpm" else None
        if nozzle is None or value_at(self._host.open_job, cell.at) is not None:
            return ""
        return f"Radius {nozzle.radius_ft:g} ft, arc {nozzle.arc_deg:g} deg"

    def _make_row(self, press: Add, text: str) -> None:
        """Add a row with its first value, and put the cursor on that."""
        if not text.strip():
            return
        at = press.add_typed(self._host.open_job, text)
        self._host.redraw()
        self._host.cursor.go_to(at)
        self._host.show_cursor()

    # choosing

    def pick(self, cell: Cell, option: Option) -> None:
        """Keep a colour picked by its key, and go down to the next wire."""

        def picked() -> None:
            put_option(self._host.open_job, cell, option)
            self._host.redraw()
            self._step("down")

        self._host.attempt(picked)

    def choose(self, cell: Cell, begun: str = "") -> None:
        """Open the list of what the cell can be set to; keep the choice and go on.

        `begun` is what was typed: it narrows the list.
        """
        words = list(cell.words)
        said = [shown(word) for word in words]
        current = said.index(cell.text) if cell.text in said else 0

        def opened() -> None:
            if not words:
                raise RefusedError(why_none(self._host.open_job, cell))
            typing = Typing(begun, lambda typed: meant_by(cell.fact, typed), no_such)
            self._host.app.push_screen(Choose(cell.fact.label, words, current, typing), chosen)

        def no_such(typed: str) -> str:
            where = where_typed(self._host.open_job, cell, typed)
            return where or Typing().why_none(typed)

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
            self._say_where_used(cell)

        self._host.attempt(opened)

    def choose_new(self, press: Add, begun: str) -> None:
        """Open the list for the first cell of a new row; the row is made with the choice."""
        fact = press.first_fact

        def chosen(index: int | None) -> None:
            if index is not None:
                self._host.attempt(lambda: self._make_row(press, fact.choices[index]))
                self.go_on()

        typing = Typing(begun, lambda typed: meant_by(fact, typed))
        self._host.app.push_screen(Choose(fact.label, fact.choices, None, typing), chosen)

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
            case TickFlush() | TickBackfill() | AnswerAll() | CountedPress():
                self._done(press.tick(host.open_job))
            case Signature():
                self._ask_to_sign(press)
            case OpenMonth() | WorkOutProgrammes() | ChoosePlaceRule() | OpenDiagnosis():
                open_page(host, press)
            case OpenZone() | OpenFile() | OpenAudit() | ChooseRuleSet() | ShowSteps():
                open_page(host, press)
            case _:
                assert_never(press)

    def _ask_to_sign(self, signature: Signature) -> None:
        """Ask to sign, or to take the signature back; the first answer changes nothing."""
        open_job = self._host.open_job
        name = signature.name(open_job)
        if signature.is_signed(open_job):
            title, answer = f"{name}: take the signature back?", "Take it back"
        else:
            signature.refuse_signing(open_job)
            title, answer = f"{name}: sign as {open_job.by}?", f"Sign as {open_job.by}"
            unchecked = signature.unchecked(open_job)
            title += f"\n\nNot checked: {unchecked}." if unchecked else ""
            left = signature.still_to_do(open_job)
            title += f"\n\nStill to be put right: {left}." if left else ""

        def answered(index: int | None) -> None:
            if index == 1:
                self._host.attempt(lambda: self._done(signature.sign(open_job)))

        self._host.app.push_screen(Choose(title, ("Not now", answer)), answered)

    def _done(self, done: bool) -> None:
        """Go down once something is ticked or signed; stay where it was taken back."""
        self._host.redraw()
        if done:
            self._step("down")

    # moving

    def go_on(self) -> None:
        """Go to the next cell."""
        self._host.cursor.go_on()
        self._host.show_cursor()

    def _step(self, step: Step) -> None:
        match step:
            case "next":
                self._host.cursor.go_on()
            case "right" | "left":
                self._host.cursor.read(1 if step == "right" else -1)
            case "down" | "up":
                self._host.cursor.move(1 if step == "down" else -1, 0)
        self._host.show_cursor()
