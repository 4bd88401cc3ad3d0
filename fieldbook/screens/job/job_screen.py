"""The screen of one property, open at one of its places."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Horizontal, Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from fieldbook.actions.keymap import FUNCTION_KEYS, action_for, in_keys_in_use, key_of, offered
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.visits.visiting import visit_now
from fieldbook.checks.desk.open_conflicts import has_conflicts
from fieldbook.checks.finding import CellRef
from fieldbook.checks.next_step import next_step_from
from fieldbook.languages.in_use import keep_as_entered, language_in_use, say, shown
from fieldbook.records.base import PLACE_WORDS, Place
from fieldbook.records.entered_texts import entered_texts
from fieldbook.screens.job import bulk_commands
from fieldbook.screens.job.cell_entry import CellEntry
from fieldbook.screens.job.commands import COMMANDS
from fieldbook.screens.job.cursor import Cursor
from fieldbook.screens.job.destinations import destinations
from fieldbook.screens.job.flags import FLAG_KEYS, FlagLine, FlagList
from fieldbook.screens.job.hint import TYPING_KEYS, HintLine, cell_keys
from fieldbook.screens.job.not_now import why_not
from fieldbook.screens.job.place_tabs import PLACE_KEYS, PlaceTabs
from fieldbook.screens.job.sheet_view import SheetView
from fieldbook.screens.job.sheet_words import in_language
from fieldbook.screens.job.to_sign import to_sign
from fieldbook.screens.palette.entries import Entry, entries_of_actions
from fieldbook.screens.sheets import BUILDERS, COUNTS
from fieldbook.screens.sheets.explain import about_cell
from fieldbook.screens.sheets.sheet import Cell
from fieldbook.screens.widgets.action_bindings import action_bindings
from fieldbook.screens.widgets.edge_lines import KeyLine, TitleLine
from fieldbook.store.errors import BookError

if TYPE_CHECKING:
    from fieldbook.actions.files.paper_run import PaperRun


class JobScreen(Screen[None]):
    """The tabs of the places, the sheet of one place, the flags, and what the cell is.

    It is the CommandHost of commands and cell entries and the SheetHost of its sheet.
    """

    HORIZONTAL_BREAKPOINTS: list[tuple[int, str]] | None = [  # noqa: RUF012
        (0, "-narrow"),
        (110, "-wide"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = action_bindings("place")

    def __init__(self, open_job: OpenJob, place: Place) -> None:
        """Open `place`."""
        super().__init__()
        self.open_job = open_job
        self.place: Place = place
        self.papers_run: PaperRun | None = None

    def compose(self) -> ComposeResult:
        """Top to bottom; the flags stand beside the sheet when there is room."""
        yield TitleLine()
        yield PlaceTabs()
        with Horizontal(id="body"):
            with Container(id="sheet-area"):
                yield SheetView(self, CellEntry(self))
            with Vertical(id="side"):
                yield FlagList()
                yield Static(id="about-cell", markup=False)
        yield FlagLine()
        yield HintLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Fill everything, the cursor on the next thing to do."""
        self.set_focus(self.sheet)
        self.open_place(self.place)

    @property
    def sheet(self) -> SheetView:
        """The sheet's widget."""
        return self.query_one(SheetView)

    @property
    def cursor(self) -> Cursor:
        """The cursor on the sheet; call `show_cursor` after moving it."""
        return self.sheet.cursor

    @property
    def hint(self) -> HintLine:
        """The line about the cell."""
        return self.query_one(HintLine)

    # showing

    def open_place(self, place: Place, at: CellRef | None = None) -> None:
        """Show a place, the cursor on `at`, else on the next thing to do, gap, or sign-off."""
        self.place = place
        self.cursor.forget()
        self.redraw()
        step = next_step_from(self.open_job.job, self.open_job.verdicts, place)
        wanted = at or (step.at if step.place == place else None)
        if wanted is None or not self.cursor.go_to(wanted):
            signs = None if self.cursor.go_to_first_open() else next(to_sign(self, [place]), None)
            if signs is not None:
                self.cursor.go_to(signs[1])
        self.show_cursor()
        self.set_focus(self.sheet)

    def redraw(self) -> None:
        """Show the job as it is now in the book. Only the sheet in sight is built."""
        open_job, job = self.open_job, self.open_job.job
        if language_in_use() != "en":
            keep_as_entered(entered_texts(job))
        self.sheet.show(in_language(BUILDERS[self.place](job, open_job.system)))
        customer = f" - {job.job.customer}" if job.job.customer else ""
        step = next_step_from(job, open_job.verdicts, self.place)
        where = "here" if step.place == self.place else f"at the {PLACE_WORDS[step.place]}"
        next_words = f"{say(f'Next {where}')}: {shown(step.sentence)}"
        visit = visit_now(open_job)
        on_visit = (
            f" | {say('On a visit')}: {say(visit.reason or '') or visit.held_on}"
            if visit is not None
            else ""
        )
        title = f"{job.job.address}{customer}{on_visit} | {next_words}"
        self.query_one(TitleLine).show(title, open_job.by)
        counts = {place: count(job) for place, count in COUNTS.items()}
        self.query_one(PlaceTabs).show(self.place, counts)
        self.query_one(FlagList).show(open_job.verdicts)
        self.query_one(FlagLine).show(open_job.verdicts)

    def say_again(self) -> None:
        """Show everything in the language in use now."""
        if not self.is_mounted:
            return
        self.query_one(FlagList).forget()
        self.redraw()
        self.show_cursor()
        self.query_one(KeyLine).say_again()

    def show_cursor(self) -> None:
        """Bring the cursor into view and describe its cell."""
        self.sheet.show_cursor()

    def say(self, sentence: str) -> None:
        """Show a sentence under the sheet."""
        self.hint.say(sentence)

    # what the sheet tells

    def moved(self, cell: Cell | None) -> None:
        """Describe the cell that the cursor is on now."""
        if self.cursor.on_name and self.cursor.row is not None:
            self.hint.about_row(self.cursor.row.label)
        else:
            self.hint.about(cell)
        self._show_keys(cell)
        if self.has_class("-wide"):
            self._explain(cell)

    def _explain(self, cell: Cell | None) -> None:
        """Say beside the sheet what the cell is, below the flags."""
        about = Content("")
        if cell is not None:
            text = in_keys_in_use(shown(about_cell(cell, self.open_job.system)))
            label = say(cell.fact.label)
            about = Content.assemble((label, "$accent bold"), "\n", Content(text))
        self.query_one("#about-cell", Static).update(about, layout=False)

    def on_resize(self) -> None:
        """Explain the cell where the side has just come into view."""
        self.call_after_refresh(lambda: self._explain(self.cursor.cell))

    def _show_keys(self, cell: Cell | None) -> None:
        """Name the keys for a cell at the foot of the screen."""
        self.query_one(KeyLine).show(cell_keys(cell, differs=has_conflicts(self.open_job.job)))

    def typing(self, cell: Cell) -> None:
        """Name the keys of a field that is typed into."""
        self.query_one(KeyLine).show(TYPING_KEYS)

    def keep_typing(self) -> None:
        """Keep what is in the open field, if there is one."""
        self.sheet.finish_typing()

    def do(self, name: str) -> None:
        """Run an action of the keymap by its name, once what is being typed is kept.

        Undo takes back what is being typed before it takes back an entry; help leaves it open.
        """
        if name == "undo" and self.sheet.typing:
            self.sheet.leave_typing()
            self.say("Left as it was.")
        elif name == "explain" or self.sheet.finish_typing():
            self.attempt(lambda: COMMANDS[name](self))

    def on_key(self, event: events.Key) -> None:
        """Take Alt and a digit, as a terminal sends it, from the tabs and the flags too.

        A function key that only the board has says where it works.
        """
        action = action_for(event.key, "place")
        if action is not None and event.key not in action.keys:
            event.stop()
            self.do(action.name)
        on_board = action_for(event.key, "board")
        if action is None and on_board is not None and event.key in FUNCTION_KEYS:
            label = say(on_board.label)
            self.say(f"“{label}” works on the board: {key_of('board')} goes there.")

    def action_do(self, name: str) -> None:
        """Do the same for a key that the sheet did not take."""
        self.do(name)

    def paste(self, text: str) -> None:
        """Show what a pasted table would change, or say why it is refused."""
        self.attempt(lambda: bulk_commands.paste(self, text))

    def palette_entries(self) -> list[Entry]:
        """Every action here, with why it can't be done now, and every place of the property."""
        entries = entries_of_actions(offered("place"), lambda name: why_not(self, name), self.do)
        return [*entries, *destinations(self)]

    def attempt(self, command: Callable[[], None]) -> bool:
        """Run a command, or say in one sentence why it can't be done and return False."""
        try:
            command()
        except (RefusedError, BookError) as why:
            self.hint.refuse(str(why))
            return False
        return True

    # flags and places

    def focus_flags(self) -> None:
        """Put the cursor into the list of flags, which covers a narrow sheet."""
        self.add_class("flags-open")
        self.set_focus(self.query_one(FlagList))

    def focus_places(self) -> None:
        """Put the cursor on the tabs of the places."""
        self.set_focus(self.query_one(PlaceTabs))

    def on_flag_list_follow(self, event: FlagList.Follow) -> None:
        """To the cell that mends the flag or answers the check."""
        self.remove_class("flags-open")
        self.open_place(event.target.at.place, event.target.at)
        self.say(event.target.sentence)

    def on_flag_line_clicked(self) -> None:
        """Open the list of flags."""
        self.do("flags")

    def on_flag_list_leave(self) -> None:
        """Go back to the sheet."""
        self.remove_class("flags-open")
        self.set_focus(self.sheet)

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Name the keys of the tabs, the flags or the cell, whichever takes keys now."""
        if isinstance(event.widget, PlaceTabs):
            self.query_one(KeyLine).show(PLACE_KEYS)
        elif isinstance(event.widget, FlagList):
            self.query_one(KeyLine).show(FLAG_KEYS)
        elif not self.sheet.typing:
            self._show_keys(self.cursor.cell)

    def on_place_tabs_go(self, event: PlaceTabs.Go) -> None:
        """Open the place chosen on the tabs, or leave for the board."""
        if event.place is None:
            self.leave()
        else:
            self.open_place(event.place)

    def leave(self) -> None:
        """Go back to the board, once, however often it was asked for meanwhile."""
        if self.is_current:
            self.app.pop_screen()


def _on_visit(open_job: OpenJob) -> str:
    """The visit under way, on which a change counts; "" where there is none."""
    visit = visit_now(open_job)
    if visit is None:
        return ""
    return f" | {say('On a visit')}: {say(visit.reason or '') or visit.held_on}"
