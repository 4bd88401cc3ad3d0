"""The sensors, and what each zone needs by month, as sections of the controller's sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fieldbook.checks.finding import CellRef
from fieldbook.checks.watering.weather_rows import job_weather
from fieldbook.checks.watering.zone_seasons import ZoneSeason, zone_seasons
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.watering.watering_site import Sensor
from fieldbook.screens.sheets.options import zone_label
from fieldbook.screens.sheets.presses import AddRow, ShowSteps
from fieldbook.screens.sheets.sheet import Cell, Row, Section, press_cell, table_section
from fieldbook.trade.plants_and_soils import ESTABLISHMENT_SOURCE
from fieldbook.units import MINUTES, VOLUME, WATERING_RATE, System, show
from fieldbook.watering.figure import Step
from fieldbook.watering.monthly_weather import MONTH_NAMES
from fieldbook.watering.zone_need import (
    SEASONS,
    MonthNeed,
    four_seasons,
    new_plants_need,
    property_percent,
)

_PEAK_HEADS = ("Month", "Every", "Run time", "Cycles", "Soak", "Rate", "Longer", "Water")
_NEW_HEADS = ("Planted", "From", "Until", "Times a day", "Every", "Run time", "Cycles")
_LABEL = 20
MM_PER_IN = 25.4
_METRIC = {"in": "mm", "in/day": "mm/day", "in/h": "mm/h"}
_NOTHING = "Nothing is needed: rain and the plants' small use leave no deficit."


def sensors(job: LoadedJob, system: System) -> Section:
    """The sensors that stop the watering."""
    columns = (("kind", 13), ("where", 28), ("setting", 14), ("tested_on", 10), ("stops", 5))
    adds = AddRow("sensor", "sensor", "kind")
    return table_section(job.sensors, Sensor, system, "Sensors", columns, adds)


def needs(job: LoadedJob, system: System) -> Iterator[Section]:
    """What each zone needs: in the month that needs most, and in every month that is known.

    Nothing of it is shown before anything of the watering is entered.
    """
    if not job.zone_waterings and not job.weather_months:
        return
    seasons = zone_seasons(job)
    peak = tuple(_peak(season, system) for season in seasons)
    yield Section("What each zone needs at its peak (Enter: how so)", peak, _PEAK_HEADS, _LABEL)
    if any(season.needs for season in seasons):
        yield _by_month(job, seasons, system)
        found = (_by_season(seasons, system), _water(job, seasons, system))
        yield from (section for section in found if section.rows)
    new = [row for season in seasons for row in _new_plants(job, season, system)]
    if new:
        title = "New plants: watered so until they are established"
        yield Section(title, tuple(new), _NEW_HEADS, _LABEL)


def _peak(season: ZoneSeason, system: System) -> Row:
    label, peak, water = zone_label(season.zone), season.peak, season.water
    if peak is None or water is None:
        missing = ", ".join(one.words for one in season.missing[:2])
        return Row(label, tail=f"- not checked: {missing}")
    sign = "~ " if water.multiplier.is_default or water.plants.is_default else ""
    texts = {
        "peak month": MONTH_NAMES[peak.month - 1][:3],
        "every": f"{peak.days_between:g} d" if peak.waters else "-",
        "run time": show(round(peak.minutes, 1), MINUTES, system),
        "cycles": _cycles(peak),
        "soak": f"{peak.cycles.soak_min:.0f} min" if peak.cycles.count > 1 else "-",
        "rate": show(water.rate.value, WATERING_RATE, system),
        "multiplier": f"{sign}{water.multiplier.value:.2f}",
        "water": show(round(peak.gallons), VOLUME, system) if peak.gallons is not None else "-",
    }
    return Row(
        label, tuple(_shows(season, peak, at, text, 8, system) for at, text in texts.items())
    )


def _cycles(need: MonthNeed) -> str:
    return f"{need.cycles.count} x {need.cycles.whole_min}" if need.waters else "-"


def _by_month(job: LoadedJob, seasons: tuple[ZoneSeason, ...], system: System) -> Section:
    """Minutes of one watering and the days between, and the season's percentage."""
    months = sorted(job_weather(job))
    rows = [_months(season, months, system) for season in seasons if season.needs]
    percent = property_percent([season.needs for season in seasons])
    how = "Each month's minutes of all zones as a percentage of the greatest month's."
    shows = ShowSteps("Seasonal adjustment", how)
    cells = []
    for month in months:
        at = CellRef("zone_watering", f"month {month}", "seasonal percent")
        text = f"{percent[month]} %" if month in percent else "-"
        cells.append(press_cell(shows, at, text, 6, how))
    heads = tuple(MONTH_NAMES[month - 1][:3] for month in months)
    title = "Minutes of a watering / days between, by month"
    return Section(title, (*rows, Row("Seasonal %", tuple(cells))), heads, _LABEL)


def _by_season(seasons: tuple[ZoneSeason, ...], system: System) -> Section:
    """The same by season, for a controller that is set four times a year."""
    rows = []
    for season in seasons:
        found = four_seasons(season.needs)
        cells = [
            _shows(season, found[name], name, _minutes(found[name]), 8, system)
            for name in SEASONS
            if name in found
        ]
        if len(cells) == len(SEASONS):
            rows.append(Row(zone_label(season.zone), tuple(cells)))
    heads = tuple(name.capitalize() for name in SEASONS)
    return Section("By season: its month that needs most", tuple(rows), heads, _LABEL)


def _water(job: LoadedJob, seasons: tuple[ZoneSeason, ...], system: System) -> Section:
    """What each zone is given in each month; a zone whose flow is not known has no row."""
    weather = job_weather(job)
    rows = []
    for season in seasons:
        cells = []
        for month, need in season.needs.items():
            gallons = need.gallons_in(weather[month].days)
            if gallons is not None:
                text = show(round(gallons), VOLUME, system, unit=False)
                cells.append(_shows(season, need, f"water of month {month}", text, 6, system))
        if cells and len(cells) == len(season.needs):
            rows.append(Row(zone_label(season.zone), tuple(cells)))
    heads = tuple(MONTH_NAMES[month - 1][:3] for month in sorted(weather))
    unit = "litres" if system == "metric" else "gallons"
    return Section(f"Water by month, in {unit}", tuple(rows), heads, _LABEL)


def _minutes(need: MonthNeed) -> str:
    """Minutes of one watering and the days between."""
    return f"{need.minutes:.0f}/{need.days_between:g}" if need.waters else "-"


def _months(season: ZoneSeason, months: list[int], system: System) -> Row:
    cells = []
    for month in months:
        need = season.needs[month]
        cells.append(_shows(season, need, f"month {month}", _minutes(need), 6, system))
    return Row(zone_label(season.zone), tuple(cells))


def _shows(
    season: ZoneSeason, need: MonthNeed, column: str, text: str, width: int, system: System
) -> Cell:
    """A figure whose Enter shows how it came about."""
    month = MONTH_NAMES[need.month - 1]
    lines = [_step(step, system) for step in need.steps] if need.waters else [_NOTHING]
    shows = ShowSteps(f"{zone_label(season.zone)}, {month}", "\n".join(lines))
    at = CellRef("zone_watering", season.zone.id, column)
    return press_cell(shows, at, text, width, "Worked out from what is entered; ~ has a default.")


def _step(step: Step, system: System) -> str:
    """A step with its answer in the job's units; how it was worked out stays in inches."""
    if system == "metric" and step.unit in _METRIC:
        step = replace(step, value=step.value * MM_PER_IN, unit=_METRIC[step.unit])
    return step.words


def _new_plants(job: LoadedJob, season: ZoneSeason, system: System) -> Iterator[Row]:
    """The phases of a zone that was planted anew, with the run time where the month is known."""
    if season.new is None:
        return
    for first, last, phase in season.new.spans():
        weather, need = job_weather(job).get(first.month), None
        if season.water is not None and weather is not None:
            need = new_plants_need(season.water, weather, phase)
        texts = {
            "planted": season.new.kind,
            "from": first.isoformat(),
            "until": last.isoformat(),
            "times": f"{phase.times_a_day}",
            "every": f"{phase.every_days} d",
            "run": show(round(need.minutes, 1), MINUTES, system) if need is not None else "-",
            "cycles": _cycles(need) if need is not None else "-",
        }
        shows = ShowSteps(f"{zone_label(season.zone)}, new plants", _new_words(need, system))
        key, why = f"{season.zone.id} {phase.last_day}", "Day 1 is the day of planting."
        cells = [
            press_cell(shows, CellRef("zone_watering", key, at), text, 11, why)
            for at, text in texts.items()
        ]
        yield Row(zone_label(season.zone), tuple(cells))


def _new_words(need: MonthNeed | None, system: System) -> str:
    """How the minutes of new plants came about."""
    if need is None:
        return "Not checked: the zone's watering or the month's weather is not entered."
    return "\n".join([*(_step(step, system) for step in need.steps), ESTABLISHMENT_SOURCE])
