"""How far a book is written up in its text journal."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from fieldbook.store.journal.append import SOME, some_after
from fieldbook.store.journal.text_journal import append, journal_path, last_whole
from fieldbook.store.sqlite.transactions import Transactions


class WrittenUp:
    """The text journal of one origin of a book, and the last entry it tells."""

    def __init__(self, book: Path, origin: str) -> None:
        """Look at the end of the file, if there is one."""
        self._path = journal_path(book, origin)
        self._told = 0
        with suppress(OSError):
            self._told = last_whole(self._path)

    def catch_up(self, transactions: Transactions) -> None:
        """Write up what is sealed; what a full disk refuses is written up with the next entry."""
        with suppress(OSError):
            more = True
            while more:
                with transactions.reading():
                    some = some_after(transactions.connection, self._told, [])
                self._told = append(self._path, some) or self._told
                more = len(some) == SOME
