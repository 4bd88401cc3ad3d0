"""Laptops that exchange with the office, each with a book, a machine and an address of its own."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

from an_office import Office
from trucks import Truck
from two_books import all_entries

from fieldbook.actions import cells as entering
from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.exchange.office import exchange_with_office
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.jobfile.write import write_job
from fieldbook.store.journal.entry import Entry


def _quiet(_done: int, _total: int) -> None:
    """Show no progress."""


class OfficeTruck(Truck):
    """A laptop with an address at the office; its book is made when it is first opened."""

    def __init__(self, office: Office, folder: Path, who: str, url: str = "") -> None:
        self.set_paths(folder, who)
        self.url = url or office.laptop()

    def copy_to(self, other: OfficeTruck) -> None:
        """Copy the book and the machine's folder to another laptop."""
        shutil.copytree(self.folder, other.folder)

    def add(self, address: str, customers: int = 0) -> str:
        """Add a property, and enter its customer so many times; returns its id."""
        with self.open() as book:
            job_id = new_property(book, address, self.who)
            open_job = OpenJob(book, job_id, self.who)
            for number in range(customers):
                text = f"{self.who} {number}"
                entering.enter_text(open_job, CellRef("job", job_id, "customer"), text)
        return job_id

    def enter(self, job_id: str, customer: str) -> None:
        """Enter who the customer is."""
        with self.open_job(job_id) as open_job:
            entering.enter_text(open_job, CellRef("job", job_id, "customer"), customer)

    def exchange(self, progress: Callable[[int, int], None] = _quiet) -> ExchangeReport:
        """Exchange with the office."""
        with self.open() as book:
            return exchange_with_office(book, self.url, progress)

    def jobs(self) -> list[str]:
        """Every property as it is exported."""
        with self.open() as book:
            return [write_job(book.load(job.id)) for job in book.jobs()]

    def entries(self) -> list[Entry]:
        """Every entry of the book, in the order in which they arrived."""
        with self.open() as book:
            return all_entries(book)

    def ids(self) -> set[str]:
        """The ids of the entries of the book."""
        return {entry.id for entry in self.entries()}
