"""Receive from the office what a book of chosen properties takes: a part of its entries, by job.

The cursor is that of a book that takes everything. Of a property that is held but was never asked
for at this office all entries up to there are received first, whatever their numbers: `taken_in`
says of which properties that was done.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import Entry
from fieldbook.store.office.connection import OfficeConnection, checked_count
from fieldbook.store.office.far_lines import pull_lines
from fieldbook.store.office.office_session import Session
from fieldbook.store.office.office_tables import ENTRY_COLUMNS
from fieldbook.store.office.pulled_rows import check_order, entry_of, load_cursor
from fieldbook.store.places import PullCursor

_OF_JOBS = f"""
SELECT n, {ENTRY_COLUMNS} FROM fieldbook.entry e
WHERE job_id = ANY (%s) AND n > %s AND n <= %s ORDER BY n LIMIT %s
"""
_COUNT = "SELECT count(*) FROM fieldbook.entry WHERE job_id = %s"
_NEWEST = "SELECT n, id FROM fieldbook.entry ORDER BY n DESC LIMIT 1"
_ENTRIES_A_JOB = 50
"""Fewer than most properties have: so many jobs are asked for at once that few pages are needed."""


def pull_chosen(session: Session, batch: int) -> None:
    """Receive what is new of the properties held, then the lines of the others.

    Raises BookError.
    """
    keeping, before = session.book.keeping, load_cursor(session)
    newest = _newest(session.connection)
    waiting = keeping.not_taken_in(session.place)
    if not before.number:
        # An office that was restored is asked anew for all of them.
        waiting = keeping.held_jobs()
    session.result.to_see = session.result.seen + len(waiting)
    for jobs in _groups(waiting, batch):
        _take_in(session, jobs, newest, batch)
    if newest.number > before.number:
        _pull_new(session, set(keeping.held_jobs()) - set(waiting), before, newest, batch)
        pull_lines(session, before.number, newest.number)


def fetch_job(session: Session, job_id: str, batch: int) -> int:
    """Receive every entry that the office has of one property; returns how many it has."""
    return _take_in(session, [job_id], _newest(session.connection), batch)


def read_job(
    connection: OfficeConnection, job_id: str, batch: int, progress: Callable[[int, int], None]
) -> list[Entry]:
    """Every entry that the office has of one property; `progress` gets how many, and of how many.

    Raises BookError.
    """
    (count,) = connection.execute(_COUNT, (job_id,)).fetchone() or (0,)
    entries: list[Entry] = []
    for page in _pages(connection, [job_id], 0, _newest(connection), batch):
        entries += [entry for _, entry in page]
        progress(len(entries), max(len(entries), checked_count(count)))
    return entries


def _newest(connection: OfficeConnection) -> PullCursor:
    row = connection.execute(_NEWEST).fetchone()
    return PullCursor() if row is None else PullCursor(checked_count(row[0]), str(row[1]))


def _groups(jobs: Sequence[str], batch: int) -> Iterator[Sequence[str]]:
    """As many jobs at a time as make about a batch: on a bad connection one."""
    size = max(1, batch // _ENTRIES_A_JOB)
    for start in range(0, len(jobs), size):
        yield jobs[start : start + size]


def _take_in(session: Session, jobs: Sequence[str], newest: PullCursor, batch: int) -> int:
    """Receive all entries of some jobs in one transaction: never a part of a property."""
    entries = [
        entry for page in _pages(session.connection, jobs, 0, newest, batch) for _, entry in page
    ]
    received = session.book.receive_jobs(entries, session.place, jobs)
    session.result.add(received)
    session.result.seen += len(jobs)
    session.report()
    return len(entries)


def _pull_new(
    session: Session, jobs: set[str], before: PullCursor, newest: PullCursor, batch: int
) -> None:
    """Receive the entries after the cursor of jobs that were taken in; the cursor follows."""
    cursor = before
    if before.number:
        for page in _pages(session.connection, sorted(jobs), before.number, newest, batch):
            cursor = PullCursor(page[-1][0], page[-1][1].id)
            _receive(session, [entry for _, entry in page], cursor)
    if cursor != newest:
        _receive(session, [], newest)


def _receive(session: Session, entries: list[Entry], cursor: PullCursor) -> None:
    received = session.book.receive_from_office(entries, session.place, cursor)
    session.result.add(received)
    session.report()


def _pages(
    connection: OfficeConnection, jobs: Sequence[str], after: int, newest: PullCursor, batch: int
) -> Iterator[list[tuple[int, Entry]]]:
    """The entries of some jobs in a range of numbers, a page at a time, each with its number."""
    more = bool(jobs)
    while more:
        parameters = (list(jobs), after, newest.number, batch)
        rows = connection.execute(_OF_JOBS.encode(), parameters).fetchall()
        check_order([after, *(checked_count(row[0]) for row in rows)])
        page = [(row[0], entry_of(row)) for row in rows]
        if any(entry.job_id not in jobs for _, entry in page):
            raise BookError(
                "The office sent entries of a property that was not asked for: nothing from there "
                "on was received. Tell whoever keeps the office's database."
            )
        if page:
            yield page
            after = page[-1][0]
        more = len(rows) == batch
