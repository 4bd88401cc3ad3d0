"""What a zone needs in a month: days between waterings, minutes, cycles, soak, gallons, and why.

needs = season_needs(zone, weather)            by month, of the months whose weather is known
needs[7].days_between, needs[7].cycles.count, needs[7].cycles.whole_min
water_for_days(zone, weather[7], 3.5)          where a rule allows two days a week
new_plants_need(zone, weather[7], phase)       while plants are not established
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldbook.trade.plants_and_soils import PhaseRow
from fieldbook.watering.cycle_soak import Cycles, Intake, cut_in_cycles
from fieldbook.watering.figure import Figure, Step
from fieldbook.watering.monthly_weather import MONTH_NAMES, MonthWeather
from fieldbook.watering.plant_water import PlantWater
from fieldbook.watering.root_zone import days_between


@dataclass(frozen=True)
class ZoneWater:
    """All that is known of a zone's watering.

    key: the zone's id; name: what a crew calls it. rate: in/h. multiplier: run time over that of a
    perfectly even zone. usable: inches that the plants may use between waterings (RAW). intake is
    None where the soil is not known. runoff_min: minutes until water ran off, timed on the spot.
    gpm: while it runs.
    """

    key: str
    name: str
    rate: Figure
    multiplier: Figure
    plants: PlantWater
    usable: Figure
    intake: Intake | None = None
    runoff_min: float | None = None
    gpm: float | None = None


@dataclass(frozen=True)
class MonthNeed:
    """What a zone needs in a month.

    need_in_day: inches a day from sprinklers. days_between: from a watering to the next, 0 where
    nothing is needed. depth_in: inches of one watering. minutes: of one watering, all cycles
    together. beyond_soil_in: inches of it that the roots' soil can't hold, where the days between
    are set by something else than the soil. gallons: of one watering; None while the flow is not
    known. steps: how the minutes came about, in order.
    """

    zone: str
    month: int
    need_in_day: float
    days_between: float
    depth_in: float
    minutes: float
    cycles: Cycles
    beyond_soil_in: float = 0.0
    gallons: float | None = None
    steps: tuple[Step, ...] = ()

    @property
    def waters(self) -> bool:
        """Whether anything is needed."""
        return self.minutes > 0.0

    @property
    def minutes_week(self) -> float:
        """Minutes of watering in a week."""
        return self.minutes * 7.0 / self.days_between if self.waters else 0.0

    def gallons_in(self, days: float) -> float | None:
        """Gallons in so many days; None while the flow is not known."""
        if not self.waters:
            return 0.0
        return self.gallons * days / self.days_between if self.gallons is not None else None


def season_needs(zone: ZoneWater, weather: Mapping[int, MonthWeather]) -> Mapping[int, MonthNeed]:
    """What a zone needs in each month whose weather is known."""
    return {month: month_need(zone, one) for month, one in sorted(weather.items())}


def month_need(zone: ZoneWater, weather: MonthWeather) -> MonthNeed:
    """What a zone needs in a month, as often as its soil asks for."""
    need = need_in_day(zone, weather)
    return water_for_days(zone, weather, days_between(zone.usable.value, need))


def need_in_day(zone: ZoneWater, weather: MonthWeather) -> float:
    """Inches a day that the sprinklers must give: what the plants use less the rain that counts."""
    used = weather.et_in_day * zone.plants.factor(weather.month)
    return max(used - weather.rain_in_day, 0.0)


def water_for_days(zone: ZoneWater, weather: MonthWeather, days: float) -> MonthNeed:
    """What a zone needs in a month where it is watered every `days` days, as a rule may ask.

    `days` may be a mean, such as 3.5 for two days a week; 0 gives no watering.
    """
    need = need_in_day(zone, weather)
    depth = need * days
    minutes = 60.0 * depth / zone.rate.value * zone.multiplier.value
    cycles = cut_in_cycles(minutes, zone.rate.value, zone.intake, zone.runoff_min)
    return MonthNeed(
        zone.key,
        weather.month,
        need,
        days,
        depth,
        minutes,
        cycles,
        beyond_soil_in=max(depth - zone.usable.value, 0.0) if days > 1.0 else 0.0,
        gallons=minutes * zone.gpm if zone.gpm is not None else None,
        steps=(*_need_steps(zone, weather, need), *_time_steps(zone, days, depth, cycles)),
    )


def new_plants_need(zone: ZoneWater, weather: MonthWeather, phase: PhaseRow) -> MonthNeed:
    """One watering of new plants in a phase of their establishment.

    They use the phase's part of reference ET, whatever they use later; the day's need is divided
    among the day's waterings.
    """
    need = max(weather.et_in_day * phase.factor - weather.rain_in_day, 0.0)
    depth = need * phase.every_days / phase.times_a_day
    minutes = 60.0 * depth / zone.rate.value * zone.multiplier.value
    cycles = cut_in_cycles(minutes, zone.rate.value, zone.intake, zone.runoff_min)
    return MonthNeed(
        zone.key,
        weather.month,
        need,
        float(phase.every_days),
        depth,
        minutes,
        cycles,
        gallons=minutes * zone.gpm if zone.gpm is not None else None,
        steps=(
            Step("Reference ET", weather.et_in_day, "in/day", weather.words),
            Step("Factor until day", phase.last_day, "", f"{phase.factor:g} of reference ET"),
            *_time_steps(zone, phase.every_days / phase.times_a_day, depth, cycles),
        ),
    )


def _need_steps(zone: ZoneWater, weather: MonthWeather, need: float) -> tuple[Step, ...]:
    """From the weather to the inches a day."""
    factor = zone.plants.factor(weather.month)
    et, rain = weather.et_in_day, weather.rain_in_day
    return (
        Step("Reference ET", et, "in/day", f"{MONTH_NAMES[weather.month - 1]}, {weather.words}"),
        Step("Plant factor", factor, "", zone.plants.words),
        Step("Need", need, "in/day", f"{et:.4f} x {factor:.2f} - {rain:.4f} in, rain that counts"),
        Step("Soil holds for use", zone.usable.value, "in", zone.usable.words),
    )


def _time_steps(zone: ZoneWater, days: float, depth: float, cycles: Cycles) -> tuple[Step, ...]:
    """From the inches of one watering to its cycles."""
    rate, more = zone.rate, zone.multiplier
    minutes = cycles.count * cycles.cycle_min
    steps = [
        Step(
            "Days between", days, "days", "as many as the soil's water lasts, or as a rule allows"
        ),
        Step("One watering", depth, "in"),
        Step("Rate", rate.value, "in/h", rate.words),
        Step("Multiplier", more.value, "", more.words),
        Step("Run time", minutes, "min", f"60 x {depth:.3f} / {rate.value:.3f} x {more.value:.3f}"),
    ]
    if cycles.limit_min is not None:
        by = "timed on the spot" if zone.runoff_min else zone.intake.source if zone.intake else ""
        steps.append(Step("Run-off after", cycles.limit_min, "min", by))
    if cycles.count > 1:
        steps.append(Step("Cycles", cycles.count, "", f"of {cycles.cycle_min:.1f} min"))
        steps.append(Step("Soak between", cycles.soak_min, "min"))
    return tuple(steps)


def seasonal_percent(needs: Mapping[int, MonthNeed]) -> Mapping[int, int]:
    """Each month's need of a zone as a percentage of its greatest month's."""
    return property_percent([needs])


def property_percent(zones: Sequence[Mapping[int, MonthNeed]]) -> Mapping[int, int]:
    """Each month's minutes of all zones as a percentage of the greatest month's.

    A month counts where every zone that is known at all has it.
    """
    known = [needs for needs in zones if needs]
    months = set.intersection(*(set(needs) for needs in known)) if known else set()
    minutes = {month: sum(needs[month].minutes_week for needs in known) for month in months}
    most = max(minutes.values(), default=0.0)
    return {month: round(100.0 * one / most) if most > 0.0 else 0 for month, one in minutes.items()}


SEASONS: Mapping[str, tuple[int, ...]] = {
    "winter": (12, 1, 2),
    "spring": (3, 4, 5),
    "summer": (6, 7, 8),
    "autumn": (9, 10, 11),
}


def four_seasons(needs: Mapping[int, MonthNeed]) -> Mapping[str, MonthNeed]:
    """For each season its month that needs most; seasons without a known month are left out."""
    found = {}
    for season, months in SEASONS.items():
        known = [needs[month] for month in months if month in needs]
        if known:
            found[season] = max(known, key=lambda need: need.need_in_day)
    return found
