"""At the end of an exchange a laptop makes the derived rows of the properties that it sent."""

from __future__ import annotations

from contextlib import suppress

from fieldbook.store.errors import BookError
from fieldbook.store.office.derived.derived_rows import Derive, digest_of, put_derived
from fieldbook.store.office.office_session import Session

_MOST = 20
"""Properties in one exchange, a second or two: more than a crew changes between two of them."""
# Whenever its entries were sent: an exchange may have broken off after them.
_OUTDATED = "SELECT job_id, digest FROM fieldbook.outdated(%s)"


def send_derived(session: Session, derive: Derive) -> None:
    """Replace the derived rows that are older than what this laptop sent.

    A property stays as it is where the book and the hub have different entries of it, as where the
    hub can't hold one: what is worked out here would not be what the hub's entries say.
    """
    connection, book = session.connection, session.book
    for job_id, digest in connection.execute(_OUTDATED, (_MOST,)).fetchall():
        entries = book.shared.entries_on(str(job_id))
        if digest_of(entry.id for entry in entries) != digest:
            continue
        # A property is missing while its first entry waits for another: it has no rows either.
        with suppress(BookError):
            put_derived(connection, str(job_id), entries, derive(book.load(str(job_id))))
