"""What a zone needs in a month, from its weather, plants, soil and rate."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.watering.cycle_soak import Cycles, Intake, cut_in_cycles, soil_intake
from fieldbook.watering.figure import Figure
from fieldbook.watering.monthly_weather import TypedMonth, WeatherSite, weather_of
from fieldbook.watering.new_plants import NewPlanting
from fieldbook.watering.plant_water import entered_plant_water
from fieldbook.watering.zone_need import (
    ZoneWater,
    four_seasons,
    month_need,
    new_plants_need,
    property_percent,
    season_needs,
    water_for_days,
)

LAWN = ZoneWater(
    key="z1",
    name="front lawn",
    rate=Figure(1.5, "solved"),
    multiplier=Figure(1.0 / 0.79, "worked out"),
    plants=entered_plant_water(Figure(0.8)),
    usable=Figure(0.61),
    intake=soil_intake("clay loam"),
    gpm=10.0,
)
SITE = WeatherSite(latitude_deg=40.0, et_source="a weather station")
YEAR = [TypedMonth(month, et_in=30 * et) for month, et in zip(range(4, 11), (
    0.13, 0.17, 0.20, 0.25, 0.23, 0.16, 0.08), strict=True)]  # fmt: skip
WEATHER = weather_of(SITE, YEAR)
JULY = replace(WEATHER[7], et_in_day=0.25)


def test_july_is_the_worked_example() -> None:
    """0.25 x 0.8 every 3rd day: 0.60 in, 30.4 min, 3 cycles of 10.1, soak 78 (IA method)."""
    need = month_need(LAWN, JULY)
    assert need.days_between == 3
    assert need.depth_in == pytest.approx(0.60)
    assert need.minutes == pytest.approx(30.4, abs=0.05)
    assert (need.cycles.count, need.cycles.whole_min) == (3, 10)
    assert need.cycles.soak_min == pytest.approx(78.0)
    assert need.gallons == pytest.approx(need.minutes * 10.0)
    assert need.minutes_week == pytest.approx(need.minutes * 7 / 3)


def test_each_step_has_its_figure_and_where_it_comes_from() -> None:
    steps = {step.name: step for step in month_need(LAWN, JULY).steps}
    assert steps["Reference ET"].how == "July, typed (a weather station)"
    assert steps["Run time"].value == pytest.approx(30.4, abs=0.05)
    assert steps["Rate"].words == "Rate 1.5 in/h: solved"
    assert steps["Soak between"].value == pytest.approx(78.0)


def test_a_rule_may_fix_the_days_between() -> None:
    twice = water_for_days(LAWN, JULY, 3.5)
    weekly = water_for_days(LAWN, JULY, 7)
    assert twice.depth_in == pytest.approx(0.70)
    assert weekly.beyond_soil_in == pytest.approx(7 * 0.20 - 0.61)
    assert weekly.minutes_week == pytest.approx(twice.minutes_week)


def test_rain_that_counts_is_taken_off_and_may_leave_nothing() -> None:
    wet = weather_of(SITE, [TypedMonth(5, et_in=3.1, rain_in=6.2)])[5]
    dry = weather_of(SITE, [TypedMonth(5, et_in=3.1)])[5]
    drowned = weather_of(SITE, [TypedMonth(5, et_in=3.1, rain_in=31.0)])[5]
    assert month_need(LAWN, dry).need_in_day == pytest.approx(0.08)
    assert month_need(LAWN, wet).need_in_day == pytest.approx(0.08 - 0.25 * 0.2)
    nothing = month_need(LAWN, drowned)
    assert not nothing.waters
    assert (nothing.days_between, nothing.cycles, nothing.gallons_in(30)) == (0, Cycles(0, 0.0), 0)


def test_seasonal_percentages_are_of_the_greatest_month() -> None:
    needs = season_needs(LAWN, WEATHER)
    percent = property_percent([needs, {}])
    assert percent[7] == 100
    assert percent[10] == pytest.approx(100 * 0.08 / 31 / (0.25 / 31), abs=1)
    assert set(percent) == set(range(4, 11))
    assert four_seasons(needs)["summer"].month == 7
    assert "winter" not in four_seasons(needs)


def test_et_is_typed_else_penman_monteith_else_hargreaves_else_unknown() -> None:
    july = TypedMonth(7, high_f=90, low_f=62)
    full = replace(july, humidity_pct=45, wind_mph=5, sun_h=11)
    assert "Hargreaves" in weather_of(SITE, [july])[7].words
    assert weather_of(SITE, [july])[7].et_in_day == pytest.approx(0.251, abs=0.001)
    penman = weather_of(SITE, [full])[7]
    assert penman.steps is not None
    assert penman.et_in_day == pytest.approx(penman.steps.et_mm / 25.4)
    assert penman.et_in_day == pytest.approx(0.26, abs=0.03)
    # Without hours of sun the radiation comes from the temperatures.
    clouded = weather_of(SITE, [replace(full, sun_h=None)])[7]
    assert clouded.steps is not None
    outside = clouded.steps.outside
    swing_c = (90 - 62) / 1.8
    assert clouded.steps.ground == pytest.approx(0.16 * swing_c**0.5 * outside)
    assert "Hargreaves" in weather_of(SITE, [replace(full, wind_mph=None)])[7].words
    assert weather_of(SITE, [replace(full, et_in=7.75)])[7].et_in_day == pytest.approx(0.25)
    assert weather_of(WeatherSite(), [full]) == {}


def test_the_heat_of_the_ground_comes_from_the_month_before() -> None:
    months = [
        TypedMonth(month, high_f=high, low_f=high - 25, humidity_pct=50, wind_mph=5, sun_h=9)
        for month, high in ((12, 40), (1, 35), (2, 45))
    ]
    found = weather_of(SITE, months)
    december, january, february = (found[month].steps for month in (12, 1, 2))
    assert december is not None
    assert january is not None
    assert february is not None
    assert december.soil == 0.0
    assert january.soil == pytest.approx(0.14 * -5 / 1.8)
    assert february.soil == pytest.approx(0.14 * 10 / 1.8)


def test_new_plants_are_watered_by_days_counted_from_planting() -> None:
    sod = NewPlanting("sod", date(2027, 6, 1))
    assert sod.day_number(date(2027, 6, 1)) == 1
    assert [sod.waters_on(date(2027, 6, day)) for day in (1, 14, 15, 21, 22, 23)] == [
        3, 3, 1, 1, 0, 1,
    ]  # fmt: skip
    assert sod.waters_on(date(2027, 5, 31)) == 0
    assert sod.established_on == date(2027, 7, 1)
    assert sod.phase_on(date(2027, 7, 1)) is None
    assert sod.phase_on(date(2027, 6, 30)) is not None
    assert NewPlanting("moss", date(2027, 6, 1)).phase_on(date(2027, 6, 1)) is None


def test_a_watering_of_new_plants_is_a_part_of_the_days_et() -> None:
    first = NewPlanting("sod", date(2027, 6, 1)).phases[0]
    need = new_plants_need(LAWN, JULY, first)
    assert need.depth_in == pytest.approx(0.25 / 3)
    assert need.minutes * 3 == pytest.approx(60 * 0.25 / 1.5 / 0.79)


@given(
    run=st.floats(0, 600),
    rate=st.floats(0.01, 20),
    soil=st.sampled_from(["sand", "loam", "clay"]),
    slope=st.floats(0, 60),
    timed=st.none() | st.floats(0.5, 120),
)
def test_no_cycle_is_longer_than_its_limit_and_no_minute_is_lost(
    run: float, rate: float, soil: str, slope: float, timed: float | None
) -> None:
    cut = cut_in_cycles(run, rate, soil_intake(soil, slope), timed)
    assert cut.count * cut.cycle_min == pytest.approx(run)
    if cut.limit_min is not None and cut.count:
        assert cut.cycle_min <= cut.limit_min * (1 + 1e-6)
        assert cut.whole_min <= max(cut.limit_min, 1)
    assert cut.elapsed_min >= run - 1e-6


def test_a_soil_that_takes_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        Intake(0.0, 0.2)
