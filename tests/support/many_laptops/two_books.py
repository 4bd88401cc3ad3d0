"""Two open books that hold the same property, for tests of conflicts."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from fieldbook.actions import cells as entering
from fieldbook.actions import rows
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property, set_initials
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id, valve_id
from fieldbook.store.book import Book
from fieldbook.store.journal.entry import Entry

ADDRESS = "12 Elm Street"


class TwoBooks:
    """The book here is that of AB, the one there that of CD."""

    def __init__(self, here: Book, there: Book) -> None:
        set_initials(here, "AB")
        set_initials(there, "CD")
        job_id = new_property(here, ADDRESS, "AB")
        self.here = OpenJob(here, job_id, "AB")
        for name in ("lawn", "hedge", "roses"):
            zone_id = rows.add_zone(self.here)
            entering.enter_text(self.here, CellRef("zone", zone_id, "name"), name)
        there.receive(all_entries(here), "here")
        self.there = OpenJob(there, job_id, "CD")

    @property
    def static(self) -> CellRef:
        """The static pressure."""
        return CellRef("supply", once_id(self.here.job_id, "supply"), "static_psi")

    def zone(self, number: int, column: str = "name") -> CellRef:
        """A cell of one of the first zones."""
        return CellRef("zone", self.here.job.zones[number - 1].id, column)

    def wire(self, number: int) -> CellRef:
        """The colour at the valve of a zone."""
        return CellRef("valve", valve_id(self.zone(number).row_id), "colour")

    def exchange(self) -> None:
        """Give each book the entries of the other."""
        for receiver, sender in ((self.here, self.there), (self.there, self.here)):
            receiver.book.receive(all_entries(sender.book), "the other")
            receiver.refresh()

    def enter_apart(self, at: CellRef, here: str, there: str) -> None:
        """Type a text in a cell here, and one in the same cell there."""
        seed = {"zone_id": self.here.job.zones[0].id} if at.table == "valve" else {}
        entering.enter_text(self.here, at, here, seed)
        entering.enter_text(self.there, at, there, seed)


def all_entries(book: Book) -> list[Entry]:
    """Every entry of a book, in the order in which they arrived."""
    return [entry for _, entry in book.shared.entries_not_from([], 0)]


@contextmanager
def two_books(here: Path, there: Path) -> Iterator[TwoBooks]:
    """Both books, closed at the end."""
    with Book(here) as book_here, Book(there) as book_there:
        yield TwoBooks(book_here, book_there)
