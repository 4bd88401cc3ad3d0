"""The day across all properties: what can be done today, what waits, what runs out this week."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fieldbook.checks.common.naming import assembly_name
from fieldbook.checks.desk.digging import ticket_span
from fieldbook.checks.ground.pressure_test import cured_at, stretch_name
from fieldbook.checks.next_step import next_step, next_step_at
from fieldbook.checks.progress.holds import SIGN_OFFS, unmet
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.records.base import PLACES, Place
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book import Book

_WEEK_DAYS = 7


@dataclass(frozen=True)
class Due:
    """One line of the day: the property, what it is, by when if by any, what it waits for."""

    job_id: str
    address: str
    what: str
    on: date | None = None
    waits: str = ""


@dataclass(frozen=True)
class Day:
    """What can be done now, what waits for something, what runs out within a week."""

    can: tuple[Due, ...]
    waits: tuple[Due, ...]
    runs_out: tuple[Due, ...]


def day_list(book: Book, now: datetime | None = None) -> Day:
    """The day of every property on the board, derived from the record alone."""
    at = now or datetime.now()
    can: list[Due] = []
    waits: list[Due] = []
    runs_out: list[Due] = []
    for job in book.jobs():
        loaded = book.load(job.id)
        can += _can(loaded)
        waits += _waits(loaded, at)
        runs_out += _runs_out(loaded, at.date())
    return Day(tuple(can), tuple(waits), tuple(sorted(runs_out, key=lambda one: str(one.on))))


def _can(job: LoadedJob) -> Iterator[Due]:
    """The next thing of each place; of a whole record its handover."""
    found = [step for place in PLACES if (step := next_step_at(job, place)) is not None]
    for step in found or [next_step(job)]:
        yield Due(job.job.id, job.job.address, f"{_PLACES[step.place]}: {step.sentence}")


_PLACES: dict[Place, str] = {
    "street": "Street",
    "boxes": "Valve boxes",
    "ground": "Ground",
    "controller": "Controller",
    "desk": "Desk",
}


def _waits(job: LoadedJob, now: datetime) -> Iterator[Due]:
    """Cement that cures, and sign-offs of the whole job that are held back."""
    for test in job.pressure_tests:
        cured = cured_at(job, test)
        if cured is not None and test.began_at is None and cured > now:
            what = f"pressure test of {stretch_name(job, test.zone_id)}"
            yield Due(
                job.job.id, job.job.address, what, cured.date(), f"cement until {cured:%H:%M}"
            )
    for kind, words in SIGN_OFFS.items():
        if job.signed(kind) is None:
            held = unmet(job, kind, None, now)
            if held:
                yield Due(job.job.id, job.job.address, words, None, held[0].words)
            return


def _runs_out(job: LoadedJob, today: date) -> Iterator[Due]:
    """Marks, permits, licences and backflow tests that end within a week, or have."""
    dated: list[tuple[str, date | None]] = [
        (f"marks of ticket {one.number}", ticket_span(job, one)[1])
        for one in job.locate_tickets
        if not one.dug_until
    ]
    dated += [(f"permit {one.number}", day_of(one.expires_on)) for one in job.permits]
    dated += [(f"licence of {one.name}", day_of(one.expires_on)) for one in job.crew]
    dated += [
        (f"next test of the {assembly_name(one)}", retest_on(job, one))
        for one in job.backflow_assemblies
    ]
    for what, ends in dated:
        if ends is not None and ends <= today + timedelta(days=_WEEK_DAYS):
            yield Due(job.job.id, job.job.address, what, ends)
