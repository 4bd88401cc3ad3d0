"""The water of a season by month and week: what the programmes give, what the zones need."""

from __future__ import annotations

import calendar
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from fieldbook.checks.watering.controller.job_programmes import calendar_of, controllers_of
from fieldbook.checks.watering.water_budget import water_budget
from fieldbook.checks.watering.zone_seasons import zone_seasons
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.watering.programmes.season_calendar import CalendarDay


@dataclass(frozen=True)
class MonthWater:
    """One month's gallons; `needed` is None while some zone's need or flow is not known."""

    year: int
    month: int
    given: float
    needed: float | None

    @property
    def words(self) -> str:
        """Such as "June 2027: 9,600 gal, 8,900 needed"."""
        need = "" if self.needed is None else f", {self.needed:,.0f} needed"
        return f"{calendar.month_name[self.month]} {self.year}: {self.given:,.0f} gal{need}"


def season_days(job: LoadedJob, first: date, last: date) -> Iterator[tuple[str, CalendarDay]]:
    """Each day of a season with the name of its controller, controller after controller."""
    for controller_id, name in controllers_of(job):
        for day in calendar_of(job, controller_id, first, last).days:
            yield name, day


def month_waters(job: LoadedJob, first: date, last: date) -> list[MonthWater]:
    """The gallons of each month of a season."""
    given: dict[tuple[int, int], float] = defaultdict(float)
    for _, day in season_days(job, first, last):
        given[day.day.year, day.day.month] += day.gallons or 0.0
    return [
        MonthWater(year, month, gallons, _needed(job, year, month))
        for (year, month), gallons in sorted(given.items())
    ]


def _needed(job: LoadedJob, year: int, month: int) -> float | None:
    days = calendar.monthrange(year, month)[1]
    found = 0.0
    for season in zone_seasons(job):
        need = season.needs.get(month)
        gallons = need.gallons_in(days) if need is not None else None
        if gallons is None:
            return None
        found += gallons
    return found


def week_waters(job: LoadedJob, first: date, last: date) -> dict[str, float]:
    """The gallons of each ISO week, such as "2027-W23"."""
    found: dict[str, float] = defaultdict(float)
    for _, day in season_days(job, first, last):
        year, week, _weekday = day.day.isocalendar()
        found[f"{year}-W{week:02}"] += day.gallons or 0.0
    return dict(sorted(found.items()))


def budget_words(job: LoadedJob, months: list[MonthWater]) -> str:
    """The season's water against the year's allowance; an empty text where none was chosen."""
    budget = water_budget(job)
    if budget.allowed_gal is None or budget.allowance is None:
        return ""
    given = sum(month.given for month in months)
    side = "within" if given <= budget.allowed_gal else "over"
    return (
        f"Together {given:,.0f} gal, {side} the {budget.allowed_gal:,.0f} gal that "
        f"{budget.allowance.name} allows a year."
    )
