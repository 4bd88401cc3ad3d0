"""The reference ET and rain of each month: typed, or worked out from what was typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldbook.watering import radiation
from fieldbook.watering.hargreaves import hargreaves_in, to_c
from fieldbook.watering.penman_monteith import (
    Air,
    PenmanMonteith,
    Spot,
    penman_monteith,
    soil_heat,
    vapour_from_mean,
    wind_at_2_m,
)

MONTH_DAYS = (31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of each month, February in the mean of leap years."""
MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
WIND_HEIGHT_M = 10.0
"""Weather services measure wind at 10 m."""
_M_S_PER_MPH = 0.44704
_M_PER_FT = 0.3048


@dataclass(frozen=True)
class TypedMonth:
    """What was typed of a month, 1 to 12. Temperatures are means of daily highs and lows in deg F.

    et_in, rain_in: inches in the whole month. humidity_pct: mean. wind_mph: mean at 10 m. sun_h:
    mean hours of sun a day.
    """

    month: int
    et_in: float | None = None
    high_f: float | None = None
    low_f: float | None = None
    rain_in: float | None = None
    humidity_pct: float | None = None
    wind_mph: float | None = None
    sun_h: float | None = None

    @property
    def mean_c(self) -> float | None:
        """The mean temperature in deg C, where both are typed."""
        if self.high_f is None or self.low_f is None:
            return None
        return to_c((self.high_f + self.low_f) / 2.0)


@dataclass(frozen=True)
class WeatherSite:
    """Where the property is: degrees north, feet up, the part of rain that plants use.

    et_source: where the typed figures of ET come from, in words.
    """

    latitude_deg: float | None = None
    elevation_ft: float = 0.0
    rain_part: float = 0.25
    et_source: str = ""


@dataclass(frozen=True)
class MonthWeather:
    """Reference ET and the rain that counts, inches a day, and how the ET came about.

    `steps` has the steps of Penman-Monteith where that was used.
    """

    month: int
    et_in_day: float
    rain_in_day: float
    words: str
    steps: PenmanMonteith | None = None

    @property
    def days(self) -> float:
        """Days of the month."""
        return MONTH_DAYS[self.month - 1]


def weather_of(site: WeatherSite, typed: Sequence[TypedMonth]) -> Mapping[int, MonthWeather]:
    """The months whose ET is typed or can be worked out, by number.

    Typed ET wins; then Penman-Monteith, where humidity, wind and sun are typed beside the
    temperatures; then Hargreaves from temperatures and latitude.
    """
    by_month = {one.month: one for one in typed}
    found = {}
    for month, one in sorted(by_month.items()):
        answer = _month_et(site, one, by_month)
        if answer is not None:
            et_in_day, words, steps = answer
            rain = site.rain_part * (one.rain_in or 0.0) / MONTH_DAYS[month - 1]
            found[month] = MonthWeather(month, et_in_day, rain, words, steps)
    return found


_Answer = tuple[float, str, PenmanMonteith | None]


def _month_et(
    site: WeatherSite, one: TypedMonth, by_month: Mapping[int, TypedMonth]
) -> _Answer | None:
    """Inches a day, the words for how they came about, the steps."""
    if one.et_in is not None:
        source = f" ({site.et_source})" if site.et_source else ""
        return one.et_in / MONTH_DAYS[one.month - 1], f"typed{source}", None
    if site.latitude_deg is None or one.high_f is None or one.low_f is None:
        return None
    before = by_month.get(one.month - 1 or 12)
    steps = monthly_penman(site.latitude_deg, site.elevation_ft, one, before)
    if steps is not None:
        return steps.et_mm / 25.4, "Penman-Monteith, FAO-56 equation 6", steps
    day = radiation.MID_MONTH_DAYS[one.month - 1]
    et = hargreaves_in(one.high_f, max(one.low_f, -459.0), site.latitude_deg, day)
    words = f"Hargreaves from {one.high_f:g} and {one.low_f:g} F at {site.latitude_deg:g} deg"
    return et, words, None


def monthly_penman(
    latitude_deg: float, elevation_ft: float, one: TypedMonth, before: TypedMonth | None = None
) -> PenmanMonteith | None:
    """Penman-Monteith of a month's mean day; None while a figure of it is not typed.

    The sun may be left out: its radiation then comes from the temperatures. `before` is the month
    before, for the heat that goes into the ground; without its temperatures that counts as 0.
    """
    figures = (one.high_f, one.low_f, one.humidity_pct, one.wind_mph)
    if None in figures:
        return None
    high_f, low_f, humidity, wind_mph = (float(figure or 0.0) for figure in figures)
    day = radiation.MID_MONTH_DAYS[one.month - 1]
    spot = Spot(latitude_deg, elevation_ft * _M_PER_FT, day)
    wind = wind_at_2_m(wind_mph * _M_S_PER_MPH, WIND_HEIGHT_M)
    high_c, low_c = to_c(high_f), to_c(low_f)
    air = Air(high_c, low_c, vapour_from_mean(high_c, low_c, humidity), wind)
    ground = _on_ground(spot, one.sun_h, high_c, low_c)
    before_c = before.mean_c if before is not None else None
    heat = soil_heat(before_c, air.middle_c) if before_c is not None else 0.0
    return penman_monteith(spot, air, ground, heat)


def _on_ground(spot: Spot, sun_h: float | None, high_c: float, low_c: float) -> float:
    """The radiation on the ground: from the hours of sun, else from the temperatures."""
    outside = radiation.above_air(spot.latitude_deg, spot.day_of_year)
    if sun_h is None:
        return radiation.from_temperatures(outside, high_c, low_c)
    most_h = radiation.daylight_h(spot.latitude_deg, spot.day_of_year)
    return radiation.on_ground(outside, min(sun_h, most_h), most_h)
