"""Exchange entries and attached files with other laptops through a folder, as on a stick."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from fieldbook.actions.exchange.exchange_report import ExchangeReport, ShowProgress
from fieldbook.actions.files.attached_files import fetch_files, send_files
from fieldbook.store.book import Book
from fieldbook.store.exchange.folder import FolderResult, exchange_folder, exchange_steps

FILES_FOLDER = "files"
"""The folder of attached files inside the folder of the exchange."""


class FolderExchange:
    """One exchange through a folder, a step at a time: the crew may stop it after any step."""

    def __init__(self, book: Book, folder: Path, *, anew: bool = False) -> None:
        """`anew` reads all of this laptop's files there, and writes again what was spoilt."""
        self._book, self._folder, self._done = book, folder, FolderResult()
        self._anew = anew
        self._files_received, self._files_sent = 0, 0
        self._refused: list[str] = []

    def steps(self) -> Iterator[tuple[int, int]]:
        """Exchange one file a step; yields how much is done and of how much before each.

        Raises BookError where the folder or the book refuses.
        """
        yield from exchange_steps(self._book, self._folder, self._done, anew=self._anew)
        there = exchange_folder(self._folder) / FILES_FOLDER
        self._files_sent, not_sent = send_files(self._book, there, self._done.attached)
        self._files_received, not_fetched = fetch_files(self._book, there)
        self._refused = [*not_sent, *not_fetched]
        self._book.places.remember_folder(str(self._folder.absolute()))

    def report(self) -> ExchangeReport:
        """What was exchanged so far."""
        done = self._done
        return ExchangeReport(
            received=done.received,
            sent=done.sent,
            waiting=len(done.waiting),
            files_received=self._files_received,
            files_sent=self._files_sent,
            refused=(*done.refused, *self._refused),
            in_conflict=tuple(self._book.shared.in_conflict()) if done.received else (),
            notes=tuple(done.warnings),
            unsigned=done.unsigned,
            wrongly_signed=done.wrongly_signed,
        )


def exchange_through_folder(
    book: Book, folder: Path, progress: ShowProgress, *, anew: bool = False
) -> ExchangeReport:
    """Exchange everything through a folder. Raises BookError where the folder or book refuses."""
    exchange = FolderExchange(book, folder, anew=anew)
    for done, total in exchange.steps():
        progress(done, total)
    return exchange.report()
