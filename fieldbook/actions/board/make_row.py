"""Makes a property's board row from its job, and the stored row with the texts that find it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict, replace
from datetime import date

from fieldbook.actions.board.board_row import STATES, BoardRow, RunsOut
from fieldbook.checks.finding import Finding
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.next_step import next_step
from fieldbook.checks.place_progress import place_progress
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.checks.progress.deadlines import nearest_deadline
from fieldbook.checks.registry import counts, flags_hold_until, verdicts
from fieldbook.checks.verdicts import Verdicts
from fieldbook.records.base import Record, facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.store.board.stored_board import NewRow


def make_row(job: LoadedJob, today: date, answers: Verdicts | None = None) -> BoardRow:
    """The row of a loaded job as of a day; the flags are those of the record alone.

    `answers` are those of that day, unless they are yet to be worked out.
    """
    answers = answers or verdicts(job, today)
    step, found = next_step(job, answers, today), counts(answers.flags)
    ends = nearest_deadline(job, today)
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
        tuple(place_progress(job, answers).values()),
        RunsOut(ends.kind, ends.on) if ends is not None else None,
    )


def to_store(row: BoardRow, job: LoadedJob, today: date) -> NewRow:
    """A row as the book stores it: with its sort key, its last valid day and its texts."""
    held = asdict(row)
    for name in ("known", "places", "runs_out", "elsewhere", "changed"):
        del held[name]
    return NewRow(
        row.job_id,
        row.address.casefold(),
        f"{row.address} {row.customer}".casefold(),
        flags_hold_until(job, today).isoformat(),
        json.dumps(held),
        "".join(str(STATES.index(state)) for state in row.places),
        row.runs_out.stored if row.runs_out is not None else "",
        job.signed("handover") is not None and visit_under_way(job, today) is None,
        _search_texts(job),
    )


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
