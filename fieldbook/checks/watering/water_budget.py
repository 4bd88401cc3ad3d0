"""The water of a year against the ordinance that was chosen, and of the peak month by the EPA."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.watering.weather_rows import job_weather
from fieldbook.checks.watering.zone_seasons import ZoneSeason, zone_seasons
from fieldbook.records.column_values import amount
from fieldbook.records.ids import once_id, weather_month_id, zone_watering_id
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.trade.plants_and_soils import AllowanceRow, plants_and_soils
from fieldbook.watering.budgets import (
    MOST_RAIN_PART,
    PeakBudget,
    Planting,
    ordinance_gal,
    ordinance_use_gal,
    peak_budget,
)
from fieldbook.watering.monthly_weather import MONTH_NAMES

EFFICIENCY = 0.75
DRIP_EFFICIENCY = 0.81
"""Irrigation efficiencies of the California ordinance's worksheet, sprinklers and drip."""
YEAR = range(1, 13)


@dataclass(frozen=True)
class WaterBudget:
    """A year's water in gallons.

    allowed_gal: what the ordinance allows; None while one is not chosen. used_gal: what the
    plantings use by its worksheet. planned_gal: what the schedule gives them, by zone.
    missing: what must be entered before the year can be summed up.
    """

    allowance: AllowanceRow | None = None
    allowed_gal: float | None = None
    used_gal: float | None = None
    planned_gal: float | None = None
    peak: PeakBudget | None = None
    missing: tuple[Missing, ...] = ()

    @property
    def exceeded(self) -> bool:
        """Whether the plantings use more than is allowed."""
        if self.allowed_gal is None or self.used_gal is None:
            return False
        return self.used_gal > self.allowed_gal


def year_gallons(season: ZoneSeason, job: LoadedJob) -> float | None:
    """What a zone is given in a year; None while a month or its flow is not known."""
    months = job_weather(job)
    gallons = [need.gallons_in(months[month].days) for month, need in season.needs.items()]
    if len(gallons) < len(YEAR) or None in gallons:
        return None
    return sum(one for one in gallons if one is not None)


@once_per_job
def water_budget(job: LoadedJob) -> WaterBudget:
    """The budget of a job, as far as it can be worked out."""
    site = job.watering_site
    allowance = plants_and_soils().allowances.get((site.allowance if site else None) or "")
    peak, missing = _peak(job), _lacks(job)
    if missing:
        return WaterBudget(allowance, peak=peak, missing=missing)
    months, seasons = job_weather(job), zone_seasons(job)
    et_in = sum(months[month].et_in_day * months[month].days for month in YEAR)
    planned = [year_gallons(season, job) for season in seasons]
    known = [gallons for gallons in planned if gallons is not None]
    return WaterBudget(
        allowance,
        _allowed_gal(job, allowance, et_in) if allowance is not None else None,
        sum(_used_gal(job, season, et_in) for season in seasons),
        sum(known) if len(known) == len(planned) else None,
        peak,
    )


def _allowed_gal(job: LoadedJob, allowance: AllowanceRow, et_in: float) -> float:
    """What the ordinance allows in a year."""
    site = job.watering_site
    rain_in = sum(amount(row, "rain_in") or 0.0 for row in job.weather_months)
    off_in = MOST_RAIN_PART * rain_in if site is not None and site.rain_allowed else 0.0
    special_ft2 = amount(site, "special_ft2") or 0.0
    return ordinance_gal(et_in, allowance.factor, landscape_ft2(job), special_ft2, off_in)


def landscape_ft2(job: LoadedJob) -> float:
    """The ground of the budget: as entered, else the zones' together."""
    entered = amount(job.watering_site, "landscape_ft2")
    return entered if entered is not None else sum(_area_ft2(job, one.id) for one in job.zones)


def _area_ft2(job: LoadedJob, zone_id: str) -> float:
    return amount(job.watering_of(zone_id), "area_ft2") or 0.0


def _mean_factor(season: ZoneSeason) -> float:
    months = season.water.plants.months if season.water is not None else (0.0,)
    return sum(months) / len(months)


def _used_gal(job: LoadedJob, season: ZoneSeason, et_in: float) -> float:
    """What a zone's plants use in a year by the ordinance's worksheet."""
    even = DRIP_EFFICIENCY if season.zone.head_kind == "drip" else EFFICIENCY
    area_ft2 = _area_ft2(job, season.zone.id)
    return ordinance_use_gal(et_in, _mean_factor(season), even, area_ft2)


def _lacks(job: LoadedJob) -> tuple[Missing, ...]:
    """What is missing for a year: each month's ET, each zone's watering and its area."""
    found = []
    known = job_weather(job)
    first = next((month for month in YEAR if month not in known), None)
    if first is not None:
        at = CellRef("weather_month", weather_month_id(job.job.id, first), "et_in")
        found.append(Missing(f"the reference ET of {MONTH_NAMES[first - 1]}", at))
    for season in zone_seasons(job):
        found += season.missing
        if not season.missing and not _area_ft2(job, season.zone.id):
            at = CellRef("zone_watering", zone_watering_id(season.zone.id), "area_ft2")
            found.append(Missing("the area of a zone", at))
    return tuple({one.at: one for one in found}.values())


def _peak(job: LoadedJob) -> PeakBudget | None:
    """The EPA's budget of the month with the most ET; None while a zone is not known, or dry."""
    months, seasons = job_weather(job), zone_seasons(job)
    if not months or not seasons or any(season.missing for season in seasons):
        return None
    # Where the driest cans stayed dry no amount of water is enough.
    if any(season.evenness.low_quarter.value <= 0.0 for season in seasons):
        return None
    month = max(months.values(), key=lambda one: one.et_in_day)
    row = next((one for one in job.weather_months if one.month == month.month), None)
    plantings = [
        Planting(
            _area_ft2(job, season.zone.id),
            season.water.plants.factor(month.month),
            season.evenness.low_quarter.value,
        )
        for season in seasons
        if season.water is not None
    ]
    rain_in = amount(row, "rain_in") or 0.0
    return peak_budget(month.et_in_day * month.days, rain_in, landscape_ft2(job), plantings)


def allowance_cell(job: LoadedJob) -> CellRef:
    """Where the ordinance is chosen."""
    row_id = job.watering_site.id if job.watering_site else once_id(job.job.id, "watering_site")
    return CellRef("watering_site", row_id, "allowance")
