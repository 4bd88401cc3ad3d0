"""The open book behind the board's screen, and the commands of the board.

It imports the record and the store, so it is imported only once the first frame is shown.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from fieldbook.actions import properties
from fieldbook.actions.board.board import Board
from fieldbook.actions.board.board_row import BoardRow
from fieldbook.actions.keymap import in_keys_in_use
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import fill_demo
from fieldbook.actions.refused import RefusedError, typed_path
from fieldbook.languages.in_use import say
from fieldbook.records.base import Place
from fieldbook.screens.board.progress_bar import COLUMN_HELP
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.palette.entries import Entry
from fieldbook.screens.sheets.explain import explain_keys
from fieldbook.screens.widgets.dialogs import AskLine, Choose, LanguageWanted, Read, TypistWanted
from fieldbook.screens.widgets.theme import ThemeWanted
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError

if TYPE_CHECKING:
    from textual.app import App

    from fieldbook.screens.board.board_screen import BoardScreen

# A page and what it reads are imported when it is opened: the board is ready sooner.
# ruff: noqa: PLC0415

_REPORT_EVERY_S = 1.0
"""How often the title says how many rows are still to be read."""
_GUIDED = "Ctrl+P, guided: a first job in two minutes"
_MOST_NAMED = 8
"""So many properties stand in the palette at most."""
_HOLD_ALL = "Hold the whole firm's properties: the next exchange brings them"
_HOLD_CHOSEN = "Hold chosen properties: take no others from now on"
_CLOSED_ARE_HIDDEN = "What is handed over is not listed: F8 finds it, Alt+C lists it again."
_PUT_UNUSED = "Put away what was not used here for a year"
_KEEP, _REMOVE = "Keep it", "Remove it (Ctrl+Z on the board brings it back)"


class OpenBook:
    """A book, its board, and the initials that entries are made with (`by`)."""

    def __init__(self, path: Path, *, scratch: bool = False) -> None:
        """Open the book at `path`; raises BookError. `scratch`: it is thrown away at the end."""
        self.book = Book(path, scratch=scratch)
        self.scratch = scratch
        self.by = self.book.laptop.initials()
        self.board = Board(self.book)
        self.board.prepare_first_page()
        self._reported_at = 0.0
        self._folder: tempfile.TemporaryDirectory[str] | None = None

    @classmethod
    def demo(cls) -> OpenBook:
        """A scratch copy of the demo properties, in a folder that is removed with it."""
        folder = tempfile.TemporaryDirectory(
            prefix="fieldbook-demo-",
            # Windows keeps a folder in which some viewer still has a photo open.
            ignore_cleanup_errors=True,
        )
        path = Path(folder.name) / "demo.sqlite"
        with Book(path, scratch=True) as book:
            fill_demo(book)
        opened = cls(path, scratch=True)
        opened._folder = folder
        return opened

    def close(self) -> None:
        """Close the book, and remove the scratch folder if it has one."""
        self.book.close()
        if self._folder is not None:
            self._folder.cleanup()

    def set_initials(self, typed: str) -> None:
        """Make entries with these initials from now on; raises RefusedError."""
        self.by = properties.set_initials(self.book, typed)

    def ask_who(self, app: App[None], changed: Callable[[str], None]) -> None:
        """Ask who is typing: the people of this laptop, the newest first, or somebody new."""
        people = self.book.laptop.people()

        def keep(typed: str) -> str | None:
            try:
                self.set_initials(typed)
            except (RefusedError, BookError) as why:
                return str(why)
            return None

        def typed(initials: str | None) -> None:
            if initials is not None:
                changed(self.by)

        def chosen(index: int | None) -> None:
            if index == len(people):
                app.push_screen(AskLine("Who is typing?", "Type the initials.", keep), typed)
            elif index is not None and keep(people[index]) is None:
                changed(self.by)

        # The one who typed before the present one comes first: two people take turns.
        others = people[1] if len(people) > 1 else ""
        words = [*people, "Somebody else"]
        current = words.index(others) if others else len(words) - 1
        app.push_screen(Choose("Who is typing?", words, current), chosen)

    def show_on(self, screen: BoardScreen, job_id: str | None = None) -> None:
        """Show the board as it is now, `job_id` highlighted."""
        screen.show(self.board.listing(), self._title(), self.by, job_id)

    def catch_up(self, screen: BoardScreen) -> bool:
        """Make some stale rows anew, those in view first; returns whether more are left."""
        in_view = screen.stale_in_view
        made = self.board.catch_up(in_view)
        more = made and self.board.stale_count() > 0
        due = not more or time.monotonic() - self._reported_at > _REPORT_EVERY_S
        if due:
            self._reported_at = time.monotonic()
        if in_view or due:
            screen.reread(self._title(), self.by, find_again=due)
        return more

    def _title(self) -> str:
        if self.scratch:
            kept_not = say("fieldbook - demo copy, nothing here is kept.")
            return f"{kept_not} {in_keys_in_use(say(_GUIDED))}"
        count, stale = self.book.board.count(), self.board.stale_count()
        what = "1 property" if count == 1 else f"{count} properties"
        far = self.book.keeping.count_elsewhere()
        return f"fieldbook - {say(what)}" + (
            (f", {say(f'{far} of them not on this laptop')}" if far else "")
            + (f", {say(f'{stale} still to be read')}" if stale else "")
        )

    def do(self, screen: BoardScreen, name: str, row: BoardRow | None) -> None:
        """Run a command of the board on the property highlighted."""
        _attempt(screen, lambda: BOARD_COMMANDS[name](self, screen, row))

    def search(self, screen: BoardScreen, begun: str) -> None:
        """Ask for words to find; `begun` is what was typed on the board."""
        _attempt(screen, lambda: _ask_search(self, screen, begun))

    def why_not(self, screen: BoardScreen, name: str) -> str:
        """The sentence that would refuse an action of the board now; empty where it can be done."""
        if name in ("open", "remove_property") and not screen.has_row:
            return "There is no property yet: add one first."
        if name == "undo" and self.book.last_off_board() is None:
            return "No property was removed. Open one to undo its entries."
        return ""

    def entries_named(self, screen: BoardScreen, typed: str) -> list[Entry]:
        """The first few properties that contain what was typed, each an entry that opens it."""
        found = self.board.find(typed).window(0, _MOST_NAMED)
        return [
            Entry(
                row.address,
                f"A property. {row.customer}".rstrip(),
                partial(self._go_to, screen, row),
            )
            for row in found
        ]

    def _go_to(self, screen: BoardScreen, row: BoardRow) -> None:
        """Open a property from wherever the crew is."""
        while screen.app.screen is not screen:
            screen.app.pop_screen()
        self.do(screen, "open", row)

    def open_job(self, screen: BoardScreen, job_id: str, place: Place) -> None:
        """Open a property at a place; raises BookError."""
        screen.app.push_screen(JobScreen(OpenJob(self.book, job_id, self.by), place))


def _attempt(screen: BoardScreen, command: Callable[[], None]) -> None:
    """Run a command, or show in one sentence why it can't be done."""
    try:
        command()
    except (RefusedError, BookError) as why:
        screen.say(str(why), bad=True)


def _new(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    def refuse(typed: str) -> str | None:
        return None if typed.strip() else "A property needs an address: street and number."

    def add(address: str) -> None:
        job_id = properties.new_property(opened.book, address, opened.by)
        opened.open_job(screen, job_id, "street")

    def answered(address: str | None) -> None:
        if address is not None:
            _attempt(screen, lambda: add(address))

    hint = "Type its address. Esc adds no property."
    screen.app.push_screen(AskLine("New property", hint, refuse), answered)


def _open(opened: OpenBook, screen: BoardScreen, row: BoardRow | None) -> None:
    if row is None:
        raise RefusedError("There is no property to open: Ins adds one.")
    if row.elsewhere:
        _fetch(opened, screen, row)
        return
    if opened.book.keeping.is_chosen():
        opened.book.keeping.record_choice(row.job_id, "opened")
    opened.open_job(screen, row.job_id, opened.board.current(row).place)


def _fetch(opened: OpenBook, screen: BoardScreen, row: BoardRow) -> None:
    """Fetch a property that is not on this laptop, then open it. Raises RefusedError."""
    from fieldbook.actions.holding.fetch_property import fetching
    from fieldbook.screens.pages.exchange_page import FetchPage

    def fetched(_: None) -> None:
        opened.show_on(screen, row.job_id)
        if opened.book.keeping.is_here(row.job_id):
            _attempt(screen, lambda: opened.open_job(screen, row.job_id, row.place))

    steps = fetching(opened.book, row.job_id, row.address)
    screen.app.push_screen(FetchPage(steps, row.address), fetched)


def _hide_closed(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    keeping = opened.book.keeping
    keeping.hide_closed(not keeping.hides_closed())
    opened.show_on(screen)
    hidden = keeping.hides_closed()
    screen.say(_CLOSED_ARE_HIDDEN if hidden else "What is handed over is listed again.")


def _keep(opened: OpenBook, screen: BoardScreen, row: BoardRow | None) -> None:
    """Ask what this laptop is to hold; the first answer changes nothing."""
    from fieldbook.actions.holding import leave_laptop

    book = opened.book
    answers: list[tuple[str, Callable[[], str]]] = [("Leave everything as it is", lambda: "")]
    if row is not None and not row.elsewhere:
        job_id = row.job_id
        put_away = f"Put {row.address} away from this laptop"
        answers.append((put_away, lambda: leave_laptop.put_away(book, job_id)))
    answers.append(
        (_HOLD_ALL, lambda: leave_laptop.hold_whole(book))
        if book.keeping.is_chosen()
        else (_HOLD_CHOSEN, lambda: leave_laptop.hold_chosen(book))
    )
    answers.append((_PUT_UNUSED, lambda: leave_laptop.put_away_unused(book)))

    def do(index: int) -> None:
        said = answers[index][1]()
        opened.show_on(screen)
        if said:
            screen.say(said)

    def answered(index: int | None) -> None:
        if index is not None:
            _attempt(screen, lambda: do(index))

    words = [words for words, _ in answers]
    screen.app.push_screen(Choose(leave_laptop.what_is_held(book), words), answered)


def _find(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    _ask_search(opened, screen, "")


def _ask_search(opened: OpenBook, screen: BoardScreen, begun: str) -> None:
    """Ask for words to find, and show the properties that have them; `begun` is typed already."""

    def refuse(typed: str) -> str | None:
        return None if opened.board.find(typed) else f"No property matches “{typed.strip()}”."

    def answered(typed: str | None) -> None:
        if typed is not None:
            _attempt(screen, lambda: screen.show_found(opened.board.find(typed)))

    hint = "Words from its address, customer, notes, serials, permits, any text in it."
    stale = opened.board.stale_count()
    if stale:
        hint += f" {stale} are still to be read: those are found by address and customer only."
    screen.app.push_screen(AskLine("Find a property", hint, refuse, begun), answered)


def _remove(opened: OpenBook, screen: BoardScreen, row: BoardRow | None) -> None:
    if row is None:
        raise RefusedError("There is no property to remove.")

    def remove() -> None:
        properties.remove_property(opened.book, row.job_id, opened.by)
        opened.show_on(screen)
        screen.say(f"Removed {row.address}. Ctrl+Z brings it back.")

    def answered(index: int | None) -> None:
        if index == 1:
            _attempt(screen, remove)

    screen.app.push_screen(Choose(f"Remove {row.address}?", (_KEEP, _REMOVE)), answered)


def _undo(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    job_id = properties.bring_back(opened.book, opened.by)
    opened.show_on(screen, job_id)
    screen.say("The property removed last is back.")


def _day(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    from fieldbook.actions.board.day_list import day_list
    from fieldbook.screens.pages.page import Page
    from fieldbook.screens.pages.reports import day_lines

    screen.app.push_screen(Page(lambda _width: day_lines(day_list(opened.book))))


def _exchange(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    from fieldbook.actions.exchange.folder_exchange import FolderExchange
    from fieldbook.screens.pages.exchange_page import ExchangePage

    last = opened.book.places.last_folder()

    def folder_of(typed: str) -> Path:
        return typed_path(typed.strip() or last)

    def refuse(typed: str) -> str | None:
        if not typed.strip() and not last:
            return "Type the whole path of a folder, such as one on a stick."
        try:
            folder = folder_of(typed)
        except RefusedError as why:
            return str(why)
        return None if folder.is_dir() else f"There is no folder {folder}: put the stick in first."

    def answered(typed: str | None) -> None:
        if typed is not None:
            folder = folder_of(typed)
            page = ExchangePage(FolderExchange(opened.book, folder), str(folder))
            screen.app.push_screen(page, lambda _: opened.show_on(screen))

    again = f" Enter alone takes {last} again." if last else ""
    hint = f"The whole path of a folder on a stick, or of one that two laptops share.{again}"
    screen.app.push_screen(AskLine("Exchange with other laptops", hint, refuse), answered)


def _laptops(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    from fieldbook.screens.pages.laptops_page import LaptopsPage

    screen.app.push_screen(LaptopsPage(opened.book, opened.by))


def _explain(_opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    help_on_both = f"{COLUMN_HELP}\n\nKeys\n{explain_keys('board')}"
    screen.app.push_screen(Read("The board", help_on_both))


def _ask_who(opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    screen.app.post_message(TypistWanted(lambda _initials: opened.show_on(screen)))


def _change_language(_opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    screen.app.post_message(LanguageWanted())


def _change_theme(_opened: OpenBook, screen: BoardScreen, _row: BoardRow | None) -> None:
    screen.app.post_message(ThemeWanted())


BOARD_COMMANDS: Mapping[str, Callable[[OpenBook, BoardScreen, BoardRow | None], None]] = {
    "new": _new,
    "open": _open,
    "find": _find,
    "remove_property": _remove,
    "undo": _undo,
    "explain": _explain,
    "day": _day,
    "exchange": _exchange,
    "keep": _keep,
    "closed": _hide_closed,
    "laptops": _laptops,
    "who": _ask_who,
    "theme": _change_theme,
    "language": _change_language,
    "palette": lambda _opened, screen, _row: screen.app.action_command_palette(),
    "quit": lambda _opened, screen, _row: screen.app.exit(),
}
"""By the name of the action, as `keymap.offered("board")` lists them."""
