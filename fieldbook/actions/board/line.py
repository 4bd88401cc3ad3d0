"""A property's line on the board: made from its loaded job, kept as JSON, read again."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from datetime import date

from fieldbook.actions.board.search_texts import words_of_job
from fieldbook.checks.desk.expiry import true_until
from fieldbook.checks.next_step import next_step, progress
from fieldbook.checks.registry import check, counts, tally
from fieldbook.records.base import Place
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.board.lines import Kept, Made


@dataclass(frozen=True)
class BoardLine:
    """One property as the board tells it. `place` is where its next step is.

    `known` is false while its job is still to be read: then nothing counts but whose it is.
    """

    job_id: str
    address: str
    customer: str
    phone: str
    access: str
    zones: int = 0
    flushed: int = 0
    wired: int = 0
    next: str = ""
    place: Place = "street"
    stops: int = 0
    fixes: int = 0
    notes: int = 0
    known: bool = True

    @property
    def flags(self) -> str:
        """The flags counted, worst first; "-" for none."""
        return tally({"stop": self.stops, "fix": self.fixes, "note": self.notes}) or "-"


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


def to_keep(line: BoardLine, job: LoadedJob, today: date) -> Made:
    """A line as the book keeps it, by address as a person looks one up."""
    told = asdict(line)
    del told["known"]
    return Made(
        line.job_id,
        line.address.casefold(),
        f"{line.address} {line.customer}".casefold(),
        true_until(job, today).isoformat(),
        json.dumps(told),
        words_of_job(job),
    )


def from_kept(kept: Kept, today: date) -> BoardLine:
    """A line as it was kept; not known once its day is over or an entry was made."""
    return BoardLine(**json.loads(kept.told), known=kept.until >= today.isoformat())
