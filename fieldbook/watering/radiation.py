"""Sun and sky over a place on a day, after FAO Irrigation and Drainage Paper 56, chapter 3.

Angles are in radians, energy in MJ per m2 and day, temperatures in deg C.
"""

from __future__ import annotations

import math

MJ_TO_MM = 0.408
"""mm of water that one MJ per m2 evaporates (FAO-56, equation 20)."""
MID_MONTH_DAYS = (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)
"""The day of the year of each month's 15th, in a year that is no leap year."""
_STEFAN_BOLTZMANN = 4.903e-9
_KELVIN = 273.16
_REFLECTED = 0.23
"""The part of the sun's light that the reference grass reflects."""


def earth_sun(day_of_year: int) -> float:
    """The inverse relative distance of earth and sun, dr (equation 23)."""
    return 1.0 + 0.033 * math.cos(2.0 * math.pi * day_of_year / 365.0)


def declination(day_of_year: int) -> float:
    """The sun's declination (equation 24)."""
    return 0.409 * math.sin(2.0 * math.pi * day_of_year / 365.0 - 1.39)


def sunset_angle(latitude_deg: float, day_of_year: int) -> float:
    """The hour angle of sunset, ws (equation 25).

    Beyond the polar circles the sun may not set or not rise: the angle is then pi or 0.
    """
    product = -math.tan(math.radians(latitude_deg)) * math.tan(declination(day_of_year))
    return math.acos(min(max(product, -1.0), 1.0))


def daylight_h(latitude_deg: float, day_of_year: int) -> float:
    """Hours of daylight, N (equation 34)."""
    return 24.0 / math.pi * sunset_angle(latitude_deg, day_of_year)


def above_air(latitude_deg: float, day_of_year: int) -> float:
    """The sun's radiation outside the atmosphere, Ra (equation 21)."""
    latitude, sun = math.radians(latitude_deg), declination(day_of_year)
    angle = sunset_angle(latitude_deg, day_of_year)
    upright = angle * math.sin(latitude) * math.sin(sun)
    slanting = math.cos(latitude) * math.cos(sun) * math.sin(angle)
    # 24 x 60 / pi times the solar constant of 0.0820 MJ per m2 and minute.
    return 37.586 * earth_sun(day_of_year) * (upright + slanting)


def on_ground(outside: float, sun_h: float, most_sun_h: float) -> float:
    """The sun's radiation on the ground, Rs, from the hours of sun (equation 35)."""
    part = sun_h / most_sun_h if most_sun_h > 0.0 else 0.0
    return (0.25 + 0.5 * part) * outside


def from_temperatures(outside: float, high_c: float, low_c: float, coast: float = 0.16) -> float:
    """The radiation on the ground from the day's temperatures (equation 50).

    `coast` is 0.16 inland and 0.19 by the sea.
    """
    return coast * math.sqrt(max(high_c - low_c, 0.0)) * outside


def clear_sky(outside: float, elevation_m: float) -> float:
    """The radiation on the ground under a clear sky, Rso (equation 37)."""
    return (0.75 + 0.00002 * elevation_m) * outside


def net_short(ground: float) -> float:
    """What the grass takes in of the sun's radiation, Rns (equation 38)."""
    return (1.0 - _REFLECTED) * ground


def net_long(high_c: float, low_c: float, vapour_kpa: float, ground: float, clear: float) -> float:
    """What the grass gives off as heat, Rnl (equation 39)."""
    fourth_powers = ((high_c + _KELVIN) ** 4 + (low_c + _KELVIN) ** 4) / 2.0
    damp = 0.34 - 0.14 * math.sqrt(vapour_kpa)
    cloud = 1.35 * min(ground / clear if clear > 0.0 else 1.0, 1.0) - 0.35
    return _STEFAN_BOLTZMANN * fourth_powers * damp * cloud
