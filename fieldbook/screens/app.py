"""The app: it shows the first frame at once, then opens the book and puts screens over it."""

from __future__ import annotations

import gc
import time
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from textual import events, work
from textual.app import App
from textual.message import Message
from textual.screen import Screen

from fieldbook.actions.board.board_row import FirstPage
from fieldbook.actions.keymap import in_keys_in_use, offered, use_keys
from fieldbook.actions.keys_file import KeysRead, read_keys
from fieldbook.languages.in_use import language_after, language_in_use, use_language
from fieldbook.languages.language_texts import Language, language_named
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.book_messages import BookFailed, BookOpened, BookRebuilt, as_sentence
from fieldbook.screens.closing import heed_signals
from fieldbook.screens.faults import Faults
from fieldbook.screens.first_run import FirstRun
from fieldbook.screens.palette.entries import Entry, entries_of_actions
from fieldbook.screens.palette.palette_screen import PaletteScreen
from fieldbook.screens.widgets.dialogs import Choose, InLanguage, Read, ScreenTold, TypistWanted
from fieldbook.screens.widgets.in_browser import BrowserPage
from fieldbook.screens.widgets.theme import DUSK, GLARE, THEMES
from fieldbook.screens.widgets.too_small import fit_screen
from fieldbook.store.errors import DamagedBookError

if TYPE_CHECKING:
    from fieldbook.screens.guide.guide import Guide
    from fieldbook.screens.open_book import OpenBook

_GUIDE = "About two minutes on the demo: a line at the top says which key to press, and why."
_LOST = ("Leave fieldbook; nothing is changed", "Make the book anew; a damaged one is kept")
_BETWEEN_SLICES_S = 0.01
"""Time for keys between two slices of rows that are made anew."""
_QUIET_S = 0.2
"""So long after a key no row is made anew that is not in view: typing is not held up."""


class FieldbookApp(App[None]):
    """Opens the book at `path`, or a scratch copy of the demo when `path` is None."""

    CSS_PATH = "style.tcss"
    TITLE = "fieldbook"

    ENABLE_COMMAND_PALETTE = False
    """The palette is an action of the keymap, and a screen of our own."""

    def __init__(
        self,
        path: Path | None,
        *,
        guided: bool = False,
        keys_file: Path | None = None,
        language: Language | None = None,
    ) -> None:
        """Nothing is opened before the first frame. `guided`: the guide begins on the board.

        `keys_file` gives actions other keys. Without a `language` it is the laptop's own.
        """
        super().__init__()
        self._language_asked = language
        use_language(language or "en")
        read = read_keys(keys_file) if keys_file is not None else KeysRead({})
        use_keys(read.keys)
        self.set_keymap({name: ",".join(keys) for name, keys in read.keys.items()})
        self._key_faults = read.faults
        self._path, self._guided = path, guided
        self._guide: Guide | None = None
        self._book: OpenBook | None = None
        self._board = BoardScreen()
        self._early: BoardScreen.Do | None = None
        """What was asked for while the book was still being opened."""
        self._catching_up = False
        self._key_at = 0.0
        self._faults = Faults(path.parent if path is not None else None)
        self._recovering = False
        self._page = BrowserPage(self)
        self._rebuilt = ""
        self.last_words = ""
        """A sentence for the shell, on what could not be written as the book was closed."""
        self.stops_on_fault = False
        """Whether a fault ends the app with its traceback, as tests want it."""

    def on_mount(self) -> None:
        """Show the empty board, then open the book."""
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = DUSK.name
        self.screen_change_signal.subscribe(self, lambda screen: fit_screen(screen, self.size))
        self.push_screen(self._board)
        if self._path is not None and (first := FirstPage(self._path)):
            self.call_later(self._show_first, first)
        heed_signals(self._close_at_once)
        self.call_after_refresh(self.open_book, demo=self._path is None)

    def on_resize(self, event: events.Resize) -> None:
        """Say what size is needed while the terminal is smaller."""
        for screen in self.screen_stack:
            fit_screen(screen, event.size)

    def _show_first(self, first: FirstPage) -> None:
        """Show the first page of rows, unless the whole board came before it."""
        if self._book is None:
            self._board.show_first(first)

    @work(thread=True, exclusive=True, exit_on_error=False)
    def open_book(self, *, demo: bool) -> None:
        """Open the book in a thread; a message says how it went."""
        # What is imported stays: to look for garbage in it meanwhile takes a tenth as long again.
        gc.disable()
        try:
            # Imported here: the record and the store take longer to import than the first frame.
            from fieldbook.screens.open_book import OpenBook  # noqa: PLC0415

            path = None if demo else self._path
            opened = OpenBook.demo() if path is None else OpenBook(path)
        except Exception as why:
            # A worker that fails ends the app with a traceback: every fault becomes a sentence.
            self.post_message(BookFailed(as_sentence(why), isinstance(why, DamagedBookError)))
        else:
            self.post_message(BookOpened(opened))
        finally:
            # Nor is it looked through later, which would hold up a key now and then.
            gc.freeze()
            gc.enable()

    def on_book_opened(self, event: BookOpened) -> None:
        """Show the board, and on first run ask for initials."""
        if self._book is not None:
            self._book.close()
        self._book = event.opened
        chosen = self._book.book.laptop.theme()
        self.theme = chosen if chosen in {theme.name for theme in THEMES} else DUSK.name
        own = language_named(self._book.book.laptop.language())
        if self._language_asked is None and own is not None:
            self._use(own)
        self._show_board()
        if not self._book.by:
            self.push_screen(FirstRun())
        elif isinstance(self.screen, FirstRun):
            self.pop_screen()
        if self._key_faults:
            self.push_screen(Read("The usual keys hold", "\n\n".join(self._key_faults)))
            self._key_faults = ()
        if self._guided and self._book.scratch:
            self.start_guide()
        if self._rebuilt:
            self._board.say(self._rebuilt)
        early, self._early = self._early, None
        if early is not None and self.screen is self._board:
            self._book.do(self._board, early.name, early.row)

    def _show_board(self) -> None:
        """Show the board as it is now; stale rows are made anew in slices, with keys in between."""
        assert self._book is not None
        self._book.show_on(self._board)
        if self._book.board.stale_count() and not self._catching_up:
            self._catching_up = True
            self.set_timer(_BETWEEN_SLICES_S, self._catch_up)

    def _catch_up(self) -> None:
        """Make a slice of stale rows anew, and set the timer for the next."""
        if self._book is None or not self._board.is_there:
            self._catching_up = False
            return
        quiet = time.monotonic() - self._key_at > _QUIET_S
        if quiet or self._board.stale_in_view:
            self._catching_up = self._book.catch_up(self._board)
        if self._catching_up:
            self.set_timer(_BETWEEN_SLICES_S, self._catch_up)

    async def on_event(self, event: events.Event) -> None:
        """Note when a key was pressed last; Esc leaves the guide where it would close nothing."""
        if isinstance(event, events.Key):
            self._key_at = time.monotonic()
            self._faults.key_pressed()
            if event.key == "escape" and self._guide is not None and self._guide.leaves():
                self._guide.leave()
                return
        await super().on_event(event)
        if isinstance(event, events.Key):
            self.call_after_refresh(self._say_unwritten)
        if self.is_web and isinstance(event, (events.Key, events.MouseUp)):
            # Only then is it known what the key or the tap has opened.
            self.call_after_refresh(self._page.show_keyboard)

    def on_descendant_focus(self) -> None:
        """A dialog may get its focus later than the key that opened it was handled."""
        self._page.show_keyboard()

    def action_command_palette(self) -> None:
        """Ctrl+P: open the palette over the board or a property."""
        if not isinstance(self.screen, PaletteScreen):
            self.push_screen(PaletteScreen())

    def palette_entries(self, screen: Screen[object]) -> Sequence[Entry]:
        """The actions of the board or of the property in front, and where to go from there."""
        guide = Entry("Guided first job", _GUIDE, self.start_guide, self._why_no_guide())
        if screen is self._board:
            do = self._board.action_do
            return [*entries_of_actions(offered("board"), self._why_not, do), guide]
        of_job = getattr(screen, "palette_entries", None)
        return [*of_job(), guide] if of_job is not None else []

    def properties_named(self, typed: str) -> Sequence[Entry]:
        """The first few properties found by what was typed."""
        return self._book.entries_named(self._board, typed) if self._book is not None else []

    def _why_not(self, name: str) -> str:
        """Why an action of the board can't be done now; empty where it can."""
        if self._book is None:
            return "" if name == "quit" else "The book is not open yet."
        return self._book.why_not(self._board, name)

    def start_guide(self) -> None:
        """Begin the guided first job on the demo's board; from a property, go back to the board."""
        if self._why_no_guide():
            self._board.say(self._why_no_guide(), bad=True)
            return
        # Imported here: it imports the job screen, which comes after the first frame.
        from fieldbook.screens.guide.guide import Guide  # noqa: PLC0415

        if self._guide is not None:
            self._guide.leave()
        while self.screen is not self._board:
            self.pop_screen()
        self._guide = Guide(self, self._end_guide)

    def _end_guide(self) -> None:
        self._guide = None

    def _why_no_guide(self) -> str:
        if self._book is not None and self._book.scratch:
            return ""
        why = "The guide works on the demo: leave with Ctrl+Q, then fieldbook demo --guided."
        return in_keys_in_use(why)

    def on_book_failed(self, event: BookFailed) -> None:
        """Leave, and say why in one sentence; a book that can be made anew is asked about first."""

        def answered(index: int | None) -> None:
            if index == 1:
                self._board.say("The book is being made anew ...")
                self.rebuild_book()
            else:
                self._leave(event.sentence)

        if event.lost and not self._rebuilt:
            self.push_screen(Choose(event.sentence, _LOST), answered)
        else:
            self._leave(event.sentence)

    @work(thread=True, exclusive=True, exit_on_error=False)
    def rebuild_book(self) -> None:
        """Make the book anew in a thread; a message says how it went."""
        try:
            from fieldbook.store.mending.in_place import rebuild_in_place  # noqa: PLC0415

            assert self._path is not None
            rebuilt = rebuild_in_place(self._path)
        except Exception as why:
            self.post_message(BookFailed(as_sentence(why)))
        else:
            self.post_message(BookRebuilt(rebuilt.sentence))

    def on_book_rebuilt(self, event: BookRebuilt) -> None:
        """Open the book that was made anew."""
        self._rebuilt = event.sentence
        self.open_book(demo=False)

    def _leave(self, sentence: str) -> None:
        self._page.say_last(sentence)
        self.exit(return_code=2, message=sentence)

    def on_first_run_initials_given(self, event: FirstRun.InitialsGiven) -> None:
        """Keep the initials, or say why they are refused."""
        if self._book is None:
            return
        try:
            self._book.set_initials(event.typed)
        except Exception as why:
            if isinstance(self.screen, FirstRun):
                self.screen.refuse(as_sentence(why))
            return
        if isinstance(self.screen, FirstRun):
            self.pop_screen()
        self._show_board()

    def on_first_run_demo_wanted(self) -> None:
        """Open a scratch copy of the demo in place of the book."""
        self.open_book(demo=True)

    def on_theme_wanted(self) -> None:
        """Change to the other theme; this laptop remembers it."""
        self.theme = GLARE.name if self.theme == DUSK.name else DUSK.name
        if self._book is not None:
            self._book.book.laptop.set_theme(self.theme)

    def on_language_wanted(self) -> None:
        """Change to the next language; this laptop remembers it."""
        self._use(language_after())
        if self._book is not None:
            self._book.book.laptop.set_language(language_in_use())
            self._show_board()

    def _use(self, language: Language) -> None:
        """Show every screen in this language."""
        use_language(language)
        for screen in self.screen_stack:
            if isinstance(screen, InLanguage):
                screen.say_again()

    def on_typist_wanted(self, event: TypistWanted) -> None:
        """Ask who makes the entries from now on; no restart is needed."""
        if self._book is not None:
            self._book.ask_who(self, event.changed)

    def on_screen_told(self, event: ScreenTold) -> None:
        """Show what a thread has done, wherever the crew is by now."""
        event.show(self.screen)

    def on_board_screen_do(self, event: BoardScreen.Do) -> None:
        """Carry out a command of the board, at the latest once the book is open."""
        if self._book is not None and self.screen is not self._board:
            # A key typed ahead of the screen that the first one opened.
            return
        if self._book is not None:
            self._book.do(self._board, event.name, event.row)
        elif event.name == "quit":
            self.exit()
        else:
            self._early = event

    def on_board_screen_search(self, event: BoardScreen.Search) -> None:
        """Begin a search; a letter typed ahead belongs to the dialog that is open by now."""
        if self.screen is not self._board:
            self.screen.post_message(events.Key(event.typed, event.typed))
        elif self._book is not None:
            self._book.search(self._board, event.typed)

    def on_board_screen_resumed(self) -> None:
        """Show the board again: it is in front, and something may have been entered."""
        if self._book is not None:
            self._show_board()

    def on_unmount(self) -> None:
        """Close the book; everything is on disk already."""
        self._close_book()

    def _close_book(self) -> None:
        # A message of the board that is still waiting then finds no book, not a closed one.
        book, self._book = self._book, None
        if book is not None:
            book.close()
            self.last_words = book.book.unwritten()

    def _close_at_once(self) -> None:
        """The window was closed: what is being typed is kept, and the book is backed up."""
        for screen in reversed(self.screen_stack):
            self._keep_typing(screen)
        self._close_book()
        self.exit()

    def _say_unwritten(self) -> None:
        """Say once that a copy beside the book could not be written, where the crew looks."""
        said = self._book.book.unwritten() if self._book is not None else ""
        if said:
            self.push_screen(Read("A copy could not be written", said))

    # faults

    async def _dispatch_message(self, message: Message) -> None:
        """Carry out a message. A fault in it must not end the app's own loop of messages."""
        try:
            await super()._dispatch_message(message)
        except Exception as error:
            self._handle_exception(error)

    def _handle_exception(self, error: Exception) -> None:
        """Report a fault and go back to the board; the book has every entry already.

        Textual would end the app and print the traceback with every local variable.
        """
        if self.stops_on_fault:
            super()._handle_exception(error)
            return
        sentence = self._faults.report(error)
        if self._book is None or self._faults.too_many:
            self._page.say_last(sentence)
            self.exit(return_code=3, message=sentence)
        elif not self._recovering:
            self._recovering = True
            self.call_later(self._back_to_board, sentence)

    async def _back_to_board(self, sentence: str) -> None:
        """Show a new board in place of every screen: a widget that failed handles no more keys."""
        try:
            if self._guide is not None:
                self._guide.leave()
            while len(self.screen_stack) > 1:
                self._keep_typing(self.screen)
                self.pop_screen()
            self._board, self._catching_up = BoardScreen(), False
            await self.push_screen(self._board)
            self._show_board()
            self.push_screen(Read("Something went wrong", sentence))
        finally:
            self._recovering = False

    def _keep_typing(self, screen: Screen[object]) -> None:
        """Keep what is in the open field of a screen that is given up."""
        keep = getattr(screen, "keep_typing", None)
        if keep is not None:
            with suppress(Exception):
                keep()
