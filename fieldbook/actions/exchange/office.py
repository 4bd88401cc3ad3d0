"""Exchange entries and attached files with the office's PostgreSQL database, the hub.

Also what the hub's keeper has worked out anew of its properties.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from fieldbook.actions.board.derived_facts import derived_facts
from fieldbook.actions.exchange.exchange_report import ExchangeReport, ShowProgress
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book
from fieldbook.store.office.connection import tls_warning
from fieldbook.store.office.derived.refresh import Refreshed, refresh
from fieldbook.store.office.office_exchange import exchange
from fieldbook.store.office.office_session import OfficeResult


def exchange_with_office(book: Book, url: str, progress: ShowProgress) -> ExchangeReport:
    """Send the office what it lacks and receive what the book lacks.

    `progress` is called with how many entries are done, and of about how many. Raises BookError
    where the office or the book refuses.
    """
    path_of = partial(attached_path, book.path)
    done = exchange(book, url, path_of, progress, derived_facts)
    return ExchangeReport(
        received=done.received,
        sent=done.sent,
        waiting=book.shared.count_waiting(done.waiting),
        files_received=done.files_received,
        files_sent=done.files_sent,
        refused=tuple(sorted(done.refused)),
        notes=(*done.warnings, *_notes(done, url)),
        unsigned=done.unsigned,
        wrongly_signed=done.wrongly_signed,
    )


def refresh_hub(url: str, progress: ShowProgress, *, everything: bool) -> Refreshed:
    """Work out anew what the hub has of its properties beside the entries. Raises BookError."""
    return refresh(url, derived_facts, progress, everything=everything)


def _notes(done: OfficeResult, url: str) -> Iterator[str]:
    warning = tls_warning(url)
    if warning:
        yield warning
    for (origin, laptop), count in sorted(done.held_back.items()):
        yield (
            f"{count} entries have an origin that the laptop {laptop} sends. If it is gone, the "
            f"office lets this laptop send them: fieldbook hub let-send URL {origin} NAME."
        )
    if done.put_away_lost:
        yield (
            f"{len(done.put_away_lost)} entries that were put away from this laptop are no longer "
            "at the office: fieldbook rebuild NEW takes them from the backups; exchange NEW once."
        )
    if done.unfit:
        yield (
            f"{len(done.unfit)} entries hold characters or numbers that the office's "
            "database can't keep: exchange them with other laptops through a folder."
        )
