"""Work the programmes out, and put them in the place of those that are there, as one act."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.rows import whole_removal
from fieldbook.checks.watering.controller.job_programmes import outlets
from fieldbook.checks.watering.controller.needed_programmes import Needed, needed_programmes
from fieldbook.records.base import new_id
from fieldbook.records.ids import programme_minutes_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change
from fieldbook.trade.watering.clock_times import times_text
from fieldbook.trade.watering.day_pattern import days_text
from fieldbook.watering.programmes.controller_programme import Programme, months_text


@dataclass(frozen=True)
class WorkedOut:
    """How many programmes were written, and a sentence for whatever could not be met."""

    programmes: int
    notes: tuple[str, ...]


def work_out(open_job: OpenJob, today: date | None = None) -> WorkedOut:
    """Replace the programmes by those worked out. Raises RefusedError where there are none."""
    job = open_job.job
    found = needed_programmes(job, today or date.today())
    notes = tuple(note for one in found for note in one.notes)
    many = sum(len(one.programmes) for one in found)
    if not many:
        raise RefusedError(notes[0] if notes else "There is no zone yet: enter it at the ground.")
    changes: list[Change] = []
    if job.programmes:
        changes += whole_removal(job, [("programme", row) for row in job.programmes])
    for one in found:
        changes += _added(job, one)
    open_job.commit(changes, "programmes worked out")
    if len(found) > 1:
        notes = (*notes, "Each controller is worked out alone: see that their starts don't meet.")
    return WorkedOut(many, notes)


def _added(job: LoadedJob, needed: Needed) -> Iterator[Change]:
    numbers = {one.terminal_id: one.number for one in outlets(job)}
    for programme in needed.programmes:
        row_id = new_id()
        yield Add("programme", row_id, _columns(programme, needed.controller_id))
        for station in programme.stations:
            number = numbers[station.station]
            values: dict[str, Value] = {
                "programme_id": row_id,
                "terminal": number,
                "run_min": float(station.minutes),
            }
            yield Add("programme_minutes", programme_minutes_id(row_id, number), values)


def _columns(programme: Programme, controller_id: str | None) -> dict[str, Value]:
    first, last = programme.first_day, programme.last_day
    return {
        "name": programme.name,
        "controller_id": controller_id,
        "days": days_text(programme.days),
        "starts": times_text(programme.starts),
        "percent_by_month": months_text(programme.percent_by_month),
        "first_day": first.isoformat() if first else None,
        "last_day": last.isoformat() if last else None,
    }
