"""Flags on the programmes: barred days and hours, starts that meet, too much at once.

A programme is sound only where its days, starts and minutes are entered and the local rule says
yes to every run of its season; what the rule set doesn't say is "not checked".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise

from fieldbook.checks.common.job_rules import rule_source
from fieldbook.checks.common.naming import listed, zone_name, zone_word
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked
from fieldbook.checks.water.zone_solutions import zone_groups
from fieldbook.checks.water.zone_status import status_of
from fieldbook.checks.watering.controller.job_permits import lacks_of, law_of_job
from fieldbook.checks.watering.controller.job_programmes import (
    JobProgramme,
    Outlet,
    calendar_of,
    controllers_of,
    outlet_words,
    outlets,
    overlap_of,
    programme_name,
    programmes_on,
    season_of_job,
)
from fieldbook.checks.watering.zone_seasons import season_of
from fieldbook.checks.wire.circuits import currents_of
from fieldbook.records.column_values import amount
from fieldbook.records.ids import programme_minutes_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.keys import WATERING
from fieldbook.trade.watering.clock_times import time_in_words
from fieldbook.watering.programmes.programme_runs import at_once, play
from fieldbook.watering.programmes.season_calendar import Broken, SeasonCalendar
from fieldbook.wiring import load_va

_A_DAY_MIN = 1440
_MOST_WORDS = 90


def programme_turns(job: LoadedJob) -> Iterator[date]:
    """The first day of each year: a programme without an end is played for the calendar year."""
    if job.programmes:
        yield from (date(year, 1, 1) for year in range(2025, 2100))


def check_programmes(job: LoadedJob, today: date) -> Iterator[Finding | Looked]:
    """Each programme, and each controller with all of its own."""
    law_of_job(job)
    first, last = season_of_job(job, today)
    for controller_id, _name in controllers_of(job):
        calendar = calendar_of(job, controller_id, first, last)
        mine = programmes_on(job, controller_id)
        for one in mine:
            yield Looked(
                f"programme {programme_name(one.row)}",
                frozenset({one.row.id}) | _minute_rows(job, one),
                tuple(_lacks(job, one, calendar)),
            )
            yield from _unread(one)
            yield from _barred(job, one, calendar)
            yield from _too_long_at_once(job, one)
        yield from _meeting(job, mine, calendar)
        yield from _crossed(job, mine)
        yield from _too_much_at_once(job, mine, first, last)


def _minute_rows(job: LoadedJob, one: JobProgramme) -> frozenset[str]:
    return frozenset(programme_minutes_id(one.row.id, out.number) for out in outlets(job))


def _lacks(job: LoadedJob, one: JobProgramme, calendar: SeasonCalendar) -> Iterator[Missing]:
    """What a programme needs to run at all, then what the rule needs to answer."""
    name = f"programme {programme_name(one.row)}"
    for column, words in (("days", "the days"), ("starts", "the starts")):
        if not getattr(one.row, column):
            yield Missing(f"{words} of {name}", CellRef("programme", one.row.id, column))
    if not one.programme.stations:
        outlet = next(iter(outlets(job)), None)
        row_id = programme_minutes_id(one.row.id, outlet.number) if outlet else ""
        at = CellRef("programme_minutes", row_id, "run_min")
        yield Missing(
            f"the minutes of {name}", at if row_id else CellRef("programme", one.row.id, "days")
        )
    lacks = [
        why.removeprefix("not known: ")
        for _, broken in calendar.broken()
        if broken.run.programme == one.programme.name and broken.verdict == "not known"
        for why in broken.why.split("; ")
    ]
    yield from lacks_of(job, tuple(dict.fromkeys(lacks)))


def _unread(one: JobProgramme) -> Iterator[Finding]:
    if one.unread:
        yield Finding(
            "percentages not read",
            "fix",
            f"The percentages by month of programme {programme_name(one.row)} can't be read.",
            "Type them as Apr 51, May 68, Jul 100.",
            CellRef("programme", one.row.id, one.unread),
        )


def _barred(job: LoadedJob, one: JobProgramme, calendar: SeasonCalendar) -> Iterator[Finding]:
    """Runs that the rule bars: the first of them, and how many days there are."""
    found = [
        (day, broken)
        for day, broken in calendar.broken()
        if broken.run.programme == one.programme.name and broken.verdict == "no"
    ]
    if not found:
        return
    day, broken = found[0]
    days = len({day for day, _ in found})
    more = f", and on {days - 1} more days" if days > 1 else ""
    by_day = "days" if _is_by_day(broken) else "starts"
    yield Finding(
        "watering not allowed",
        "fix",
        f"Programme {programme_name(one.row)} runs on {day:%a} {day.isoformat()} at "
        f"{time_in_words(int(broken.run.start_min))}{more}; the rule: {_short(broken.why)}.",
        "Change its days, starts or minutes, or work out a programme.",
        CellRef("programme", one.row.id, by_day),
        source=rule_source(job, WATERING),
        numbers=(Number("days", float(days), ""),),
    )


def _is_by_day(broken: Broken) -> bool:
    return "is outside the hours" not in broken.why and "min a zone" not in broken.why


def _short(words: str) -> str:
    return words if len(words) <= _MOST_WORDS else f"{words[: _MOST_WORDS - 3].rstrip()}..."


def _too_long_at_once(job: LoadedJob, one: JobProgramme) -> Iterator[Finding]:
    """A terminal that runs on longer than its zone's soil takes without run-off."""
    by_id = {out.terminal_id: out for out in outlets(job)}
    for station in one.programme.stations:
        zone = by_id[station.station].runs
        season = season_of(job, zone.id) if zone is not None else None
        limit = season.peak.cycles.limit_min if season is not None and season.peak else None
        percent = max([one.programme.percent, *(pct for _, pct in one.programme.percent_by_month)])
        runs = min(station.minutes * percent / 100, station.cycle_min or _A_DAY_MIN)
        if limit is not None and runs > limit + 0.5:
            yield Finding(
                "runs past run-off",
                "note",
                f"Programme {programme_name(one.row)} runs {zone_word(zone)} for {runs:.0f} min "
                f"at once; its soil takes {limit:.0f} min.",
                f"Split it: starts at least {limit:.0f} min and a soak apart, or a cycle of "
                f"{limit:.0f} min.",
                CellRef(
                    "programme_minutes",
                    programme_minutes_id(one.row.id, by_id[station.station].number),
                    "run_min",
                ),
                numbers=(Number("run", runs, "min"), Number("soil takes", limit, "min")),
            )


def _meeting(
    job: LoadedJob, mine: Sequence[JobProgramme], calendar: SeasonCalendar
) -> Iterator[Finding]:
    """Starts that come while another programme runs, and days that don't hold all runs."""
    rows = {one.programme.name: one.row for one in mine}
    for day in calendar.days:
        late = next((run for run in day.runs if run.late_min > 0), None)
        if late is not None and late.programme in rows and overlap_of(job) != "at once":
            row = rows[late.programme]
            known = overlap_of(job) is not None
            yield Finding(
                "starts meet",
                "note" if known else "fix",
                f"On {day.day.isoformat()} programme {programme_name(row)} is to start "
                f"{late.late_min:.0f} min before what runs then has ended.",
                "Move its start, or leave it: the controller puts it off."
                if known
                else "Move its start, or enter what the controller does with starts that meet.",
                CellRef("programme", row.id, "starts"),
                numbers=(Number("put off", late.late_min, "min"),),
            )
            break
    full = next((day for day in calendar.days if day.run_min > _A_DAY_MIN), None)
    if full is not None and overlap_of(job) != "at once":
        yield Finding(
            "day too short",
            "fix",
            f"On {full.day.isoformat()} the programmes run {full.run_min / 60:.1f} h: more than a "
            "day.",
            "Take starts or minutes off, or spread the zones over more days.",
            CellRef("programme", mine[0].row.id, "starts"),
            numbers=(Number("hours", full.run_min / 60, "h"),),
        )


def _crossed(job: LoadedJob, mine: Sequence[JobProgramme]) -> Iterator[Finding]:
    """Minutes on a terminal whose wire leads to another zone than it is meant for."""
    for one in mine:
        used = {station.station for station in one.programme.stations}
        for outlet in outlets(job):
            if outlet.terminal_id in used and outlet.crossed:
                yield Finding(
                    "programme runs another zone",
                    "fix",
                    f"Programme {programme_name(one.row)}: {outlet_words(job, outlet)}.",
                    "Put the wire right, or type these minutes for the zone that it runs.",
                    CellRef(
                        "programme_minutes",
                        programme_minutes_id(one.row.id, outlet.number),
                        "run_min",
                    ),
                )


def _too_much_at_once(
    job: LoadedJob, mine: Sequence[JobProgramme], first: date, last: date
) -> Iterator[Finding]:
    """Zones that run at the same moment, solved jointly, and held against the transformer."""
    if overlap_of(job) != "at once":
        return
    by_id = {one.terminal_id: one for one in outlets(job)}
    sets: set[frozenset[str]] = set()
    for day in play([one.programme for one in mine], first, last, "at once"):
        sets |= at_once(day.runs)
    largest = [one for one in sets if not any(one < other for other in sets)]
    for stations in sorted(largest, key=sorted):
        found = [by_id[name] for name in sorted(stations) if name in by_id]
        yield from _short_of_water(job, mine, found)
    most = max((len(one) for one in sets), default=1)
    has_va = amount(job.controller, "transformer_va")
    needs_va = load_va(currents_of(job), most)
    if has_va is not None and needs_va > has_va and most > 1:
        yield Finding(
            "programmes overload transformer",
            "stop",
            f"The programmes run {most} zones at once: {needs_va:.1f} VA as the last coil pulls "
            f"in; the transformer gives {has_va:g} VA.",
            "Move the starts apart, or have a larger transformer fitted by a licensed electrician.",
            CellRef("programme", mine[0].row.id, "starts"),
            source="Coil currents: common practice, no source.",
            numbers=(Number("load", needs_va, "VA"), Number("transformer", has_va, "VA")),
        )


def _short_of_water(
    job: LoadedJob, mine: Sequence[JobProgramme], found: Sequence[Outlet]
) -> Iterator[Finding]:
    """What is wrong with the water of zones only because they run at once."""
    zones = list({one.runs.id: one.runs for one in found if one.runs is not None}.values())
    if len(zones) < 2:
        return
    alone = {flag.code for zone in zones for flag in _flags(job, zone)}
    together = _joined(job, zones)
    worse = {flag.code for zone in zones for flag in _flags(together, zone)} - alone
    if worse:
        names = listed([zone_name(zone) for zone in zones])
        yield Finding(
            "too much at once",
            "stop",
            f"The programmes run {names} at once, solved together: {listed(sorted(worse))}.",
            "Move the starts apart, so that they follow each other.",
            CellRef("programme", mine[0].row.id, "starts"),
        )


def _joined(job: LoadedJob, zones: Sequence[Zone]) -> LoadedJob:
    """The job with these zones running together, as the solver sees it."""
    links = {before.id: after.id for before, after in pairwise(zones)}
    changed = tuple(
        one.with_values(runs_with=links[one.id]) if one.id in links else one for one in job.zones
    )
    return replace(job, zones=changed)


def _flags(job: LoadedJob, zone: Zone) -> Iterator[Finding]:
    """The stops and fixes on a zone's water."""
    for group in zone_groups(job):
        for one in group.zones:
            if one.id == zone.id:
                yield from (f for f in status_of(job, one, group).flags if f.severity != "note")
