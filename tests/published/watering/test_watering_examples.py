"""Rates, plants, soils, cycles and budgets against published examples.

Each test names whose figures they are; "worked" ones follow from the formula that is shown.
"""

from __future__ import annotations

from statistics import mean

import pytest

from fieldbook.trade.plants_and_soils import plants_and_soils
from fieldbook.watering import budgets, rates
from fieldbook.watering.cycle_soak import cut_in_cycles, soil_intake
from fieldbook.watering.figure import Figure
from fieldbook.watering.monthly_weather import MonthWeather
from fieldbook.watering.plant_water import entered_plant_water, landscape_coefficient, plant_water
from fieldbook.watering.root_zone import balance, days_between, usable_in
from fieldbook.watering.run_multiplier import Evenness, multiplier
from fieldbook.watering.zone_need import ZoneWater, season_needs, seasonal_percent

LISTED = plants_and_soils()


def test_the_constant_of_rates_is_60_minutes_of_231_in3_on_144_in2() -> None:
    assert rates.IN_H_PER_GPM_FT2 == 60 * 231 / 144
    # Published as 1.93.
    assert rates.area_rate(10.0, 500.0) == pytest.approx(1.926, abs=0.001)
    with pytest.raises(ValueError, match="area"):
        rates.area_rate(10.0, 0.0)


def test_rates_by_spacing() -> None:
    assert rates.square_rate(3.7, 15.0) == pytest.approx(1.583, abs=0.001)
    assert rates.triangle_rate(3.7, 15.0) == pytest.approx(1.828, abs=0.002)
    # A farm manual prints 0.5 here, which its own figures do not give.
    assert rates.square_rate(3.5, 30.0) == pytest.approx(0.374, abs=0.001)
    assert rates.square_rate(3.5, 30.0, 20.0) == pytest.approx(0.5615, abs=0.001)


def test_rates_of_drip() -> None:
    assert rates.grid_rate(0.9, 12.0, 18.0) == pytest.approx(0.9625, abs=0.001)
    assert rates.grid_rate(0.6, 18.0, 18.0) == pytest.approx(0.428, abs=0.001)
    # University of California, micro-irrigation evaluation: two emitters of 0.48 gph a vine.
    assert rates.plant_gph(2, 0.48) == pytest.approx(0.96)
    assert rates.area_rate(0.96 / 60.0, 7.0 * 11.0) == pytest.approx(0.0200, abs=0.0002)


def test_matched_rates_compare_heads_by_their_own_ground() -> None:
    half = rates.Sprinkler("half", 1.85, 180.0, 15.0)
    whole = rates.Sprinkler("whole", 3.7, 360.0, 15.0)
    same = rates.matched([half, whole])
    other = rates.matched([half, rates.Sprinkler("small", 3.7, 90.0, 15.0)])
    assert same is not None
    assert same.ratio == pytest.approx(1.0)
    assert other is not None
    assert other.ratio == pytest.approx(4.0)
    assert other.fastest.name == "small"
    assert rates.matched([half]) is None


def test_monthly_factors_of_california_turf() -> None:
    """University of California, turfgrass crop coefficients; their mean is not the printed 0.80."""
    cool = LISTED.plants["cool-season lawn, California"].months
    warm = LISTED.plants["warm-season lawn, California"].months
    assert mean(cool) == pytest.approx(0.788, abs=0.001)
    assert mean(warm) == pytest.approx(0.651, abs=0.001)
    assert warm[8] == 0.62


def test_landscape_coefficient_is_a_product() -> None:
    assert landscape_coefficient(0.5, 1.2, 1.3) == pytest.approx(0.78)
    paved = plant_water("shrubs, dry climate", None, "by paving or walls, windy")
    assert paved.factor(7) == pytest.approx(0.5 * LISTED.exposure["by paving or walls, windy"])
    # A lawn is whole, whatever its density is called.
    assert plant_water("warm-season lawn", "sparse").factor(1) == 0.6


@pytest.mark.parametrize(
    ("et_in", "factor", "use_in"), [(0.81, 0.70, 0.57), (0.81, 0.80, 0.65), (0.85, 0.80, 0.68)]
)
def test_a_weeks_use_is_that_of_azmets_turf_report(
    et_in: float, factor: float, use_in: float
) -> None:
    """AZMET turf report, 18 March 2024."""
    assert et_in * factor == pytest.approx(use_in, abs=0.005)


def test_usda_table_of_rates_by_soil_cover_and_slope() -> None:
    clay, silt, sandy = (LISTED.soils[name] for name in ("clay", "silt loam", "sandy loam"))
    assert [clay.most_at(slope, bare=False) for slope in (3, 7, 10)] == [0.20, 0.15, 0.12]
    assert [clay.most_at(slope, bare=True) for slope in (3, 7, 10)] == [0.15, 0.10, 0.08]
    assert [silt.most_at(slope, bare=True) for slope in (5, 8, 12)] == [0.5, 0.4, 0.3]
    assert [sandy.most_at(slope, bare=False) for slope in (0, 6, 9)] == [1.75, 1.25, 1.0]


@pytest.mark.parametrize(
    ("soil", "slope", "rate", "limit"),
    [
        ("clay", 0, 0.4, 40.0),
        ("clay", 0, 1.5, 8.57),
        ("clay", 9, 1.5, 4.29),
        ("clay loam", 2, 1.5, 12.0),
        ("loam", 3, 1.5, 15.7),
        ("sand", 0, 1.0, 60.0),
        ("sand", 0, 0.6, None),
    ],
)
def test_most_minutes_of_a_cycle(soil: str, slope: float, rate: float, limit: float | None) -> None:
    """The trade's table of intake and surface accumulation, worked as 60 ASA / (PR - IR)."""
    own = soil_intake(soil, slope).limit_min(rate)
    assert own == (None if limit is None else pytest.approx(limit, abs=0.05))


@pytest.mark.parametrize(
    ("soil", "slope", "rate", "cycles", "cycle_min", "soak_min"),
    [
        ("clay", 0, 1.6, 3, 8.0, 120.0),
        ("clay", 10, 1.6, 6, 4.0, 60.0),
        ("loam", 0, 1.6, 2, 12.0, 51.43),
        ("sandy loam", 0, 0.40, 1, 24.0, 0.0),
    ],
)
def test_cycle_and_soak_of_24_minutes(
    soil: str, slope: float, rate: float, cycles: int, cycle_min: float, soak_min: float
) -> None:
    cut = cut_in_cycles(24.0, rate, soil_intake(soil, slope))
    assert cut.count == cycles
    assert cut.cycle_min == pytest.approx(cycle_min)
    assert cut.soak_min == pytest.approx(soak_min, abs=0.05)


def test_minutes_to_run_off_that_were_timed_win_over_the_table() -> None:
    # Tucson's guide: about 5 minutes from spray on clay to run-off.
    cut = cut_in_cycles(24.0, 1.6, soil_intake("sand"), runoff_min=5.0)
    assert (cut.count, cut.limit_min) == (5, 5.0)
    assert cut.cycle_min == pytest.approx(4.8)


def test_run_time_of_the_worked_example() -> None:
    """0.60 in at 1.5 in/h: 24.0 min, 30.4 with the softened multiplier, 36.9 with 1/DU."""
    even = Evenness(Figure(0.65))
    base = 60.0 * 0.60 / 1.5
    assert base == pytest.approx(24.0)
    assert base * multiplier(even)[1] == pytest.approx(30.4, abs=0.05)
    assert base * multiplier(even, "low quarter")[1] == pytest.approx(36.9, abs=0.05)
    cut = cut_in_cycles(base * multiplier(even)[1], 1.5, soil_intake("clay loam"))
    assert (cut.count, cut.whole_min) == (3, 10)
    assert cut.cycle_min == pytest.approx(10.1, abs=0.05)
    assert cut.soak_min == pytest.approx(78.0)


@pytest.mark.parametrize(
    ("low_quarter", "softened"), [(0.40, 1.562), (0.55, 1.370), (0.65, 1.266), (0.80, 1.136)]
)
def test_softened_multiplier_is_that_of_the_table(low_quarter: float, softened: float) -> None:
    assert multiplier(Evenness(Figure(low_quarter)))[1] == pytest.approx(softened, abs=0.001)


def test_multiplier_by_the_low_half_where_cans_gave_it() -> None:
    """Von Bernuth and Mecham's pattern: DUlh 0.810 beside DUlq 0.772."""
    cans = Evenness(Figure(0.772), Figure(0.810, "measured"))
    assert multiplier(cans) == ("low half", 1 / 0.810)
    assert multiplier(cans, "none") == ("none", 1.0)
    assert multiplier(cans, "coefficient")[0] == "softened"


def test_days_between_waterings() -> None:
    """Loam 0.17 in/in x 6 in x 0.5 = 0.51 in; 0.25 x 0.8 a day lasts 2 days."""
    usable = usable_in(0.17, 6.0, 0.5)
    assert usable == pytest.approx(0.51)
    assert days_between(usable, 0.25 * 0.8) == 2
    assert days_between(usable, 0.0) == 0
    assert days_between(0.6, 0.2) == 3


def test_water_balance_with_rain() -> None:
    days = balance(usable_in(0.12, 6.0, 0.5), [0.12] * 4, [0.0, 0.10, 0.0, 0.0])
    assert [day.deficit_in for day in days[:3]] == pytest.approx([0.12, 0.14, 0.26])
    assert [day.applied_in for day in days] == pytest.approx([0.0, 0.0, 0.0, 0.26])


def test_yearly_allowance_of_the_california_ordinance() -> None:
    allowed = budgets.ordinance_gal
    assert allowed(51.1, 0.7, 50_000.0) == pytest.approx(1_108_870.0, abs=0.5)
    # A garden sheet that adds 1200 ft2 of special ground at 0.3; it prints 28 542, which is wrong.
    assert pytest.approx(36_016.0, abs=1.0) == 35.1 * 0.62 * (0.7 * 1850.0 + 0.3 * 1200.0)
    assert allowed(35.1, 0.7, 1850.0, 1200.0) == pytest.approx(36_016.0, abs=1.0)
    assert allowed(50.0, 0.55, 3000.0, 200.0, rain_in=3.0) == pytest.approx(50_704.0, abs=1.0)


def test_landscape_area_includes_the_special_area() -> None:
    # A completed sheet prints 35 968; leaving the special area out of the whole gives 35 787.
    allowed = budgets.ordinance_gal(
        43.0, LISTED.allowances["California, home"].factor, 2453.0, 68.0
    )
    assert allowed == pytest.approx(36_784.0, abs=1.0)


@pytest.mark.parametrize(
    ("factor", "even", "area_ft2", "gallons"),
    [(0.8, 0.75, 677.0, 19_258.0), (0.5, 0.81, 204.0, 3_355.6), (0.2, 0.81, 1310.0, 8_626.0)],
)
def test_use_by_planting_is_that_of_a_completed_california_worksheet(
    factor: float, even: float, area_ft2: float, gallons: float
) -> None:
    own = budgets.ordinance_use_gal(43.0, factor, even, area_ft2)
    assert own == pytest.approx(gallons, abs=1.0)


def test_peak_month_budget_of_the_epa() -> None:
    """The method of the EPA's budget tool; the example is worked by its formula."""
    plantings = [
        budgets.Planting(1500.0, 0.7, LISTED.uniformity["spray"]),
        budgets.Planting(1500.0, 0.5, LISTED.uniformity["drip"]),
        budgets.Planting(1000.0, 0.2, LISTED.uniformity["drip"]),
    ]
    month = budgets.peak_budget(6.5, 1.2, 4000.0, plantings)
    assert month.needs_gal == pytest.approx((6113.0, 3940.0, 890.0), abs=2.0)
    assert month.need_gal == pytest.approx(10_944.0, abs=2.0)
    assert month.allowed_gal == pytest.approx(11_344.0, abs=2.0)
    assert month.passes
    assert budgets.peak_budget(7.0, 0.0, 5000.0, []).allowed_gal == pytest.approx(15_271.0, abs=2)


WSU_PERCENT = {4: 51, 5: 68, 6: 79, 7: 100, 8: 92, 9: 63, 10: 31}


def test_seasonal_adjustment_of_a_july_base() -> None:
    """WSU Extension, Colville: percent of July's base; a 20-minute zone runs 12.6 in September."""
    days = {
        month: MonthWeather(month, 0.2 * pct / 100, 0.0, "") for month, pct in WSU_PERCENT.items()
    }
    zone = ZoneWater(
        "z", "lawn", Figure(1.5), Figure(1.0), entered_plant_water(Figure(0.8)), Figure(0.5)
    )
    found = seasonal_percent(season_needs(zone, days))
    assert found == WSU_PERCENT
    assert [20.0 * pct / 100 for pct in found.values()] == pytest.approx(
        [10.2, 13.6, 15.8, 20.0, 18.4, 12.6, 6.2]
    )
