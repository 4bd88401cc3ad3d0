"""Make derived rows anew at the hub, with the keeper's rights and without a book.

A property after the other is read from the hub's entries into an empty book in memory, and taken
back out of it: so the memory in use is that of the largest property.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import date

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.receive import receive
from fieldbook.store.lifecycle.connect import prepare_tables
from fieldbook.store.load import load_job
from fieldbook.store.office.connection import (
    ConnectionLostError,
    OfficeConnection,
    connect_office,
)
from fieldbook.store.office.derived.derived_rows import Derive, Derived, put_derived
from fieldbook.store.office.office_tables import ENTRY_COLUMNS
from fieldbook.store.office.pulled_rows import entry_of
from fieldbook.store.sqlite.book_connection import Connection

_PAGE = 500
_ATTEMPTS = 3
_OUTDATED = """
FROM fieldbook.freshness f LEFT JOIN fieldbook.property p ON p.job_id = f.job_id
WHERE (%s OR NOT f.up_to_date OR NOT p.up_to_date)
"""
_JOBS = f"SELECT f.job_id {_OUTDATED} AND f.job_id > %s ORDER BY f.job_id LIMIT %s"
_COUNT = f"SELECT count(*) {_OUTDATED}"
_ENTRIES = f"SELECT n, {ENTRY_COLUMNS} FROM fieldbook.entries_of(%s)"
_NOTHING = Derived({}, (), date.min, date(9998, 12, 31))


@dataclass(frozen=True)
class Refreshed:
    """How many properties were made anew, and how many laptops changed in the same moments."""

    made: int = 0
    left: int = 0


def refresh(
    url: str, derive: Derive, progress: Callable[[int, int], None], *, everything: bool = False
) -> Refreshed:
    """Make the derived rows anew that are not up to date, or all of them. Raises BookError.

    `progress` is called with how many properties are done, and of how many.
    """
    made = left = 0
    try:
        with connect_office(url) as connection, _scratch_book() as book:
            (count,) = connection.execute(_COUNT.encode(), (everything,)).fetchone() or (0,)
            for job_id in _jobs(connection, everything=everything):
                done = _refresh_job(connection, book, job_id, derive)
                made, left = made + done, left + (not done)
                progress(made + left, max(made + left, int(count)))
    except ConnectionLostError as why:
        raise BookError(str(why)) from why
    return Refreshed(made, left)


def _jobs(connection: OfficeConnection, *, everything: bool) -> Iterator[str]:
    """The ids of the properties to be made anew, a page at a time."""
    page: Sequence[str] = [""]
    while page:
        rows = connection.execute(_JOBS.encode(), (everything, page[-1], _PAGE)).fetchall()
        page = [str(row[0]) for row in rows]
        yield from page


def _refresh_job(
    connection: OfficeConnection, book: Connection, job_id: str, derive: Derive
) -> bool:
    for _ in range(_ATTEMPTS):
        # A laptop may add entries between the reading and the putting: then once more.
        entries = [entry_of(row) for row in connection.execute(_ENTRIES, (job_id,))]
        job = _loaded(book, job_id, entries)
        derived = derive(job) if job is not None else _NOTHING
        if put_derived(connection, job_id, entries, derived):
            return True
    return False


@contextmanager
def _scratch_book() -> Iterator[Connection]:
    """An empty book in memory."""
    connection = Connection(":memory:")
    try:
        with connection.begin():
            prepare_tables(connection)
        yield connection
    finally:
        connection.close()


def _loaded(book: Connection, job_id: str, entries: Iterable[Entry]) -> LoadedJob | None:
    """The job as a book with these entries has it, or None; the book is empty again afterwards."""
    book.run("BEGIN")
    try:
        receive(book, entries, "hub")
        with suppress(BookError):
            return load_job(book, job_id)
        return None
    finally:
        book.run("ROLLBACK")
