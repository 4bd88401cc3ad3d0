"""A property open at one of its five places: strip, sheet, flags, help on the cell, keys."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal
from textual.screen import Screen

from fieldbook.actions.keymap import offered
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.desk.open_conflicts import differs
from fieldbook.checks.finding import CellRef
from fieldbook.checks.next_step import next_step_at
from fieldbook.records.base import PLACES, Place
from fieldbook.screens.job import commands as doing
from fieldbook.screens.job.flags import FlagLine, FlagList
from fieldbook.screens.job.hint import TYPING_KEYS, HintLine, cell_keys
from fieldbook.screens.job.place_tabs import PlaceTabs
from fieldbook.screens.job.sheet_view import SheetView
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.sheet import Cell, Option
from fieldbook.screens.widgets.dialogs import Choose, Read
from fieldbook.screens.widgets.explain import explain_cell, explain_keys
from fieldbook.screens.widgets.key_line import KeyLine
from fieldbook.screens.widgets.title_line import TitleLine
from fieldbook.store.errors import BookError


class JobScreen(Screen[None]):
    """The crew at one property. Keys become acts; after each the sheet is that of the book."""

    HORIZONTAL_BREAKPOINTS: list[tuple[int, str]] | None = [  # noqa: RUF012
        (0, "-narrow"),
        (110, "-wide"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(",".join(action.all_keys), f"do('{action.name}')", action.label, show=False)
        for action in offered("place")
    ]

    def __init__(self, open_job: OpenJob, place: Place, at: CellRef | None = None) -> None:
        """Open `place`, with the cursor on `at` if given."""
        super().__init__()
        self.open_job = open_job
        self.place: Place = place
        self._first = at

    def compose(self) -> ComposeResult:
        """Top to bottom; the flags beside the sheet when there is room."""
        yield TitleLine()
        yield PlaceTabs()
        with Horizontal(id="body"):
            with Container(id="sheet-area"):
                yield SheetView(self, id="sheet")
            yield FlagList()
        yield FlagLine()
        yield HintLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Fill everything, and stand where the next thing is to be done."""
        self.set_focus(self.sheet)
        self.open_place(self.place, self._first)

    @property
    def sheet(self) -> SheetView:
        """The sheet's widget."""
        return self.query_one(SheetView)

    @property
    def hint(self) -> HintLine:
        """The line about the cell."""
        return self.query_one(HintLine)

    # showing

    def open_place(self, place: Place, at: CellRef | None = None) -> None:
        """Show a place, the cursor on `at`, else on the next thing to do, else the first gap."""
        self.place = place
        self.sheet.at.forget()
        self.redraw()
        step = next_step_at(self.open_job.job, place)
        wanted = at or (step.at if step is not None else None)
        if wanted is None or not self.sheet.at.go_to(wanted):
            self.sheet.at.go_to_first_open()
        self.sheet.settle()
        self.set_focus(self.sheet)

    def redraw(self) -> None:
        """Show the job as it now is."""
        open_job = self.open_job
        sheets = {place: BUILDERS[place](open_job.job, open_job.system) for place in PLACES}
        self.sheet.show(sheets[self.place])
        job = open_job.job.job
        whose = f" - {job.customer}" if job.customer else ""
        step = next_step_at(open_job.job, self.place)
        then = f" | Next here: {step.sentence}" if step is not None else ""
        self.query_one(TitleLine).show(f"{job.address}{whose}{then}", open_job.by)
        self.query_one(PlaceTabs).show(
            self.place, {place: sheet.open_count() for place, sheet in sheets.items()}
        )
        self.query_one(FlagList).show(open_job.findings)
        self.query_one(FlagLine).show(open_job.findings)

    # what the sheet asks (SheetHost)

    def moved(self, cell: Cell | None) -> None:
        """Another cell: say what it is."""
        if self.is_mounted:
            self.hint.about(cell)
            self.query_one(KeyLine).show(cell_keys(cell, differs=differs(self.open_job.job)))

    def begin(self, cell: Cell) -> str:
        """What a cell's field opens with."""
        return doing.editable(self.open_job, cell)

    def typing(self, cell: Cell) -> None:
        """The keys while a cell is typed into."""
        self.query_one(KeyLine).show(TYPING_KEYS)

    def keep(self, cell: Cell, text: str, then: str) -> bool:
        """Keep what was typed, or say why not and go on typing."""

        def kept() -> None:
            doing.keep_text(self, cell, text)
            doing.step_on(self, then)

        return self.attempt(kept)

    def tick(self, cell: Cell) -> None:
        """Space."""
        self.attempt(lambda: doing.tick(self, cell))

    def pick(self, cell: Cell, option: Option) -> None:
        """A colour's key: keep it and go down to the next."""
        self.attempt(lambda: doing.pick(self, cell, option))

    def choose(self, cell: Cell) -> None:
        """Enter on a choice, a tick or a line that does something."""
        if cell.act or cell.fact.kind == "tick":
            self.attempt(lambda: doing.enter_on(self, cell))
            return
        words, values = doing.choices(cell)
        if not words:
            self.hint.refuse(doing.nothing_to_choose(self.open_job, cell))
            return
        current = words.index(cell.text) if cell.text in words else 0

        def chosen(index: int | None) -> None:
            if index is not None:
                self.attempt(lambda: doing.put(self, cell, values[index]))

        self.app.push_screen(Choose(cell.fact.label, words, current), chosen)

    def do(self, name: str) -> None:
        """Run an action of the registry by its name."""
        self.attempt(lambda: doing.DO[name](self))

    def action_do(self, name: str) -> None:
        """The same, for a key outside the sheet."""
        self.do(name)

    def attempt(self, act: Callable[[], None]) -> bool:
        """Do it, or say in one sentence why not and return False."""
        try:
            act()
        except (RefusedError, BookError) as why:
            self.hint.refuse(str(why))
            return False
        return True

    # flags and places

    def on_flag_list_follow(self, event: FlagList.Follow) -> None:
        """To the cell that mends the flag."""
        self.remove_class("flags-open")
        finding = event.finding
        self.open_place(finding.place, finding.at)
        self.hint.say(finding.mend)

    def on_flag_list_leave(self) -> None:
        """Back to the sheet."""
        self.remove_class("flags-open")
        self.set_focus(self.sheet)

    def on_place_tabs_go(self, event: PlaceTabs.Go) -> None:
        """A place was chosen on the strip."""
        if event.place is None:
            self.app.pop_screen()
        else:
            self.open_place(event.place)

    def explain(self) -> None:
        """What the cell is, and every key."""
        cell = self.sheet.cell
        title = cell.fact.label if cell else "Keys"
        about = explain_cell(self.open_job, cell) + "\n\n" if cell else ""
        self.app.push_screen(Read(title, f"{about}Keys here\n{explain_keys('place')}"))
