"""The screen of the board. Light to import, so that its frame comes before the book is open."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from fieldbook.actions.keymap import in_keys_in_use, key_of
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.board.board_list import BoardList, Listing
from fieldbook.screens.board.columns import board_room, heads
from fieldbook.screens.board.progress_bar import in_words
from fieldbook.screens.widgets.action_bindings import action_bindings
from fieldbook.screens.widgets.edge_lines import KeyLine, TitleLine
from fieldbook.screens.widgets.terminal_cells import fit

if TYPE_CHECKING:
    from fieldbook.actions.board.board import SearchResult
    from fieldbook.actions.board.board_row import BoardRow

_FOOT = {
    "open": "open it",
    "new": "new property",
    "find": "find",
    "day": "the day",
    "exchange": "exchange",
    "explain": "keys",
    "palette": "all",
    "remove_property": "remove",
    "undo": "undo that",
    "quit": "leave",
}
"""The actions named at the foot of the screen, the most needed first."""
_CHECK_DAY_EVERY_S = 60.0
_EMPTY = "No property yet.\n\nIns  adds one: type its address, and it opens at the street."


class BoardScreen(Screen[None]):
    """A row for each property. It shows what it is given and asks for actions by messages."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *action_bindings("board"),
        Binding("escape", "show_all", show=False),
    ]

    @dataclass
    class Do(Message):
        """An action of the keymap is wanted, on the property highlighted (None: there is none)."""

        name: str
        row: BoardRow | None

    @dataclass
    class Search(Message):
        """A search is begun with this character."""

        typed: str

    class Resumed(Message):
        """The board is in front again."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__()
        self._listing: Listing | None = None
        self._found: SearchResult | None = None
        self._shown_on = date.today()
        self._said_on: str | None = None
        """The property highlighted while a sentence was shown, which still stands."""

    def compose(self) -> ComposeResult:
        """The title, the column heads, the list, a line about the one highlighted, the keys."""
        yield TitleLine()
        yield Static(id="board-heads", markup=False)
        yield Static(say("Opening the book ..."), id="board-empty", markup=False)
        yield BoardList()
        yield Static(id="hint-line", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the frame while the book is not open yet."""
        self.query_one(BoardList).display = False
        self.query_one(TitleLine).show("fieldbook", "")
        self.query_one(KeyLine).show([(key_of(name), word) for name, word in _FOOT.items()])
        self.set_interval(_CHECK_DAY_EVERY_S, self._check_day)

    def on_resize(self) -> None:
        """Fit the heads to the list's columns."""
        self.query_one("#board-heads", Static).update(Content(heads(board_room(self.size.width))))

    def on_screen_resume(self) -> None:
        """Ask for the rows again: something was entered on a property meanwhile."""
        if self._listing is not None:
            self.post_message(self.Resumed())

    def _check_day(self) -> None:
        """Ask for the rows again once a new day has begun: it makes and ends flags."""
        if self.is_current and self._shown_on != date.today():
            self.on_screen_resume()

    # showing

    def say_again(self) -> None:
        """Show everything in the language in use now."""
        if self.is_there:
            self.query_one(KeyLine).say_again()
            self.on_resize()
            self.query_one(BoardList).refresh()
            self.on_board_list_moved(BoardList.Moved(self.query_one(BoardList).row))

    def show_first(self, listing: Listing) -> None:
        """Show rows as the book stored them, while it is still being opened."""
        self.query_one(TitleLine).show(say("fieldbook - opening the book ..."), "")
        self.query_one("#board-heads", Static).display = True
        board = self.query_one(BoardList)
        board.display, self.query_one("#board-empty", Static).display = True, False
        board.show(listing)
        board.focus()

    @property
    def is_there(self) -> bool:
        """Whether there is still a list to show rows on; not once the app is left."""
        return bool(self.query(BoardList))

    @property
    def has_row(self) -> bool:
        """Whether a property is highlighted."""
        return self.query_one(BoardList).row is not None

    @property
    def stale_in_view(self) -> list[str]:
        """The ids of the jobs in view whose rows are still to be made."""
        return self.query_one(BoardList).stale_in_view

    def show(self, listing: Listing, title: str, by: str, job_id: str | None) -> None:
        """Show the book's properties, `job_id` highlighted; `by` are the initials of the crew."""
        if self._listing is None:
            # A first page may lack rows that the open book lists before its own.
            self.query_one(BoardList).forget_top()
        self._listing, self._shown_on = listing, date.today()
        if self._found is not None:
            self._found.renew()
        self.query_one(TitleLine).show(title, by)
        self._list(job_id)

    def reread(self, title: str, by: str, *, find_again: bool) -> None:
        """Show rows that were made anew. `find_again`: search in them too."""
        self.query_one(TitleLine).show(title, by)
        if find_again and self._found is not None:
            self._found.renew()
        self.query_one(BoardList).reread()

    def show_found(self, found: SearchResult | None) -> None:
        """Show only the properties found; all of them where nothing was searched for."""
        self._found = found if found is not None and found.typed else None
        self._said_on = None
        self._list(None, stay=False)

    def say(self, text: str, *, bad: bool = False) -> None:
        """Show a sentence about what was done, or why it was refused (`bad`).

        It stays until another row is highlighted: the list tells of the same row again when the
        board comes back to the front.
        """
        row = self.query_one(BoardList).row
        self._said_on = row.job_id if row is not None else ""
        self._show_hint(text, bad=bad)

    def _show_hint(self, text: str, *, bad: bool = False) -> None:
        hint = self.query_one("#hint-line", Static)
        hint.set_class(bad, "bad")
        hint.update(Content(in_keys_in_use(shown(text))))

    def _list(self, job_id: str | None, *, stay: bool = True) -> None:
        listing = self._found if self._found is not None else self._listing
        if listing is None:
            return
        board, empty = self.query_one(BoardList), self.query_one("#board-empty", Static)
        any_row = len(listing) > 0
        board.display, empty.display = any_row, not any_row
        typed = self._found.typed if self._found is not None else ""
        empty.update(
            Content(
                shown(f"No property matches “{typed}”. Esc shows all.")
                if typed
                else in_keys_in_use(say(_EMPTY))
            )
        )
        self.query_one("#board-heads", Static).display = any_row
        board.show(listing, job_id, stay=stay)
        if any_row:
            board.focus()

    # what the list reports

    def on_board_list_moved(self, event: BoardList.Moved) -> None:
        """Show whose property it is and how to get in, or where the words were found."""
        row = event.row
        if row is None:
            self._show_hint("")
            return
        if row.job_id == self._said_on:
            return
        self._said_on = None
        known = " | ".join(part for part in (row.customer, row.phone, row.access) if part)
        if self._found is not None:
            where = self._found.where(row.job_id) or known
            self._show_hint(
                f"“{self._found.typed}”: {len(self._found)} found, Esc shows all. {where}"
            )
            return
        width = max(self.size.width - 2, 20)
        step = f"Next: {row.next}" if row.known and row.next else ""
        if row.elsewhere:
            step = f"Not here: Enter fetches it. As of {row.changed}, {row.elsewhere}."
        lines = (
            shown(step),
            known or say("Customer and access are entered at the street (1)."),
            shown(in_words(row, date.today())),
        )
        self._show_hint("\n".join(fit(line, width).rstrip() for line in lines if line))

    def on_board_list_opened(self) -> None:
        """Open the property that was clicked."""
        self.action_do("open")

    # keys

    def on_key(self, event: events.Key) -> None:
        """A letter or a digit begins a search, so that a stray one does no harm."""
        is_held = event.key.startswith("alt+")
        if event.is_printable and event.character and event.character.isalnum() and not is_held:
            event.stop()
            self.post_message(self.Search(event.character))

    # actions of the keymap

    def action_do(self, name: str) -> None:
        """Ask for an action of the keymap."""
        self.post_message(self.Do(name, self.query_one(BoardList).row))

    def action_show_all(self) -> None:
        """Esc: show all properties, not only those found."""
        self.show_found(None)
