"""The programmes of a property as text to type into a controller, as JSON, CSV and iCalendar."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from fieldbook.actions.files.spreadsheet import csv_text
from fieldbook.actions.refused import RefusedError, write_bytes
from fieldbook.checks.watering.controller.day_words import ranges
from fieldbook.checks.watering.controller.job_permits import law_of_job
from fieldbook.checks.watering.controller.job_programmes import (
    controllers_of,
    outlets,
    programmes_on,
    season_of_job,
)
from fieldbook.checks.watering.controller.programme_words import programme_lines
from fieldbook.checks.watering.controller.season_water import (
    budget_words,
    month_waters,
    season_days,
    week_waters,
)
from fieldbook.papers.exports.season_calendar_file import as_season_calendar
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.watering.clock_times import time_text
from fieldbook.trade.watering.day_pattern import days_text
from fieldbook.watering.programmes.season_calendar import CalendarDay

ENDINGS = (".ics", ".json", ".csv")
NO_PROGRAMME = "No programme yet: enter it at the controller."
_HEADERS = (
    *("day", "weekday", "controller", "programme", "terminal", "zone", "name", "start"),
    *("minutes", "verdict", "why"),
)


def programme_text(job: LoadedJob, today: date) -> Iterator[str]:
    """The programmes in words, the water of each month, and what the rule says of the runs."""
    if not job.programmes:
        yield NO_PROGRAMME
        return
    yield from programme_lines(job)
    first, last = season_of_job(job, today)
    months = month_waters(job, first, last)
    yield "Water by month:"
    yield from (f"  {month.words}" for month in months)
    yield from filter(None, (budget_words(job, months),))
    yield ""
    yield "The local rule:"
    law = law_of_job(job)
    yield from (f"  {line}" for line in law.lines())
    yield f"  Source: {law.source}"
    days = [day for _, day in season_days(job, first, last)]
    yield from _verdict(days)


def _verdict(days: list[CalendarDay]) -> Iterator[str]:
    ran = [day for day in days if day.runs]
    barred = [day for day in ran if any(one.verdict == "no" for one in day.broken)]
    unknown = [day for day in ran if day.broken and day not in barred]
    yield (
        f"  Runs on {len(ran)} days: {len(ran) - len(barred) - len(unknown)} allowed, "
        f"{len(barred)} barred, {len(unknown)} not checked."
    )


def programme_data(job: LoadedJob, today: date) -> dict[str, object]:
    """The programmes, the season's days, and its water by week and month, as JSON data."""
    first, last = season_of_job(job, today)
    return {
        "job": job.job.id,
        "address": job.job.address,
        "season": [first.isoformat(), last.isoformat()],
        "rule": {"source": law_of_job(job).source, "limits": law_of_job(job).lines()},
        "programmes": [
            one for key, name in controllers_of(job) for one in _programmes(job, key, name)
        ],
        "days": [_day(job, name, day) for name, day in season_days(job, first, last) if day.runs],
        "gallons_by_month": [
            {"month": f"{one.year}-{one.month:02}", "given": one.given, "needed": one.needed}
            for one in month_waters(job, first, last)
        ],
        "gallons_by_week": week_waters(job, first, last),
    }


def _programmes(
    job: LoadedJob, controller_id: str | None, name: str
) -> Iterator[dict[str, object]]:
    numbers = {one.terminal_id: one.number for one in outlets(job)}
    for one in programmes_on(job, controller_id):
        programme = one.programme
        yield {
            "name": programme.name,
            "controller": name,
            "days": days_text(programme.days),
            "starts": [time_text(start) for start in programme.starts],
            "percent": programme.percent,
            "percent_by_month": {str(at): percent for at, percent in programme.percent_by_month},
            "first_day": one.row.first_day,
            "last_day": one.row.last_day,
            "minutes": {str(numbers[each.station]): each.minutes for each in programme.stations},
        }


def _day(job: LoadedJob, controller: str, day: CalendarDay) -> dict[str, object]:
    by_id = {one.terminal_id: one for one in outlets(job)}
    return {
        "day": day.day.isoformat(),
        "controller": controller,
        "zones": ranges(
            sorted(
                one.runs.number or 0
                for name in day.stations
                if (one := by_id[name]).runs is not None
            )
        ),
        "minutes": day.run_min,
        "window_min": day.window_min,
        "gallons": day.gallons,
        "not_allowed": [broken.why for broken in day.broken],
    }


def season_csv(job: LoadedJob, today: date) -> str:
    """A line for each run of the season."""
    by_id = {one.terminal_id: one for one in outlets(job)}
    lines = []
    for controller, day in season_days(job, *season_of_job(job, today)):
        wrong = {id(broken.run): broken for broken in day.broken}
        for run in day.runs:
            outlet, broken = by_id[run.station], wrong.get(id(run))
            zone = outlet.runs
            lines.append(
                (
                    *(day.day.isoformat(), f"{day.day:%a}", controller, run.programme),
                    *(outlet.number, zone.number if zone else None, zone.name if zone else ""),
                    *(time_text(int(run.start_min) % 1440), round(run.minutes, 2)),
                    *(broken.verdict if broken else "yes", broken.why if broken else ""),
                )
            )
    return csv_text(_HEADERS, lines)


def write_programme(job: LoadedJob, file: Path, today: date, *, over: bool) -> None:
    """Write the season to a file whose ending says what it is. Raises RefusedError."""
    ending = file.suffix.lower()
    if ending not in ENDINGS:
        raise RefusedError(f"{file.name} needs one of these endings: {', '.join(ENDINGS)}.")
    if not job.programmes:
        raise RefusedError(NO_PROGRAMME)
    if ending == ".ics":
        first, last = season_of_job(job, today)
        write_bytes(file, as_season_calendar(job, first, last, today), over=over)
        return
    text = season_csv(job, today)
    if ending == ".json":
        text = json.dumps(programme_data(job, today), ensure_ascii=False, indent=2) + "\n"
    write_bytes(file, text.encode(), over=over)
