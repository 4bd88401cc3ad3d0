"""The app: it shows the first frame at once, then opens the book and puts screens over it."""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from textual import events
from textual.message import Message
from textual.screen import Screen

from fieldbook.actions.board.board_row import FirstPage
from fieldbook.actions.keymap import in_keys_in_use, offered, use_keys
from fieldbook.actions.keys_file import KeysRead, read_keys
from fieldbook.languages.in_use import language_after, language_in_use, use_language
from fieldbook.languages.language_texts import Language, language_named
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.book_messages import BookOpened, as_sentence
from fieldbook.screens.closing import heed_signals
from fieldbook.screens.faults import Faults
from fieldbook.screens.first_run import FirstRun
from fieldbook.screens.opening_app import OpeningApp
from fieldbook.screens.palette.entries import Entry, entries_of_actions
from fieldbook.screens.palette.palette_screen import PaletteScreen
from fieldbook.screens.widgets.dialogs import InLanguage, Read, ScreenTold, TypistWanted
from fieldbook.screens.widgets.theme import DUSK, GLARE, THEMES
from fieldbook.screens.widgets.too_small import fit_screen

if TYPE_CHECKING:
    from fieldbook.screens.guide.guide import Guide

_GUIDE = "About two minutes on the demo: a line at the top says which key to press, and why."
_BETWEEN_SLICES_S = 0.01
"""Time for keys between two slices of rows that are made anew."""
_QUIET_S = 0.2
"""So long after a key no row is made anew that is not in view: typing is not held up."""


class FieldbookApp(OpeningApp):
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
        super().__init__(path)
        self._language_asked = language
        use_language(language or "en")
        read = read_keys(keys_file) if keys_file is not None else KeysRead({})
        use_keys(read.keys)
        self.set_keymap({name: ",".join(keys) for name, keys in read.keys.items()})
        self._key_faults = read.faults
        self._guided = guided
        self._guide: Guide | None = None
        self._board = BoardScreen()
        self._early: BoardScreen.Do | None = None
        """What was asked for while the book was still being opened."""
        self._catching_up = False
        self._key_at = 0.0
        self._faults = Faults(path.parent if path is not None else None)
        self._recovering = False
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
        heed_signals(self.close_at_once)
        self.call_after_refresh(self.open_book, demo=self._path is None)

    def on_resize(self, event: events.Resize) -> None:
        """Say what size is needed while the terminal is smaller."""
        for screen in self.screen_stack:
            fit_screen(screen, event.size)

    def _show_first(self, first: FirstPage) -> None:
        """Show the first page of rows, unless the whole board came before it."""
        if self._book is None:
            self._board.show_first(first)

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
            self.push_screen(Read("The book was made anew", self._rebuilt))
            self._rebuilt = ""
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
                self.keep_typing(self.screen)
                self.pop_screen()
            self._board, self._catching_up = BoardScreen(), False
            await self.push_screen(self._board)
            self._show_board()
            self.push_screen(Read("Something went wrong", sentence))
        finally:
            self._recovering = False
