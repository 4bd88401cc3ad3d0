"""The watering season as iCalendar (RFC 5545): an event for each start of a programme."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event

from fieldbook.checks.watering.controller.day_words import ranges
from fieldbook.checks.watering.controller.job_programmes import outlet_words, outlets
from fieldbook.checks.watering.controller.season_water import season_days
from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.watering.programmes.programme_runs import Run

_MOST_GAP_MIN = 1.0
"""Runs of one programme that follow each other within this are one event."""


def as_season_calendar(job: LoadedJob, first: date, last: date, today: date) -> bytes:
    """The starts of a season. Times are local ones without a zone, as a controller keeps them.

    The identifier of an event is made from what it is, so that a calendar that reads the file again
    moves the event instead of adding another.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//fieldbook//EN")
    calendar.add("version", "2.0")
    for controller, day in season_days(job, first, last):
        for runs in _stretches(day.runs):
            calendar.add_component(_event(job, controller, day.day, runs, today))
    return bytes(calendar.to_ical())


def _stretches(runs: Sequence[Run]) -> Iterator[list[Run]]:
    """Runs of one programme that follow each other without a pause."""
    found: list[Run] = []
    for run in sorted(runs, key=lambda one: (one.programme, one.start_min)):
        last = found[-1] if found else None
        if last is not None and (
            last.programme != run.programme or run.start_min - last.end_min > _MOST_GAP_MIN
        ):
            yield found
            found = []
        found.append(run)
    if found:
        yield found


def _event(job: LoadedJob, controller: str, day: date, runs: Sequence[Run], today: date) -> Event:
    by_id = {one.terminal_id: one for one in outlets(job)}
    numbers = sorted(
        {one.runs.number or 0 for run in runs if (one := by_id[run.station]).runs is not None}
    )
    midnight = datetime.combine(day, time())
    begin, end = (
        midnight + timedelta(minutes=round(at))
        for at in (runs[0].start_min, max(run.end_min for run in runs))
    )
    event = Event()
    name, start = runs[0].programme, begin.isoformat(timespec="minutes")
    event.add("uid", natural_id(job.job.id, controller, name, start))
    event.add("dtstamp", datetime.combine(today, time(), UTC))
    event.add("dtstart", begin)
    event.add("dtend", end)
    event.add("summary", f"Programme {name}, zones {ranges(numbers)}: {job.job.address}")
    lines = (f"{outlet_words(job, by_id[run.station])}: {run.minutes:g} min" for run in runs)
    event.add("description", "\n".join(lines))
    event.add("transp", "TRANSPARENT")
    return event
