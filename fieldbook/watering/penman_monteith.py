"""Reference ET after Penman and Monteith: FAO Irrigation and Drainage Paper 56, equation 6.

ASCE-EWRI 2005 has the same form for the short reference. Every step is a public function, and
`PenmanMonteith` has them all, so that a figure can be followed. Pressures are in kPa.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fieldbook.watering import radiation


def air_pressure_kpa(elevation_m: float) -> float:
    """The air's pressure (equation 7)."""
    return 101.3 * math.pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26)


def psychrometric(pressure_kpa: float) -> float:
    """The psychrometric constant, kPa per deg C (equation 8)."""
    return 0.000665 * pressure_kpa


def saturation_kpa(air_c: float) -> float:
    """The vapour pressure of saturated air, e0 (equation 11)."""
    return 0.6108 * math.exp(17.27 * air_c / (air_c + 237.3))


def mean_saturation_kpa(high_c: float, low_c: float) -> float:
    """The mean vapour pressure of saturated air over a day, es (equation 12)."""
    return (saturation_kpa(high_c) + saturation_kpa(low_c)) / 2.0


def saturation_slope(air_c: float) -> float:
    """How steeply e0 rises, kPa per deg C (equation 13)."""
    return 4098.0 * saturation_kpa(air_c) / math.pow(air_c + 237.3, 2.0)


def vapour_from_bulbs(wet_c: float, dry_c: float, pressure_kpa: float) -> float:
    """The air's vapour pressure, ea, from a ventilated psychrometer (equation 15)."""
    return saturation_kpa(wet_c) - 0.000662 * pressure_kpa * (dry_c - wet_c)


def vapour_from_humidity(high_c: float, low_c: float, most_pct: float, least_pct: float) -> float:
    """The air's vapour pressure from the day's highest and lowest humidity (equation 17)."""
    at_low, at_high = saturation_kpa(low_c) * most_pct, saturation_kpa(high_c) * least_pct
    return (at_low + at_high) / 200.0


def vapour_from_mean(high_c: float, low_c: float, humidity_pct: float) -> float:
    """The air's vapour pressure from the mean humidity (equation 19)."""
    return humidity_pct / 100.0 * mean_saturation_kpa(high_c, low_c)


def wind_at_2_m(wind_m_s: float, height_m: float) -> float:
    """The wind 2 m above the grass, from one measured at another height (equation 47)."""
    return wind_m_s * 4.87 / math.log(67.8 * height_m - 5.42)


def soil_heat(before_c: float, after_c: float, *, two_months: bool = False) -> float:
    """The heat that goes into the ground in a month, G, MJ per m2 and day.

    From last month's mean temperature and this one's (equation 44), or from last month's and next
    month's (equation 43, `two_months`).
    """
    return (0.07 if two_months else 0.14) * (after_c - before_c)


@dataclass(frozen=True)
class Air:
    """The air over the grass on a day, or on the mean day of a month.

    `mean_c` is the mean temperature, (high + low) / 2 for None; `wind_m_s` is that at 2 m.
    """

    high_c: float
    low_c: float
    vapour_kpa: float
    wind_m_s: float
    mean_c: float | None = None

    @property
    def middle_c(self) -> float:
        """The mean temperature."""
        return (self.high_c + self.low_c) / 2.0 if self.mean_c is None else self.mean_c


@dataclass(frozen=True)
class Spot:
    """Where and when: latitude (south is negative), elevation, day of the year."""

    latitude_deg: float
    elevation_m: float
    day_of_year: int


@dataclass(frozen=True)
class PenmanMonteith:
    """Reference ET in mm a day, with each step that leads to it.

    Radiation is in MJ per m2 and day, pressures in kPa, `slope` and `psychrometric` in kPa per
    deg C. `radiation_mm` and `wind_mm` are the two terms of equation 6; `et_mm` is their sum.
    """

    pressure_kpa: float
    psychrometric: float
    slope: float
    saturated_kpa: float
    vapour_kpa: float
    outside: float
    daylight_h: float
    ground: float
    clear: float
    net_short: float
    net_long: float
    net: float
    soil: float
    radiation_mm: float
    wind_mm: float

    @property
    def et_mm(self) -> float:
        """Reference ET in mm a day, never below 0."""
        return max(self.radiation_mm + self.wind_mm, 0.0)


def penman_monteith(spot: Spot, air: Air, ground: float, soil: float = 0.0) -> PenmanMonteith:
    """Reference ET of a day, or of a month's mean day with its soil heat.

    `ground` is the sun's radiation on the ground, measured or from `radiation.on_ground`. A day's
    soil heat is taken as 0 (equation 42).
    """
    pressure_kpa = air_pressure_kpa(spot.elevation_m)
    gamma, slope = psychrometric(pressure_kpa), saturation_slope(air.middle_c)
    saturated_kpa = mean_saturation_kpa(air.high_c, air.low_c)
    outside = radiation.above_air(spot.latitude_deg, spot.day_of_year)
    clear = radiation.clear_sky(outside, spot.elevation_m)
    short = radiation.net_short(ground)
    long = radiation.net_long(air.high_c, air.low_c, air.vapour_kpa, ground, clear)
    below = slope + gamma * (1.0 + 0.34 * air.wind_m_s)
    drying = gamma * 900.0 / (air.middle_c + 273.0) * air.wind_m_s
    return PenmanMonteith(
        pressure_kpa=pressure_kpa,
        psychrometric=gamma,
        slope=slope,
        saturated_kpa=saturated_kpa,
        vapour_kpa=air.vapour_kpa,
        outside=outside,
        daylight_h=radiation.daylight_h(spot.latitude_deg, spot.day_of_year),
        ground=ground,
        clear=clear,
        net_short=short,
        net_long=long,
        net=short - long,
        soil=soil,
        radiation_mm=radiation.MJ_TO_MM * slope * (short - long - soil) / below,
        wind_mm=drying * (saturated_kpa - air.vapour_kpa) / below,
    )
