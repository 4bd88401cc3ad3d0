"""Which properties this laptop holds: fetch one that is elsewhere."""

from __future__ import annotations

from fieldbook.actions.exchange.exchange_report import ShowProgress
from fieldbook.actions.refused import RefusedError
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book


def fetch_from_office(book: Book, url: str, job_id: str, progress: ShowProgress) -> int:
    """Fetch every entry of a property from the office at an address; returns how many it has.

    Raises BookError where the office can't be reached, RefusedError where it has none.
    """
    # psycopg takes long to import, and only this needs it.
    from fieldbook.store.office.office_exchange import fetch_property  # noqa: PLC0415

    count = fetch_property(
        book, url, job_id, lambda sha256: attached_path(book.path, sha256), progress
    )
    if not count:
        raise RefusedError("The office has no entries of that property: exchange with it first.")
    return count
