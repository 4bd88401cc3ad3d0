"""A property open for work: its loaded job, its flags, and the one way to change it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from fieldbook.actions.files.attached_files import file_states
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.visits.on_visit import changes_on_visit
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import verdicts
from fieldbook.checks.verdicts import Verdicts
from fieldbook.records.base import new_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value
from fieldbook.store.book import Book
from fieldbook.store.book_reader import BookReader
from fieldbook.store.changes import Add, Change
from fieldbook.store.journal.history import NextAct
from fieldbook.units import System


class OpenJob:
    """One property open on one book, changed by one person.

    `job` and `verdicts` always show the book: each act is on disk, loaded and checked again before
    the next key. An act is what undo takes back at once.
    """

    def __init__(self, book: Book, job_id: str, by: str) -> None:
        """Open the property; `by` signs its entries. Raises BookError if the book lacks it."""
        self.book = book
        self.by = by
        self.job: LoadedJob = book.load(job_id)
        self.verdicts: Verdicts = verdicts_of(self.book, self.job)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The flags, the worst first."""
        return self.verdicts.flags

    @property
    def job_id(self) -> str:
        """The id of the property's job."""
        return self.job.job.id

    @property
    def system(self) -> System:
        """The units the property is shown in."""
        return "metric" if self.job.job.units == "metric" else "us"

    def commit(self, changes: Sequence[Change], what: str) -> bool:
        """Commit the changes as one act that undo calls `what`; False if they change nothing.

        On a visit after the handover it keeps what they change as changes of that visit. Raises
        BookError where the book or the disk refuses; nothing is changed then.
        """
        changes = [*changes, *changes_on_visit(self.job, changes, date.today())]
        changed = self.book.commit(self.job_id, changes, by=self.by, what=what)
        if changed:
            self.refresh()
        return changed

    def add(self, table: str, values: Mapping[str, Value], what: str) -> str:
        """Commit a new row as one act; returns its id. Raises BookError as `commit` does."""
        row_id = new_id()
        self.commit([Add(table, row_id, values)], what)
        return row_id

    def refresh(self) -> None:
        """Load the job again and check it."""
        self.job = self.book.load(self.job_id)
        self.verdicts = verdicts_of(self.book, self.job)

    def next_undo(self) -> NextAct | None:
        """The act that undo takes back next; None where there is none."""
        return self.book.next_undo(self.job_id)

    def next_redo(self) -> NextAct | None:
        """The act that redo puts back next; None where there is none."""
        return self.book.next_redo(self.job_id)

    def undo(self) -> str:
        """Undo the newest act of this laptop that still stands; returns what it was.

        Raises RefusedError when there is none but the one that added the property.
        """
        if self.book.count_undoable(self.job_id) < 1:
            raise RefusedError("Nothing more to undo on this property.")
        what = self.book.undo(self.job_id, by=self.by)
        self.refresh()
        return what or ""

    def redo(self) -> str:
        """Put back the act undone last; returns what it was.

        Raises RefusedError when none was undone since the last entry.
        """
        what = self.book.redo(self.job_id, by=self.by)
        if what is None:
            raise RefusedError("Nothing to put back: nothing was undone since the last entry.")
        self.refresh()
        return what


def verdicts_of(book: BookReader, job: LoadedJob, now: date | None = None) -> Verdicts:
    """Every answer for a job in a book, those on the attached files beside the book included."""
    return verdicts(job, now, file_states(book.path, job.attachments))


@dataclass(frozen=True)
class CheckedJob:
    """A property, its notes and its answers, without its rows: a book may hold thousands."""

    job_id: str
    address: str
    notes: tuple[str, ...]
    verdicts: Verdicts


def check_jobs(book: BookReader, jobs: Iterable[Job]) -> list[CheckedJob]:
    """Load and check each of these properties."""
    found = []
    for job in jobs:
        loaded = book.load(job.id)
        notes = tuple(note.text for note in loaded.notes)
        found.append(CheckedJob(job.id, job.address, notes, verdicts_of(book, loaded)))
    return found
