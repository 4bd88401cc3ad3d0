"""A crew at work on one property: its loaded job, its flags, and the one way to change it."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.actions.files.attached_files import file_flags
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import check, in_order
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book import Book
from fieldbook.store.changes import Change
from fieldbook.units import System


class OpenJob:
    """One property open on one book, by one person.

    `job` and `findings` are always those of the book: every act is on disk, loaded and checked
    again before the next key.
    """

    def __init__(self, book: Book, job_id: str, by: str) -> None:
        """Open the property; raises BookError when it is not in the book."""
        self.book = book
        self.by = by
        self.job: LoadedJob = book.load(job_id)
        self.findings: tuple[Finding, ...] = self._checked()

    @property
    def job_id(self) -> str:
        """The id of the property."""
        return self.job.job.id

    @property
    def system(self) -> System:
        """The units the property is shown in."""
        return "metric" if self.job.job.units == "metric" else "us"

    def keep(self, changes: Sequence[Change], what: str) -> bool:
        """Commit the changes as one act called `what`; False if nothing changed."""
        changed = self.book.commit(self.job_id, changes, by=self.by, what=what)
        if changed:
            self.refresh()
        return changed

    def refresh(self) -> None:
        """Load the job again and check it."""
        self.job = self.book.load(self.job_id)
        self.findings = self._checked()

    def _checked(self) -> tuple[Finding, ...]:
        """The flags of the job, and those of the files attached to it."""
        return in_order([*check(self.job), *file_flags(self.book.path, self.job.attachments)])

    def undo(self) -> str:
        """Take back the last act; returns what it was.

        Raises RefusedError when only the property itself is left to undo.
        """
        if self.book.acts(self.job_id) < 1:
            raise RefusedError("Nothing more to undo on this property.")
        what = self.book.undo(self.job_id, by=self.by)
        self.refresh()
        return what or ""

    def redo(self) -> str:
        """Put back the last act undone; raises RefusedError when there is none."""
        what = self.book.redo(self.job_id, by=self.by)
        if what is None:
            raise RefusedError("Nothing to put back: nothing was undone since the last entry.")
        self.refresh()
        return what
