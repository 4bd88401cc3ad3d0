"""Exchange the book with the office's PostgreSQL."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from fieldbook.actions.exchange.folder_exchange import Told
from fieldbook.actions.files.attached_files import place_in
from fieldbook.store.book import Book
from fieldbook.store.office.connection import tls_warning
from fieldbook.store.office.office_exchange import Exchanged, exchange


@dataclass(frozen=True)
class OfficeExchange(Told):
    """What an exchange with the office did; `notes` are what somebody should know besides."""

    notes: tuple[str, ...] = ()


def exchange_with_office(
    book: Book, url: str, progress: Callable[[int, int], None]
) -> OfficeExchange:
    """Send the office what it lacks and take what the book lacks; BookError in one sentence.

    `progress` is told how many entries are done, of about how many.
    """
    done = exchange(book, url, lambda sha256: place_in(book.path, sha256), progress)
    return OfficeExchange(
        got=done.pulled.got,
        sent=done.pushed.sent,
        waiting=done.waiting,
        files_got=done.files.got,
        files_sent=done.files.sent,
        refused=tuple(sorted(done.files.wrong)),
        notes=tuple(_notes(done, url)),
    )


def _notes(done: Exchanged, url: str) -> Iterator[str]:
    warning = tls_warning(url)
    if warning:
        yield warning
    for (origin, laptop), count in sorted(done.pushed.held_back.items()):
        yield (
            f"{count} entries of this book are for the laptop {laptop} to send, which wrote under "
            "the same origin. If this book is a copy of its book, or it is gone, the office lets "
            f"this laptop send them too: fieldbook hub let-send URL {origin} NAME."
        )
    if done.pushed.unfit:
        yield (
            f"{len(done.pushed.unfit)} entries hold characters or numbers that the office's "
            "database can't: they stay here, and travel by folder."
        )
