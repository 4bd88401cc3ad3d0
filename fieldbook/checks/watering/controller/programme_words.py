"""A programme in words: what is typed into any controller, and the totals of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from fieldbook.checks.watering.controller.job_programmes import (
    JobProgramme,
    Outlet,
    calendar_of,
    controllers_of,
    minutes_of,
    outlet_words,
    outlets,
    programme_name,
    programmes_on,
    season_of_job,
)
from fieldbook.checks.watering.zone_seasons import season_of
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.watering.programmes import ProgrammeMinutes
from fieldbook.trade.watering.clock_times import DAY_MIN, time_in_words
from fieldbook.trade.watering.day_pattern import DayPattern, days_in_words
from fieldbook.watering.programmes.controller_programme import months_text
from fieldbook.watering.programmes.programme_runs import Run
from fieldbook.watering.programmes.season_calendar import CalendarDay

_WEEK = 7.0
_FOUR_YEARS = 1461
"""Days of four years, so that odd days and leap days have their share."""


@dataclass(frozen=True)
class Totals:
    """A programme's usual day: its minutes and gallons, when it ends, how many days a week."""

    day_min: float
    ends_min: float
    gallons: float | None
    days_a_week: float


def totals_of(job: LoadedJob, one: JobProgramme, today: date) -> Totals | None:
    """The totals of a programme over its season; None of one that never runs."""
    first, last = season_of_job(job, today)
    calendar = calendar_of(job, one.row.controller_id or None, first, last)
    name = one.programme.name
    days = [day for day in calendar.days if any(run.programme == name for run in day.runs)]
    if not days:
        return None
    in_use = sum(one.programme.in_use(day.day) for day in calendar.days)
    longest = max(days, key=lambda day: _minutes(day, name))
    runs = [run for run in longest.runs if run.programme == name]
    ends = max(run.end_min for run in runs)
    gallons = _gallons(runs, {station.name: station.gpm for station in calendar.stations})
    return Totals(_minutes(longest, name), ends, gallons, _WEEK * len(days) / max(in_use, 1))


def _gallons(runs: Sequence[Run], flows: Mapping[str, float | None]) -> float | None:
    """The gallons of runs; None while the flow of one of them is not known."""
    found = 0.0
    for run in runs:
        gpm = flows.get(run.station)
        if gpm is None:
            return None
        found += run.minutes * gpm
    return found


def _minutes(day: CalendarDay, name: str) -> float:
    return sum(run.minutes for run in day.runs if run.programme == name)


def totals_words(totals: Totals | None) -> str:
    """Such as "46 min a day, ends 5:46 am, 2.0 days a week, 460 gal"."""
    if totals is None:
        return "never runs"
    after = " after midnight" if totals.ends_min > DAY_MIN else ""
    words = (
        f"{totals.day_min:.0f} min a day, ends {time_in_words(round(totals.ends_min))}{after}, "
        f"{totals.days_a_week:.1f} days a week"
    )
    return words if totals.gallons is None else f"{words}, {totals.gallons:,.0f} gal"


def day_words(job: LoadedJob, one: JobProgramme, today: date) -> str:
    """How the totals of a programme's day come about."""
    totals = totals_of(job, one, today)
    if totals is None:
        return "It never runs yet: enter its days, its starts and the minutes of a terminal."
    percent = max([one.programme.percent, *(pct for _, pct in one.programme.percent_by_month)])
    total = sum(station.minutes for station in one.programme.stations)
    water = (
        ""
        if totals.gallons is None
        else (
            f" {totals.gallons:,.0f} gal: minutes times the flow of each zone, as solved or typed."
        )
    )
    return (
        f"Its longest day: {len(one.programme.starts)} starts x {total:g} min of all terminals x "
        f"{percent:g} % = {totals.day_min:.0f} min; the last run ends "
        f"{time_in_words(round(totals.ends_min))}, soaks and waits counted.{water}"
    )


def week_words(held: ProgrammeMinutes | None, one: JobProgramme) -> str:
    """How the week's minutes of a terminal come about."""
    minutes = amount(held, "run_min")
    if minutes is None:
        return ""
    starts, days = len(one.programme.starts), _days_a_week(one)
    return (
        f"In a week: {minutes:g} min x {starts} starts x {days:.1f} days = "
        f"{minutes * starts * days:.0f} min at 100 %."
    )


def _days_a_week(one: JobProgramme) -> float:
    return days_a_week(one.programme.days)


@lru_cache(maxsize=64)
def days_a_week(pattern: DayPattern) -> float:
    """On how many days of a week a pattern falls, over four years."""
    first = pattern.first or date(2027, 1, 1)
    days = (first + timedelta(days=at) for at in range(_FOUR_YEARS))
    return _WEEK * sum(map(pattern.covers, days)) / _FOUR_YEARS


def week_min(job: LoadedJob, outlet: Outlet) -> float:
    """The minutes of a terminal in a week at 100 %, in the part of the year that gives most."""
    by_time: dict[tuple[date | None, date | None], float] = {}
    for one in programmes_on(job, outlet.controller_id):
        minutes = minutes_of(job, one.row.id, outlet.number) or 0.0
        if minutes:
            # Programmes of other parts of the year don't add up; those of one part do.
            key = one.programme.first_day, one.programme.last_day
            week = minutes * len(one.programme.starts) * _days_a_week(one)
            by_time[key] = by_time.get(key, 0.0) + week
    return max(by_time.values(), default=0.0)


def needs_words(job: LoadedJob, outlet: Outlet) -> str:
    """What the zone of a terminal needs in a week of its peak month; blank while not known."""
    season = season_of(job, outlet.runs.id) if outlet.runs is not None else None
    if season is None or season.peak is None:
        return ""
    return f"needs {season.peak.minutes_week:.0f} min a week"


@dataclass(frozen=True)
class ProgrammeWords:
    """A programme as it is typed: labels with values, then terminals with their minutes."""

    title: str
    facts: tuple[tuple[str, str], ...]
    terminals: tuple[tuple[str, str], ...]


def programme_words(job: LoadedJob, one: JobProgramme) -> ProgrammeWords:
    """A programme in the words that any controller asks for."""
    row, programme = one.row, one.programme
    facts = [
        ("Days", days_in_words(programme.days) if row.days else "not entered"),
        ("Starts", ", ".join(map(time_in_words, programme.starts)) or "not entered"),
        ("Percent", _percent_words(one)),
    ]
    facts += [("From", row.first_day)] if row.first_day else []
    facts += [("To", row.last_day)] if row.last_day else []
    if row.cycle_min:
        facts += [("Cycle", f"{row.cycle_min:g} min"), ("Soak", f"{row.soak_min or 0:g} min")]
    by_id = {outlet.terminal_id: outlet for outlet in outlets(job)}
    terminals = tuple(
        (outlet_words(job, by_id[station.station]), f"{station.minutes:g} min")
        for station in programme.stations
    )
    return ProgrammeWords(f"Programme {programme_name(row)}", tuple(facts), terminals)


def _percent_words(one: JobProgramme) -> str:
    months = months_text(one.programme.percent_by_month)
    return f"{one.programme.percent:g} %{f'; {months}' if months else ''}"


def programme_lines(job: LoadedJob) -> Iterator[str]:
    """Every programme as plain lines, by controller."""
    for controller_id, name in controllers_of(job):
        yield f"Typed into {name}:"
        for one in programmes_on(job, controller_id):
            words = programme_words(job, one)
            yield ""
            yield words.title
            for label, value in words.facts:
                yield f"  {label:<9} {value}"
            for terminal, minutes in words.terminals:
                yield f"  {minutes:>9}  {terminal}"
            if not words.terminals:
                yield "  no minutes entered"
        yield ""
