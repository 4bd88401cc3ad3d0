"""The part of the app that opens its book in a thread, offers to mend it, and closes it."""

from __future__ import annotations

import gc
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from textual import work
from textual.app import App
from textual.screen import Screen

from fieldbook.screens.book_messages import BookFailed, BookOpened, BookRebuilt, as_sentence
from fieldbook.screens.widgets.dialogs import Choose
from fieldbook.screens.widgets.in_browser import BrowserPage
from fieldbook.store.errors import DamagedBookError

if TYPE_CHECKING:
    from fieldbook.screens.open_book import OpenBook

_LOST = ("Leave fieldbook; nothing is changed", "Make the book anew; a damaged one is kept")


class OpeningApp(App[None]):
    """An app with a book at a path; None is a scratch copy of the demo."""

    def __init__(self, path: Path | None) -> None:
        """Nothing is opened yet."""
        super().__init__()
        self._path = path
        self._book: OpenBook | None = None
        self._page = BrowserPage(self)
        self._rebuilt = ""
        """What a crew reads once its book was made anew."""
        self.last_words = ""
        """A sentence for the shell, on what could not be written as the book was closed."""

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

    def on_book_failed(self, event: BookFailed) -> None:
        """Leave, and say why in one sentence; a book that can be made anew is asked about first."""

        def answered(index: int | None) -> None:
            if index == 1:
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

    def on_unmount(self) -> None:
        """Close the book; everything is on disk already."""
        self._close_book()

    def _close_book(self) -> None:
        # A message of the board that is still waiting then finds no book, not a closed one.
        book, self._book = self._book, None
        if book is not None:
            book.close()
            self.last_words = book.book.unwritten()

    def close_at_once(self) -> None:
        """The window was closed: what is being typed is kept, and the book is backed up."""
        for screen in reversed(self.screen_stack):
            self.keep_typing(screen)
        self._close_book()
        self.exit()

    def keep_typing(self, screen: Screen[object]) -> None:
        """Keep what is in the open field of a screen that is given up."""
        keep = getattr(screen, "keep_typing", None)
        if keep is not None:
            with suppress(Exception):
                keep()
