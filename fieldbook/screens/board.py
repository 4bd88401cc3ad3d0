"""The board: the home screen. Light to import, so that its frame comes before the book is open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from fieldbook.actions.registry import offered
from fieldbook.screens.board_list import BoardList, heads
from fieldbook.screens.key_line import KeyLine
from fieldbook.screens.title_line import TitleLine

if TYPE_CHECKING:
    from fieldbook.actions.board import BoardLine

_KEYS = (
    ("Enter", "open"),
    ("n", "new property"),
    ("d", "the day"),
    ("/", "find"),
    ("?", "keys"),
    ("Del", "remove"),
    ("u", "undo that"),
    ("Ctrl+Q", "leave"),
)
_MOST_LISTED = 500
"""Lines that are drawn; finding looks through all."""
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
        line: BoardLine | None

    class Resumed(Message):
        """The board is in front again."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__()
        self._lines: tuple[BoardLine, ...] = ()
        self._finding = ""
        self._found: Mapping[str, str] = {}
        self._open = False

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

    def on_resize(self) -> None:
        """Fit the heads to the list's columns."""
        self.query_one("#board-heads", Static).update(Content(heads(self.size.width - 3)))

    def on_screen_resume(self) -> None:
        """Back in front: what was entered meanwhile is to be shown."""
        if self._open:
            self.post_message(self.Resumed())

    # showing

    def show(self, lines: Sequence[BoardLine], title: str, by: str, job_id: str | None) -> None:
        """Show the book's properties, `job_id` highlighted."""
        self._open = True
        self._lines = tuple(lines)
        self.query_one(TitleLine).show(title, by)
        self._list(job_id)

    def find(self, typed: str, found: Mapping[str, str]) -> None:
        """Show only the properties found, by id and where; all of them when nothing is typed."""
        self._finding, self._found = typed.strip(), found
        self._list(None)

    def say(self, text: str, *, bad: bool = False) -> None:
        """A line about what was done, or why not."""
        hint = self.query_one("#hint-line", Static)
        hint.set_class(bad, "bad")
        hint.update(Content(text))

    def _list(self, job_id: str | None) -> None:
        shown = [one for one in self._lines if not self._finding or one.job_id in self._found]
        board, empty = self.query_one(BoardList), self.query_one("#board-empty", Static)
        board.display, empty.display = bool(shown), not shown
        none_found = f"No property matches “{self._finding}”. Esc shows all."
        empty.update(Content(none_found if self._finding else _EMPTY))
        self.query_one("#board-heads", Static).display = bool(shown)
        listed = shown[:_MOST_LISTED]
        if job_id is not None and all(line.job_id != job_id for line in listed):
            listed += [line for line in shown if line.job_id == job_id]
        board.show(listed, job_id)
        if shown:
            board.focus()
        if len(listed) < len(shown):
            self.say(f"The first {_MOST_LISTED} of {len(shown)} properties: / finds any of them.")

    # what the list says

    def on_board_list_moved(self, event: BoardList.Moved) -> None:
        """Who it belongs to and how to get in."""
        line = event.line
        if line is None:
            self.say("")
            return
        known = " | ".join(part for part in (line.customer, line.phone, line.access) if part)
        if self._finding:
            where = self._found.get(line.job_id) or known
            self.say(f"“{self._finding}”, Esc shows all. {where}")
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
        self.find("", {})
