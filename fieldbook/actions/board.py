"""The board: one line a property, with how far it is, what comes next and its flags."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fieldbook.checks.finding import SEVERITIES, Place
from fieldbook.checks.next_step import next_step, progress
from fieldbook.checks.run import check, counts
from fieldbook.records.loaded import LoadedJob
from fieldbook.store.book import Book


@dataclass(frozen=True)
class BoardLine:
    """One property as the board tells it. `place` is where its next step is."""

    job_id: str
    address: str
    customer: str
    phone: str
    access: str
    zones: int
    flushed: int
    wired: int
    next: str
    place: Place
    stops: int
    fixes: int
    notes: int

    @property
    def flags(self) -> str:
        """The flags counted, worst first; "-" for none."""
        counted = zip((self.stops, self.fixes, self.notes), SEVERITIES, strict=True)
        return ", ".join(f"{count} {word}" for count, word in counted if count) or "-"

    def matches(self, typed: str) -> bool:
        """Whether what was typed to find it is in its address or customer."""
        wanted = typed.casefold().split()
        told = f"{self.address} {self.customer}".casefold()
        return all(word in told for word in wanted)


class Board:
    """The lines of a book; a property is loaded and checked again only after an entry on it."""

    def __init__(self, book: Book) -> None:
        """Nothing is read until `lines`."""
        self._book = book
        self._known: dict[str, tuple[str, BoardLine]] = {}

    def lines(self) -> list[BoardLine]:
        """Every property, by address."""
        latest = self._book.latest_entries()
        return in_order(self._line(job.id, latest.get(job.id, "")) for job in self._book.jobs())

    def _line(self, job_id: str, latest: str) -> BoardLine:
        known = self._known.get(job_id)
        if known is not None and known[0] == latest:
            return known[1]
        line = board_line(self._book.load(job_id))
        self._known[job_id] = (latest, line)
        return line


def in_order(lines: Iterable[BoardLine]) -> list[BoardLine]:
    """By address, as a person looks one up."""
    return sorted(lines, key=lambda line: (line.address.casefold(), line.job_id))


def board_line(job: LoadedJob) -> BoardLine:
    """The line of one loaded job."""
    so_far, step, found = progress(job), next_step(job), counts(check(job))
    return BoardLine(
        job.job.id,
        job.job.address,
        job.job.customer,
        job.job.phone,
        job.job.access,
        so_far.zones,
        so_far.flushed,
        so_far.wired,
        step.sentence,
        step.place,
        found["stop"],
        found["fix"],
        found["note"],
    )
