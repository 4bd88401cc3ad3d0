"""Laptops that hold chosen properties, and exchange through a stick."""

from __future__ import annotations

from pathlib import Path

from trucks import Truck

from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.actions.holding.fetch_property import FolderFetch, fetch
from fieldbook.jobfile.write import write_job


class Chosen(Truck):
    """A truck whose laptop holds chosen properties."""

    def __init__(self, folder: Path, who: str) -> None:
        super().__init__(folder, who)
        with self.open() as book:
            book.keeping.keep_chosen()

    def fetch(self, job_id: str) -> None:
        """Fetch a property from the stick used last."""
        with self.open() as book:
            fetch(book, job_id, "It", lambda _done, _total: None)

    def fetch_from(self, stick: Path, job_id: str) -> None:
        """Fetch a property from a stick."""
        with self.open() as book:
            for _ in FolderFetch(book, stick, job_id).steps():
                pass

    def lines(self) -> dict[str, str]:
        """By address, the customers on the lines of what is not here."""
        with self.open() as book:
            return {far.address: far.customer for far in book.keeping.elsewhere()}


def through(truck: Truck, stick: Path) -> ExchangeReport:
    """Exchange a truck's book through the stick."""
    with truck.open() as book:
        return exchange_through_folder(book, stick, lambda _done, _total: None)


def exported(truck: Truck, job_id: str) -> str:
    """One property as a truck exports it."""
    with truck.open() as book:
        return write_job(book.load(job_id))
