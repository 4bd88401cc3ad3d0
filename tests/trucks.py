"""Laptops for tests: each a book of its own, with an address at the office."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from an_office import Office

from fieldbook.actions import entering
from fieldbook.actions.office import OfficeExchange, exchange_with_office
from fieldbook.actions.properties import new_property
from fieldbook.actions.work import Work
from fieldbook.checks.finding import At
from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book


class Truck:
    """A laptop."""

    def __init__(self, office: Office, folder: Path, by: str, url: str = "") -> None:
        self.by = by
        self.path = folder / by / "book.sqlite"
        self.url = url or office.laptop()
        self.told: list[tuple[int, int]] = []

    @contextmanager
    def work(self, job_id: str) -> Iterator[Work]:
        """Open the book at a property."""
        with Book(self.path) as book:
            yield Work(book, job_id, self.by)

    def add(self, address: str, customers: int = 0) -> str:
        """A new property whose customer is entered so many times; its id."""
        with Book(self.path) as book:
            job_id = new_property(book, address, self.by)
        for number in range(customers):
            self.enter(job_id, f"{self.by} {number}")
        return job_id

    def enter(self, job_id: str, customer: str) -> None:
        """Enter who the customer is."""
        with self.work(job_id) as work:
            entering.enter_text(work, At("job", job_id, "customer"), customer)

    def exchange(self) -> OfficeExchange:
        """Exchange with the office."""
        with Book(self.path) as book:
            return exchange_with_office(book, self.url, lambda *done: self.told.append(done))

    def jobs(self) -> list[str]:
        """Every property, as it is exported."""
        with Book(self.path) as book:
            return [write_job(book.load(one.id)) for one in book.jobs()]
