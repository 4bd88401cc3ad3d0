"""The board: one line a property, with how far it is, what comes next and its flags."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import date

from fieldbook.actions.words import words_of_job
from fieldbook.checks.dated import true_until
from fieldbook.checks.finding import SEVERITIES, Place
from fieldbook.checks.next_step import next_step, progress
from fieldbook.checks.run import check, counts
from fieldbook.records.loaded import LoadedJob
from fieldbook.store.book import Book

_ON_THE_LINE = ("address", "customer")


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
    """The lines of a book; a property is loaded and checked again only after an entry on it.

    Lines are kept in the book itself, so that ten thousand properties open as fast as ten.
    """

    def __init__(self, book: Book) -> None:
        """Nothing is read until `lines`."""
        self._book = book
        self._last: list[BoardLine] = []

    def lines(self, today: date | None = None) -> list[BoardLine]:
        """Every property, by address."""
        day = today or date.today()
        told = self._book.board_notes(day.isoformat())
        lines, made = [], []
        for job_id in self._book.job_ids():
            if job_id in told:
                lines.append(BoardLine(**json.loads(told[job_id])))
                continue
            job = self._book.load(job_id)
            line = board_line(job, day)
            lines.append(line)
            told_of = json.dumps(asdict(line))
            made.append((job_id, true_until(job, day).isoformat(), told_of, words_of_job(job)))
        if made:
            self._book.keep_board_notes(made)
        self._last = in_order(lines)
        return self._last

    def find(self, typed: str) -> dict[str, str]:
        """Of the lines last given those that hold every word typed: by id, and where it is."""
        texts = self._book.find(typed)
        return {
            line.job_id: _where(texts.get(line.job_id, ()))
            for line in self._last
            if line.job_id in texts or line.matches(typed)
        }


def _where(texts: Iterable[tuple[str, str]]) -> str:
    """Where a property holds what was looked for, beside what its line shows anyway."""
    others = [f"{label}: {text}" for label, text in texts if label not in _ON_THE_LINE]
    return ", ".join(others[:2])


def in_order(lines: Iterable[BoardLine]) -> list[BoardLine]:
    """By address, as a person looks one up."""
    return sorted(lines, key=lambda line: (line.address.casefold(), line.job_id))


def board_line(job: LoadedJob, today: date) -> BoardLine:
    """The line of one loaded job."""
    so_far, step, found = progress(job), next_step(job), counts(check(job, today))
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
