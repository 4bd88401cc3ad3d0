"""Reference ET against the examples of FAO Irrigation and Drainage Paper 56 and other programs.

The examples of the paper are as PyETo's and pyet's own tests cite them; ASCE figures as refet's do.
pyet 1.5.0 gave 3.8801 mm for example 18; it is not run here, since it needs pandas and xarray.
"""

from __future__ import annotations

import math

import pytest
import refet

from fieldbook.watering import penman_monteith as pm
from fieldbook.watering import radiation as sun
from fieldbook.watering.hargreaves import hargreaves_in, hargreaves_mm

UCCLE = pm.Spot(50.8, 100.0, 187)
BANGKOK = pm.Spot(13.0 + 44.0 / 60.0, 2.0, 105)


@pytest.mark.parametrize(
    ("elevation_m", "kpa"), [(1800.0, 81.8), (1200.0, 87.9), (1462.4, 85.17), (100.0, 100.1)]
)
def test_air_pressure_is_that_of_example_2(elevation_m: float, kpa: float) -> None:
    assert pm.air_pressure_kpa(elevation_m) == pytest.approx(kpa, abs=0.05)


@pytest.mark.parametrize(
    ("air_c", "kpa"), [(24.5, 3.075), (19.75, 2.3), (19.5, 2.267), (15.0, 1.705)]
)
def test_saturated_vapour_is_that_of_example_3(air_c: float, kpa: float) -> None:
    assert pm.saturation_kpa(air_c) == pytest.approx(kpa, abs=0.003)


def test_vapour_of_examples_3_to_5() -> None:
    assert pm.mean_saturation_kpa(24.5, 15.0) == pytest.approx(2.39, abs=0.001)
    assert pm.vapour_from_bulbs(19.5, 25.6, 87.9) == pytest.approx(1.91, abs=0.003)
    assert pm.vapour_from_humidity(25.0, 18.0, 82.0, 54.0) == pytest.approx(1.7015, abs=0.001)
    assert pm.vapour_from_mean(25.0, 18.0, 68.0) == pytest.approx(1.78, abs=0.002)


@pytest.mark.parametrize(
    ("air_c", "slope"), [(21.65, 0.1585), (22.9, 0.1692), (26.0, 0.199), (24.2, 0.1809)]
)
def test_slope_of_vapour_is_that_of_asce_table_c_3(air_c: float, slope: float) -> None:
    assert pm.saturation_slope(air_c) == pytest.approx(slope, abs=0.0005)


def test_sun_of_examples_8_and_9() -> None:
    day, south = 246, -20.0
    assert sun.earth_sun(day) == pytest.approx(0.985, abs=0.0005)
    assert sun.declination(day) == pytest.approx(0.120, abs=0.0005)
    assert sun.sunset_angle(south, day) == pytest.approx(1.527, abs=0.001)
    assert sun.above_air(south, day) == pytest.approx(32.2, abs=0.05)
    assert sun.daylight_h(south, day) == pytest.approx(11.666, abs=0.001)


def test_radiation_of_examples_10_11_and_15() -> None:
    assert sun.on_ground(25.1, 7.1, 10.9) == pytest.approx(14.45, abs=0.02)
    assert sun.above_air(-22.9, 135) == pytest.approx(25.1, abs=0.05)
    assert sun.daylight_h(-22.9, 135) == pytest.approx(10.9, abs=0.05)
    assert sun.net_long(25.1, 19.1, 2.1, 14.5, 18.8) == pytest.approx(3.534, abs=0.02)
    assert sun.from_temperatures(40.6, 26.6, 14.8) == pytest.approx(22.3, abs=0.05)


def test_net_radiation_of_example_12_is_what_its_own_figures_give() -> None:
    # The paper prints 11.1 for Rs 14.5; 0.77 x 14.5 is 11.165.
    assert sun.net_short(14.5) == pytest.approx(11.165, abs=0.0005)


def test_soil_heat_and_wind_of_examples_13_and_14() -> None:
    assert pm.soil_heat(14.1, 18.8, two_months=True) == pytest.approx(0.33, abs=0.002)
    assert pm.wind_at_2_m(3.2, 10.0) == pytest.approx(2.393, abs=0.001)


def test_penman_monteith_of_a_month_is_example_17() -> None:
    outside = sun.above_air(BANGKOK.latitude_deg, BANGKOK.day_of_year)
    longest = sun.daylight_h(BANGKOK.latitude_deg, BANGKOK.day_of_year)
    ground = sun.on_ground(outside, 8.5, longest)
    air = pm.Air(34.8, 25.6, 2.85, 2.0, mean_c=30.2)
    steps = pm.penman_monteith(BANGKOK, air, ground, pm.soil_heat(29.2, 30.2))
    assert steps.et_mm == pytest.approx(5.72, abs=0.01)
    assert steps.pressure_kpa == pytest.approx(101.276, abs=0.001)
    assert steps.psychrometric == pytest.approx(0.06735, abs=0.00001)
    assert steps.slope == pytest.approx(0.2458, abs=0.0002)
    assert steps.saturated_kpa == pytest.approx(4.4218, abs=0.0005)
    assert (steps.outside, steps.daylight_h) == pytest.approx((38.058, 12.313), abs=0.002)
    assert (steps.ground, steps.clear) == pytest.approx((22.651, 28.545), abs=0.002)
    assert (steps.net_short, steps.net_long) == pytest.approx((17.441, 3.109), abs=0.005)
    assert steps.net == pytest.approx(14.333, abs=0.005)
    assert steps.soil == pytest.approx(0.14)


def uccle() -> pm.PenmanMonteith:
    vapour = pm.vapour_from_humidity(21.5, 12.3, 84.0, 63.0)
    air = pm.Air(21.5, 12.3, vapour, pm.wind_at_2_m(10.0 / 3.6, 10.0))
    outside = sun.above_air(UCCLE.latitude_deg, UCCLE.day_of_year)
    longest = sun.daylight_h(UCCLE.latitude_deg, UCCLE.day_of_year)
    return pm.penman_monteith(UCCLE, air, sun.on_ground(outside, 9.25, longest))


def test_penman_monteith_of_a_day_is_example_18() -> None:
    steps = uccle()
    assert steps.et_mm == pytest.approx(3.9, abs=0.05)
    assert steps.et_mm == pytest.approx(3.880, abs=0.005)
    assert (steps.radiation_mm, steps.wind_mm) == pytest.approx((2.807, 1.073), abs=0.003)
    assert steps.vapour_kpa == pytest.approx(1.409, abs=0.001)
    assert (steps.ground, steps.daylight_h) == pytest.approx((22.07, 16.1), abs=0.02)
    assert steps.ground / steps.clear == pytest.approx(0.71434, abs=0.0005)


def test_penman_monteith_is_that_of_pyet_and_refet_for_example_18() -> None:
    pyet_1_5_0 = 3.8801
    steps = uccle()
    other = refet.Daily(
        tmin=12.3, tmax=21.5, ea=steps.vapour_kpa, rs=steps.ground, uz=10.0 / 3.6, zw=10.0,
        elev=100.0, lat=50.8, doy=187, method="asce",
    )  # fmt: skip
    assert steps.et_mm == pytest.approx(pyet_1_5_0, abs=0.001)
    assert steps.et_mm == pytest.approx(float(other.eto()[0]), abs=0.001)


@pytest.mark.parametrize("latitude", [25.0, 33.5, 47.6, -35.0])
@pytest.mark.parametrize("day", [15, 105, 196, 319])
def test_penman_monteith_is_that_of_refet_elsewhere(latitude: float, day: int) -> None:
    high_c, low_c, vapour, wind, metres = 29.0, 14.0, 1.2, 1.8, 300.0
    spot = pm.Spot(latitude, metres, day)
    ground = sun.from_temperatures(sun.above_air(latitude, day), high_c, low_c)
    own = pm.penman_monteith(spot, pm.Air(high_c, low_c, vapour, wind), ground).et_mm
    other = refet.Daily(
        tmin=low_c, tmax=high_c, ea=vapour, rs=ground, uz=wind, zw=2.0, elev=metres,
        lat=latitude, doy=day, method="asce",
    )  # fmt: skip
    assert own == pytest.approx(float(other.eto()[0]), rel=0.003)


def test_penman_monteith_at_fallon_nevada_is_that_of_refets_own_test() -> None:
    spot = pm.Spot(39.4575, 1208.5, 182)
    wind = pm.wind_at_2_m(2.145792, 3.0)
    steps = pm.penman_monteith(spot, pm.Air(39.333, 19.25, 1.22067, wind), 28.22196)
    assert wind == pytest.approx(1.97611, abs=0.0001)
    assert steps.et_mm == pytest.approx(7.998, abs=0.01)


def test_hargreaves_is_example_20_and_pyetos_test() -> None:
    lyon = sun.above_air(45.0 + 43.0 / 60.0, 196)
    assert lyon == pytest.approx(40.55, abs=0.05)
    assert hargreaves_mm(26.6, 14.8, lyon) == pytest.approx(5.0, abs=0.05)
    assert hargreaves_mm(26.6, 14.8, lyon) == pytest.approx(5.033, abs=0.003)
    assert hargreaves_mm(38.0, 28.0, 38.93715, mean_c=35.0) == pytest.approx(6.1, abs=0.005)


def test_penman_monteith_with_missing_data_is_example_20() -> None:
    """Its 4.6 mm is from memory: dew at the low, 2 m/s of wind, the sun from temperatures."""
    spot = pm.Spot(45.0 + 43.0 / 60.0, 200.0, 196)
    ground = sun.from_temperatures(sun.above_air(spot.latitude_deg, 196), 26.6, 14.8)
    air = pm.Air(26.6, 14.8, pm.saturation_kpa(14.8), 2.0)
    assert pm.penman_monteith(spot, air, ground).et_mm == pytest.approx(4.560, abs=0.005)


def test_hargreaves_takes_fahrenheit_and_gives_inches() -> None:
    assert hargreaves_in(90.0, 62.0, 40.0, 196) == pytest.approx(0.251, abs=0.001)


ABOVE_AIR = {
    25: (24.0, 28.3, 33.2, 37.5, 39.8, 40.5, 40.0, 38.3, 34.7, 29.7, 25.0, 22.7),
    40: (15.0, 20.4, 27.2, 34.7, 39.7, 41.8, 40.8, 36.7, 29.9, 22.5, 16.3, 13.6),
    50: (8.9, 14.4, 22.2, 31.5, 38.5, 41.7, 40.2, 34.3, 25.6, 16.8, 10.2, 7.5),
}


@pytest.mark.parametrize("latitude", ABOVE_AIR)
def test_radiation_above_the_air_by_month_is_that_of_table_2_6(latitude: int) -> None:
    own = [sun.above_air(latitude, day) for day in sun.MID_MONTH_DAYS]
    assert own == pytest.approx(ABOVE_AIR[latitude], abs=0.1)


def test_days_at_the_equator_have_12_hours_and_poles_have_all_or_none() -> None:
    assert {round(sun.daylight_h(0.0, day), 9) for day in range(1, 367)} == {12.0}
    assert sun.daylight_h(80.0, 172) == 24.0
    assert sun.daylight_h(80.0, 355) == 0.0
    assert sun.above_air(80.0, 355) == pytest.approx(0.0, abs=1e-9)
    assert math.isfinite(hargreaves_mm(-30.0, -40.0, sun.above_air(80.0, 355)))
