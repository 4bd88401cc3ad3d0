"""Laptops with a book on disk, each on a machine of its own."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from fieldbook.actions import cells as entering
from fieldbook.actions import rows
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.jobfile.write import write_job
from fieldbook.records.ids import once_id
from fieldbook.store.book import Book
from fieldbook.store.paths import STATE_VARIABLE


class Truck:
    """One laptop: the path of its book, its crew's initials and the state folder of its machine."""

    def __init__(self, folder: Path, who: str) -> None:
        self.set_paths(folder, who)
        with self.open() as book:
            book.laptop.set_initials(who)

    def set_paths(self, folder: Path, who: str) -> None:
        """Place the laptop in a folder of its own inside `folder`."""
        self.who, self.folder = who, folder / who
        self.path, self.state = self.folder / "book.sqlite", self.folder / "state"

    @contextmanager
    def open(self) -> Iterator[Book]:
        """The book, open on this machine."""
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv(STATE_VARIABLE, str(self.state))
            with Book(self.path) as book:
                yield book

    @contextmanager
    def open_job(self, job_id: str) -> Iterator[OpenJob]:
        """One property, open."""
        with self.open() as book:
            yield OpenJob(book, job_id, self.who)

    def begin(self, address: str) -> str:
        """Add a property with a static pressure and two zones; returns its id."""
        with self.open() as book:
            open_job = OpenJob(book, new_property(book, address, self.who), self.who)
            rows.add_zone(open_job)
            rows.add_zone(open_job)
            entering.enter_text(open_job, static(open_job.job_id), "60")
            return open_job.job_id

    def enter_static(self, job_id: str, psi: str) -> None:
        """Enter a static pressure."""
        with self.open_job(job_id) as open_job:
            entering.enter_text(open_job, static(job_id), psi)

    def exported(self) -> list[tuple[str, list[str]]]:
        """Every property as it is exported, with its conflicts."""
        with self.open() as book:
            jobs = [book.load(job.id) for job in book.jobs()]
            return [(write_job(job), sorted(map(repr, job.conflicts))) for job in jobs]


def static(job_id: str) -> CellRef:
    """The cell of the static pressure."""
    return CellRef("supply", once_id(job_id, "supply"), "static_psi")
