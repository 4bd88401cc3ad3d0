"""What the zones' needs and the local rule give as programmes, for each controller."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil

from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.watering.controller.job_permits import permit_of
from fieldbook.checks.watering.controller.job_programmes import Outlet, outlet_words, outlets
from fieldbook.checks.watering.zone_seasons import ZoneSeason, season_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.watering.cycle_soak import cut_in_cycles
from fieldbook.watering.programmes.controller_programme import MonthPercents, Programme
from fieldbook.watering.programmes.proposal import Wanted, propose
from fieldbook.watering.zone_need import MonthNeed, seasonal_percent

_MONTHS = 12
_FULL = 100


@dataclass(frozen=True)
class Needed:
    """The programmes of one controller (None is the first), and what could not be met."""

    controller_id: str | None
    programmes: tuple[Programme, ...]
    notes: tuple[str, ...]


def needed_programmes(job: LoadedJob, today: date) -> list[Needed]:
    """The programmes of each controller for the season's months that need water."""
    found: dict[str | None, list[tuple[Outlet, ZoneSeason, MonthNeed]]] = defaultdict(list)
    notes: dict[str | None, list[str]] = defaultdict(list)
    seen: set[str] = set()
    for outlet in outlets(job):
        zone = outlet.runs
        if zone is None or zone.id in seen:
            continue
        # A second terminal of the same zone would water it twice.
        seen.add(zone.id)
        season = season_of(job, zone.id)
        if season is None or season.peak is None:
            lacks = ", ".join(one.words for one in season.missing[:2]) if season else ""
            notes[outlet.controller_id].append(f"{zone_name(zone)} is left out: enter {lacks}.")
        else:
            found[outlet.controller_id].append((outlet, season, season.peak))
    return [
        _needed(job, key, found.get(key, []), notes.get(key, []), today)
        for key in dict.fromkeys([*found, *notes])
    ]


def _needed(
    job: LoadedJob,
    controller_id: str | None,
    zones: list[tuple[Outlet, ZoneSeason, MonthNeed]],
    notes: list[str],
    today: date,
) -> Needed:
    wanted = list(_wanted(job, zones))
    if not wanted:
        return Needed(controller_id, (), tuple(notes))
    first, last = _season([season for _, season, _ in zones], today)
    percents = _percents([(season, peak) for _, season, peak in zones])
    made = propose(wanted, first, last, percents)
    programmes = tuple(replace(one, percent_by_month=_whole(one)) for one in made.programmes)
    words = {outlet.terminal_id: outlet_words(job, outlet) for outlet, _, _ in zones}
    return Needed(
        controller_id, programmes, tuple(_named(one, words) for one in [*notes, *made.notes])
    )


def _whole(programme: Programme) -> MonthPercents:
    """Percentages as they are typed: whole ones, rounded up so that no month is short."""
    return tuple((month, float(ceil(percent))) for month, percent in programme.percent_by_month)


def _named(note: str, words: Mapping[str, str]) -> str:
    """A note with the terminals' names in place of their ids."""
    for row_id, name in words.items():
        note = note.replace(row_id, name)
    return note[:1].upper() + note[1:]


def _wanted(job: LoadedJob, zones: list[tuple[Outlet, ZoneSeason, MonthNeed]]) -> Iterator[Wanted]:
    for outlet, season, peak in zones:
        water, limit = season.water, peak.cycles.limit_min
        if water is None or outlet.runs is None or not peak.waters:
            continue
        # Twice the limit has a soak, however the minutes are divided among the days.
        long = cut_in_cycles(2 * (limit or 0.0), water.rate.value, water.intake, water.runoff_min)
        yield Wanted(
            outlet.terminal_id,
            peak.minutes_week,
            max(int(peak.days_between), 1),
            permit_of(job, outlet.runs),
            limit,
            long.soak_min,
        )


def _season(seasons: list[ZoneSeason], today: date) -> tuple[date, date]:
    """From the first to the last month that needs water, of this year or, if it is over, the next.

    Without any such month the whole year.
    """
    months = [month for one in seasons for month, need in one.needs.items() if need.waters]
    first, last = min(months, default=1), max(months, default=_MONTHS)
    year = today.year
    if _last_day(year, last) < today:
        year += 1
    return date(year, first, 1), _last_day(year, last)


def _last_day(year: int, month: int) -> date:
    after = date(year + month // _MONTHS, month % _MONTHS + 1, 1)
    return after - timedelta(days=1)


def _percents(zones: list[tuple[ZoneSeason, MonthNeed]]) -> MonthPercents:
    """Each month's percentage of the peak, a mean of the zones by their minutes; 100 left out."""
    parts: dict[int, list[tuple[float, float]]] = defaultdict(list)
    for season, peak in zones:
        for month, percent in seasonal_percent(season.needs).items():
            parts[month].append((float(percent), peak.minutes_week))
    found = {}
    for month, held in sorted(parts.items()):
        total = sum(minutes for _, minutes in held)
        mean = sum(percent * minutes for percent, minutes in held) / total if total else _FULL
        found[month] = min(round(mean), _FULL)
    return tuple((month, float(percent)) for month, percent in found.items() if percent != _FULL)
