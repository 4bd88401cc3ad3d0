"""One property's row on the board: made from its job, stored as JSON with texts to find it by."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass, replace
from datetime import date

from fieldbook.checks.finding import Finding
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.next_step import next_step
from fieldbook.checks.registry import counts, flags_hold_until, tally, verdicts
from fieldbook.records.base import Place, Record, facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.store.board.stored_board import NewRow, StoredRow


@dataclass(frozen=True)
class BoardRow:
    """A property as the board shows it; `place` is where its next step is.

    `known` is false while the row is stale: then only address, customer, phone and access count.
    The names of the other fields are keys of the stored JSON.
    """

    job_id: str
    address: str
    customer: str
    phone: str
    access: str
    zones: int = 0
    flushed: int = 0
    next: str = ""
    place: Place = "street"
    stops: int = 0
    fixes: int = 0
    notes: int = 0
    open: int = 0
    known: bool = True

    @property
    def flags(self) -> str:
        """The counted flags, worst first, such as "1 stop, 2 fixes"; "-" for none."""
        return tally({"stop": self.stops, "fix": self.fixes, "note": self.notes}) or "-"

    @property
    def unchecked(self) -> str:
        """How many checks are open, such as "3 open"; "-" for none."""
        return f"{self.open} open" if self.open else "-"


def make_row(job: LoadedJob, today: date) -> BoardRow:
    """The row of a loaded job, checked as of a day; the flags are those of the record alone."""
    answers = verdicts(job, today)
    step, found = next_step(job, answers, today), counts(answers.flags)
    return BoardRow(
        job.job.id,
        job.job.address,
        job.job.customer,
        job.job.phone,
        job.job.access,
        len(job.zones),
        sum(not missing_steps(job.flush_of(zone.id), zone.id) for zone in job.zones),
        step.sentence,
        step.place,
        found["stop"],
        found["fix"],
        found["note"],
        answers.open_count,
    )


def to_store(row: BoardRow, job: LoadedJob, today: date) -> NewRow:
    """A row as the book stores it: with its sort key, its last valid day and its texts."""
    held = asdict(row)
    del held["known"]
    return NewRow(
        row.job_id,
        row.address.casefold(),
        f"{row.address} {row.customer}".casefold(),
        flags_hold_until(job, today).isoformat(),
        json.dumps(held),
        _search_texts(job),
    )


def from_stored(stored: StoredRow, today: date) -> BoardRow:
    """A stored row; `known` only if its last valid day is not over."""
    held = json.loads(stored.content)
    # Rows of an older fieldbook hold a column that is no longer shown.
    held.pop("wired", None)
    return BoardRow(**held, known=stored.valid_until >= today.isoformat())


def add_flags(row: BoardRow, flags: Iterable[Finding]) -> BoardRow:
    """The row with these flags counted too."""
    more = counts(flags)
    return replace(
        row,
        stops=row.stops + more["stop"],
        fixes=row.fixes + more["fix"],
        notes=row.notes + more["note"],
    )


def _search_texts(job: LoadedJob) -> list[tuple[str, str]]:
    """Every typed text of a job with its label, each pair once: address, names, notes, serials."""
    found: dict[tuple[str, str], None] = dict.fromkeys(_texts_of(job.job, ""))
    for table, rows in job.tables().items():
        for row in rows:
            found.update(dict.fromkeys(_texts_of(row, TABLES[table].title)))
    return list(found)


def _texts_of(row: Record | Job, title: str) -> Iterator[tuple[str, str]]:
    for column, fact in facts_of(type(row)).items():
        value = getattr(row, column)
        if fact.kind == "text" and isinstance(value, str) and value:
            label = fact.label.lower()
            yield label if label == title else f"{title} {label}".strip(), value
