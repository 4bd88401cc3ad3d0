"""The visits that close or open the system, and the rows that belong to them."""

from __future__ import annotations

from datetime import date

from fieldbook.records.days import day_of
from fieldbook.records.ids import season_work_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.season.season_work import SeasonWork, SeasonZone
from fieldbook.records.tables.visits import Visit

CLOSING, OPENING = "winterising", "start-up"


def season_visits(job: LoadedJob) -> list[Visit]:
    """The visits that close or open the system, the newest first; one without a day is new."""
    found = [visit for visit in job.visits if visit.reason in (CLOSING, OPENING)]
    return sorted(
        found, key=lambda visit: (day_of(visit.held_on) or date.max, visit.id), reverse=True
    )


def visits_held(job: LoadedJob, reason: str) -> list[tuple[date, Visit]]:
    """The days of the visits for a reason, the newest first; without those that have no day."""
    found = [
        (held, visit.id, visit)
        for visit in job.visits
        if visit.reason == reason and (held := day_of(visit.held_on)) is not None
    ]
    return [(held, visit) for held, _, visit in sorted(found, key=lambda one: one[:2])[::-1]]


def visit_words(visit: Visit) -> str:
    """Such as "the winterising of 2026-11-02"."""
    return f"the {visit.reason or 'visit'} of {visit.held_on or 'a day that is not entered'}"


def work_of(job: LoadedJob, visit: Visit) -> SeasonWork | None:
    """What a visit did as a whole; None until something of it is entered."""
    return next((row for row in job.season_works if row.visit_id == visit.id), None)


def work_id(job: LoadedJob, visit: Visit) -> str:
    """The id of that row, whether or not it exists yet."""
    work = work_of(job, visit)
    return work.id if work is not None else season_work_id(visit.id)


def zone_work(job: LoadedJob, visit: Visit, zone_id: str | None) -> SeasonZone | None:
    """What a visit did to a zone, or to the mainline (None)."""
    rows = (row for row in job.season_zones if row.visit_id == visit.id)
    return next((row for row in rows if (row.zone_id or None) == zone_id), None)


def way_of(job: LoadedJob, visit: Visit) -> str | None:
    """How a visit closed the system: as it says, else as planned."""
    work = work_of(job, visit)
    said = work.way if work is not None else None
    return said or (job.season_plan.way if job.season_plan is not None else None)


def order_of_zones(job: LoadedJob, visit: Visit | None) -> str | None:
    """The order in which air goes through the zones: as a visit says, else as planned."""
    work = work_of(job, visit) if visit is not None else None
    said = work.blow_order if work is not None else None
    return said or (job.season_plan.blow_order if job.season_plan is not None else None)
