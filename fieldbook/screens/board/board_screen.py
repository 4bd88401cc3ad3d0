"""The board: the home screen. Light to import, so that its frame comes before the book is open."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from fieldbook.actions.keymap import offered
from fieldbook.screens.board.board_list import BoardList
from fieldbook.screens.board.columns import heads
from fieldbook.screens.widgets.edge_lines import KeyLine, TitleLine

if TYPE_CHECKING:
    from fieldbook.actions.board.board import Listing, SearchResult
    from fieldbook.actions.board.board_row import BoardRow

_KEYS = (
    ("Enter", "open"),
    ("n", "new property"),
    ("d", "the day"),
    ("/", "find"),
    ("x", "exchange"),
    ("?", "keys"),
    ("Del", "remove"),
    ("u", "undo that"),
    ("Ctrl+Q", "leave"),
)
_LOOK_AT_DAY_S = 60.0
_EMPTY = "No property yet.\n\nn  adds one: type its address, and it opens at the street."


class BoardScreen(Screen[None]):
    """One line a property; it asks for acts by messages and shows what it is given."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(",".join(action.keys), f"do('{action.name}')", action.label, show=False)
        for action in offered("board")
    ]
    BINDINGS += [Binding("escape", "show_all", show=False)]

    @dataclass
    class Do(Message):
        """An action of the registry is wanted, on the property highlighted (or None)."""

        name: str
        line: BoardRow | None

    class Resumed(Message):
        """The board is in front again."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__()
        self._lines: Listing | None = None
        self._found: SearchResult | None = None
        self._day = date.today()

    def compose(self) -> ComposeResult:
        """Title, heads, list, what is known of the one highlighted, keys."""
        yield TitleLine()
        yield Static(id="board-heads", markup=False)
        yield Static("Opening the book ...", id="board-empty", markup=False)
        yield BoardList()
        yield Static(id="hint-line", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """Before the book is open."""
        self.query_one(BoardList).display = False
        self.query_one(TitleLine).show("fieldbook", "")
        self.query_one(KeyLine).show(_KEYS)
        self.set_interval(_LOOK_AT_DAY_S, self._look_at_day)

    def on_resize(self) -> None:
        """Fit the heads to the list's columns."""
        self.query_one("#board-heads", Static).update(Content(heads(self.size.width - 3)))

    def on_screen_resume(self) -> None:
        """Back in front: what was entered meanwhile is to be shown."""
        if self._lines is not None:
            self.post_message(self.Resumed())

    def _look_at_day(self) -> None:
        """A new day makes and ends flags."""
        if self.is_current and self._day != date.today():
            self.on_screen_resume()

    # showing

    @property
    def is_there(self) -> bool:
        """Whether there is still a list to show lines on: not once the app is left."""
        return bool(self.query(BoardList))

    @property
    def unknown(self) -> list[str]:
        """The jobs in view whose lines are still to be made."""
        return self.query_one(BoardList).unknown

    def show(self, lines: Listing, title: str, by: str, job_id: str | None) -> None:
        """Show the book's properties, `job_id` highlighted."""
        self._lines, self._day = lines, date.today()
        if self._found is not None:
            self._found.renew()
        self.query_one(TitleLine).show(title, by)
        self._list(job_id)

    def renew(self, title: str, by: str, *, find_again: bool) -> None:
        """Lines were made anew: show them, and what of them is found too."""
        self.query_one(TitleLine).show(title, by)
        if find_again and self._found is not None:
            self._found.renew()
        self.query_one(BoardList).renew()

    def find(self, found: SearchResult | None) -> None:
        """Show only the properties found; all of them when nothing is looked for."""
        self._found = found if found is not None and found.typed else None
        self._list(None, stay=False)

    def say(self, text: str, *, bad: bool = False) -> None:
        """A line about what was done, or why not."""
        hint = self.query_one("#hint-line", Static)
        hint.set_class(bad, "bad")
        hint.update(Content(text))

    def _list(self, job_id: str | None, *, stay: bool = True) -> None:
        lines = self._found if self._found is not None else self._lines
        if lines is None:
            return
        board, empty = self.query_one(BoardList), self.query_one("#board-empty", Static)
        board.display, empty.display = bool(lines), not lines
        typed = self._found.typed if self._found is not None else ""
        empty.update(Content(f"No property matches “{typed}”. Esc shows all." if typed else _EMPTY))
        self.query_one("#board-heads", Static).display = bool(lines)
        board.show(lines, job_id, stay=stay)
        if lines:
            board.focus()

    # what the list says

    def on_board_list_moved(self, event: BoardList.Moved) -> None:
        """Who it belongs to and how to get in."""
        line = event.line
        if line is None:
            self.say("")
            return
        known = " | ".join(part for part in (line.customer, line.phone, line.access) if part)
        if self._found is not None:
            where = self._found.where(line.job_id) or known
            self.say(f"“{self._found.typed}”: {len(self._found)} found, Esc shows all. {where}")
            return
        self.say(known or "Customer and access are entered at the desk (5).")

    def on_board_list_open(self, event: BoardList.Open) -> None:
        """Enter."""
        self.post_message(self.Do("open", event.line))

    # actions of the registry

    def action_do(self, name: str) -> None:
        """Ask for an action of the registry."""
        self.post_message(self.Do(name, self.query_one(BoardList).line))

    def action_show_all(self) -> None:
        """Esc: no longer only what matches."""
        self.find(None)
