"""An open book behind the screens: the board's acts. Imported only once a frame is shown."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from fieldbook.actions import properties
from fieldbook.actions.board.board import Board, SearchResult
from fieldbook.actions.board.board_row import BoardRow
from fieldbook.actions.board.day_list import day_list
from fieldbook.actions.exchange.folder_exchange import FolderExchange
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import fill_demo
from fieldbook.actions.refused import RefusedError
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.pages.exchange_page import ExchangePage
from fieldbook.screens.pages.page import Page
from fieldbook.screens.pages.reports import day_lines
from fieldbook.screens.sheets.explain import explain_keys
from fieldbook.screens.widgets.dialogs import AskLine, Choose, Read
from fieldbook.screens.widgets.theme import ThemeWanted
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError

if TYPE_CHECKING:
    from fieldbook.screens.board.board_screen import BoardScreen

_TELL_EACH_S = 1.0
"""How often the board tells how much is still to be read."""
_KEEP, _REMOVE = "Keep it", "Remove it (u on the board brings it back)"


class OpenBook:
    """The book, its board, and whose entries are made."""

    def __init__(self, path: Path, *, scratch: bool = False) -> None:
        """Open the book at `path`; raises BookError. `scratch`: nothing here is kept."""
        self.book = Book(path, scratch=scratch)
        self.scratch = scratch
        self.by = self.book.laptop.initials()
        self.board = Board(self.book)
        self.board.prepare_first_page()
        self._told_at = 0.0
        self._folder: tempfile.TemporaryDirectory[str] | None = None

    @classmethod
    def demo(cls) -> OpenBook:
        """A scratch copy of the demo properties in a folder that goes with it."""
        folder = tempfile.TemporaryDirectory(prefix="fieldbook-demo-")
        path = Path(folder.name) / "demo.sqlite"
        with Book(path, scratch=True) as book:
            fill_demo(book)
        opened = cls(path, scratch=True)
        opened._folder = folder
        return opened

    def close(self) -> None:
        """Let go of the book, and of the scratch folder if it has one."""
        self.book.close()
        if self._folder is not None:
            self._folder.cleanup()

    def set_initials(self, typed: str) -> None:
        """Sign with these from now on; raises RefusedError."""
        self.by = properties.set_initials(self.book, typed)

    def show_on(self, screen: BoardScreen, job_id: str | None = None) -> None:
        """Show the board as it now is."""
        screen.show(self.board.listing(), self._title(), self.by, job_id)

    def catch_up(self, screen: BoardScreen) -> bool:
        """Make a few of the lines that are behind, those in view first; whether there are more."""
        seen = screen.unknown
        made = self.board.catch_up(seen)
        more = made and self.board.stale_count() > 0
        due = not more or time.monotonic() - self._told_at > _TELL_EACH_S
        if due:
            self._told_at = time.monotonic()
        if seen or due:
            screen.renew(self._title(), self.by, find_again=due)
        return more

    def _title(self) -> str:
        if self.scratch:
            return "fieldbook - demo copy, nothing here is kept"
        count, behind = self.book.board.count(), self.board.stale_count()
        what = "1 property" if count == 1 else f"{count} properties"
        return f"fieldbook - {what}" + (f", {behind} still to be read" if behind else "")

    def find(self, typed: str) -> SearchResult:
        """The properties that hold what was typed."""
        return self.board.find(typed)

    def do(self, screen: BoardScreen, name: str, line: BoardRow | None) -> None:
        """Run a board action; a reason it can't be done goes on the screen."""
        try:
            _DO[name](self, screen, line)
        except (RefusedError, BookError) as why:
            screen.say(str(why), bad=True)


def _new(opened: OpenBook, screen: BoardScreen, _line: BoardRow | None) -> None:
    def refuse(typed: str) -> str | None:
        return None if typed.strip() else "A property needs an address: street and number."

    def answered(address: str | None) -> None:
        if address is None:
            return
        job_id = properties.new_property(opened.book, address, opened.by)
        screen.app.push_screen(JobScreen(OpenJob(opened.book, job_id, opened.by), "street"))

    hint = "Its address. Esc: no new property."
    screen.app.push_screen(AskLine("New property", hint, refuse), answered)


def _open(opened: OpenBook, screen: BoardScreen, line: BoardRow | None) -> None:
    if line is None:
        raise RefusedError("No property is chosen: n adds one.")
    place = opened.board.current(line).place
    screen.app.push_screen(JobScreen(OpenJob(opened.book, line.job_id, opened.by), place))


def _find(opened: OpenBook, screen: BoardScreen, _line: BoardRow | None) -> None:
    def refuse(typed: str) -> str | None:
        return None if opened.find(typed) else f"No property matches “{typed.strip()}”."

    def answered(typed: str | None) -> None:
        if typed is not None:
            screen.find(opened.find(typed))

    hint = "Words from its address, customer, notes, serials, permits, any text in it."
    behind = opened.board.stale_count()
    if behind:
        hint += f" {behind} are still to be read: those by address and customer only."
    screen.app.push_screen(AskLine("Find a property", hint, refuse), answered)


def _remove(opened: OpenBook, screen: BoardScreen, line: BoardRow | None) -> None:
    if line is None:
        raise RefusedError("No property is chosen.")

    def answered(index: int | None) -> None:
        if index == 1:
            properties.remove_property(opened.book, line.job_id, opened.by)
            opened.show_on(screen)
            screen.say(f"Removed {line.address}. u brings it back.")

    screen.app.push_screen(Choose(f"Remove {line.address}?", (_KEEP, _REMOVE)), answered)


def _undo(opened: OpenBook, screen: BoardScreen, _line: BoardRow | None) -> None:
    job_id = properties.bring_back(opened.book, opened.by)
    opened.show_on(screen, job_id)
    screen.say("The property removed last is back.")


def _day(opened: OpenBook, screen: BoardScreen, _line: BoardRow | None) -> None:
    screen.app.push_screen(Page(lambda _width: day_lines(day_list(opened.book))))


def _exchange(opened: OpenBook, screen: BoardScreen, _line: BoardRow | None) -> None:
    last = opened.book.places.last_folder()

    def refuse(typed: str) -> str | None:
        if not typed.strip() and not last:
            return "Type the whole path of a folder, such as one on a stick."
        folder = Path(typed.strip() or last).expanduser()
        return None if folder.is_dir() else f"There is no folder {folder}: put the stick in first."

    def answered(typed: str | None) -> None:
        if typed is not None:
            folder = Path(typed.strip() or last).expanduser()
            page = ExchangePage(FolderExchange(opened.book, folder), str(folder))
            screen.app.push_screen(page, lambda _: opened.show_on(screen))

    again = f" Enter takes {last} again." if last else ""
    hint = f"A folder on a stick, or one kept alike on two laptops: its whole path.{again}"
    screen.app.push_screen(AskLine("Exchange with other laptops", hint, refuse), answered)


def _explain(_opened: OpenBook, screen: BoardScreen, _line: BoardRow | None) -> None:
    screen.app.push_screen(Read("Keys on the board", explain_keys("board")))


_DO: Mapping[str, Callable[[OpenBook, BoardScreen, BoardRow | None], None]] = {
    "new": _new,
    "open": _open,
    "find": _find,
    "remove_property": _remove,
    "undo": _undo,
    "explain": _explain,
    "day": _day,
    "exchange": _exchange,
    "theme": lambda _opened, screen, _line: (screen.post_message(ThemeWanted()), None)[1],
    "quit": lambda _opened, screen, _line: screen.app.exit(),
}
