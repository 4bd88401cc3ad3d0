"""Days of the season and of the care for a system: closing, opening, upkeep, the next visit.

Each of them rolls on: what was not done by some weeks after its day is due again a year later, so
that a property nobody looks after does not stand in every day's list for years.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from fieldbook.checks.common.visit_due import visit_that_names_next
from fieldbook.checks.season.season_rows import CLOSING, OPENING, visits_held, work_of
from fieldbook.records.days import day_of, months_after
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.winter import NO_FROST

LATE = timedelta(days=60)
"""For so long after its day the closing, the opening or the upkeep is still named as due."""
EARLY = timedelta(days=120)
"""A closing or opening so long before its day, or later, was that of the year."""
_YEAR = 12


class CareDay(NamedTuple):
    """A day by which something of the care is due: what, the day, and a word that is its own."""

    what: str
    on: date
    group: str


def care_days(job: LoadedJob, today: date) -> Iterator[CareDay]:
    """What falls due of the season, the upkeep and the visits."""
    plan = job.season_plan
    if plan is not None and plan.way != NO_FROST:
        frost = _next(day_of(plan.frost_on), _days(job, CLOSING), today)
        if frost is not None:
            yield CareDay("closing before the first frost", frost, "frost")
    if plan is not None:
        spring = _next(day_of(plan.spring_on), _days(job, OPENING), today)
        if spring is not None:
            yield CareDay("start-up of the system", spring, "spring")
    upkeep = _upkeep(job, today)
    if upkeep is not None:
        yield CareDay("filters, controller's battery and clock", upkeep, "upkeep")
    visit = next_visit(job)
    if visit is not None:
        yield visit


def next_visit(job: LoadedJob) -> CareDay | None:
    """The next visit that a visit names, unless it was held since."""
    newest = visit_that_names_next(job)
    due = day_of(newest.next_due) if newest is not None else None
    if newest is None or due is None:
        return None
    reason = f", {newest.next_reason}" if newest.next_reason else ""
    return CareDay(f"next visit{reason}", due, "visit")


def _days(job: LoadedJob, reason: str) -> list[date]:
    return [held for held, _ in visits_held(job, reason)]


def _next(named: date | None, done: list[date], today: date) -> date | None:
    """The day and month of `named` in the first year in which it is not done and not long past."""
    if named is None:
        return None
    first = max(today.year - 1, named.year)
    # Of three years in a row one is neither done nor long past, unless visits are dated ahead.
    for year in range(first, first + 4):
        on = months_after(named, _YEAR * (year - named.year))
        if on + LATE >= today and not any(on - EARLY <= day <= on + LATE for day in done):
            return on
    return None


def _upkeep(job: LoadedJob, today: date) -> date | None:
    """A year after the last upkeep, else after the handover; only where somebody comes at all."""
    if job.season_plan is None and not job.visits:
        return None
    done = [
        held
        for held, visit in (*visits_held(job, CLOSING), *visits_held(job, OPENING))
        if (work := work_of(job, visit)) is not None and work.battery_good is True
    ]
    handover = job.signed("handover")
    begun = max(done, default=day_of(handover.signed_at) if handover is not None else None)
    return _next(months_after(begun, _YEAR), [], today) if begun is not None else None
