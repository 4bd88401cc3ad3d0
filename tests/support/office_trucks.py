"""Laptops for tests: each a book and a state folder of its own, with an address at the office."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from an_office import Office
from two_books import all_entries

from fieldbook.actions import cells as entering
from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.exchange.office import exchange_with_office
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.origin import STATE_VARIABLE


def _quiet(_done: int, _total: int) -> None:
    """Nobody looks on."""


class Truck:
    """A laptop."""

    def __init__(self, office: Office, folder: Path, by: str, url: str = "") -> None:
        self.by = by
        self.folder = folder / by
        self.path = self.folder / "book.sqlite"
        self.url = url or office.laptop()

    @contextmanager
    def book(self) -> Iterator[Book]:
        """Its book, open."""
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv(STATE_VARIABLE, str(self.folder / "state"))
            with Book(self.path) as opened:
                yield opened

    @contextmanager
    def open_job(self, job_id: str) -> Iterator[OpenJob]:
        """Its book, open at a property."""
        with self.book() as book:
            yield OpenJob(book, job_id, self.by)

    def copied_to(self, other: Truck) -> None:
        """All of the laptop's disk on another."""
        shutil.copytree(self.folder, other.folder)

    def add(self, address: str, customers: int = 0) -> str:
        """A new property whose customer is entered so many times; its id."""
        with self.book() as book:
            job_id = new_property(book, address, self.by)
            open_job = OpenJob(book, job_id, self.by)
            for number in range(customers):
                text = f"{self.by} {number}"
                entering.enter_text(open_job, CellRef("job", job_id, "customer"), text)
        return job_id

    def enter(self, job_id: str, customer: str) -> None:
        """Enter who the customer is."""
        with self.open_job(job_id) as open_job:
            entering.enter_text(open_job, CellRef("job", job_id, "customer"), customer)

    def exchange(self, progress: Callable[[int, int], None] = _quiet) -> ExchangeReport:
        """Exchange with the office."""
        with self.book() as book:
            return exchange_with_office(book, self.url, progress)

    def jobs(self) -> list[str]:
        """Every property, as it is exported."""
        with self.book() as book:
            return [write_job(book.load(one.id)) for one in book.jobs()]

    def entries(self) -> list[Entry]:
        """Every entry of its book, in the order they came."""
        with self.book() as book:
            return all_entries(book)

    def ids(self) -> set[str]:
        """The ids of every entry of its book."""
        return {one.id for one in self.entries()}
