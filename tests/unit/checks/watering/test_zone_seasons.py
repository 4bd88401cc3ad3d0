"""What a job's zones need in a month, from what is entered, and what is missing for that."""

from __future__ import annotations

import pytest
from builders import JOB, codes, only, open_words, put, sound_job, with_rows, words_of
from measured_jobs import audited, measured

from fieldbook.checks.measured.audits import audited_uniformity
from fieldbook.checks.watering.water_budget import water_budget
from fieldbook.checks.watering.zone_rates import plant_gph, zone_gpm, zone_rate
from fieldbook.checks.watering.zone_seasons import ZoneSeason, season_of, zone_seasons
from fieldbook.records.ids import once_id, weather_month_id, zone_watering_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.plants_and_soils import plants_and_soils
from fieldbook.watering.rates import area_rate, square_rate, triangle_rate

LAWN = "cool-season lawn"


def watered(job: LoadedJob, number: int = 1, **values: object) -> LoadedJob:
    zone = job.zones[number - 1]
    return put(job, "zone_watering", zone_watering_id(zone.id), zone_id=zone.id, **values)


def month(job: LoadedJob, number: int, **values: object) -> LoadedJob:
    return put(job, "weather_month", weather_month_id(JOB, number), month=number, **values)


def entered(job: LoadedJob | None = None) -> LoadedJob:
    """A sound job whose first zone's watering is entered, and July's weather."""
    job = put(job or sound_job(1), "zone", "zone-1", soil="clay loam", slope_pct=2, sun="full sun")
    job = watered(job, area_ft2=400.0, planting=LAWN)
    return month(job, 7, et_in=7.75, rain_in=0.0)


def first(job: LoadedJob) -> ZoneSeason:
    found = season_of(job, job.zones[0].id)
    assert found is not None
    return found


def test_a_zone_with_everything_entered_has_its_july() -> None:
    job = entered()
    season = first(job)
    water, july = season.water, season.needs[7]
    assert water is not None
    assert season.missing == ()
    assert july.need_in_day == pytest.approx(0.25 * 0.8)
    # Clay loam 2.125 in/ft x 6 in x 0.40 (FAO-56 table 22 for cool-season turf).
    assert water.usable.value == pytest.approx(2.125 / 12 * 6 * 0.40)
    assert july.days_between == 2
    gpm = zone_gpm(job, season.zone)
    assert gpm is not None
    assert gpm.origin == "solved"
    assert water.rate.value == pytest.approx(96.25 * gpm.value / 400.0)
    assert july.gallons == pytest.approx(july.minutes * gpm.value)
    assert season.peak is july


def test_what_is_missing_is_named_with_its_cell_and_nothing_is_guessed() -> None:
    bare = first(sound_job(1))
    assert bare.water is None
    assert bare.needs == {}
    columns = [(one.at.table, one.at.column) for one in bare.missing]
    assert columns == [
        ("zone_watering", "area_ft2"),
        ("zone_watering", "planting"),
        ("zone", "soil"),
        ("weather_month", "et_in"),
    ]


def test_a_property_without_any_of_it_is_asked_for_nothing() -> None:
    assert words_of(sound_job(), "watering") == set()
    assert open_words(sound_job(), "watering") == []


def test_a_zone_that_was_begun_is_asked_for_the_rest_at_handover() -> None:
    begun = watered(sound_job(1), area_ft2=400.0)
    assert words_of(begun, "watering") <= {"not checked", "not due"}
    assert words_of(entered(), "watering") == {"sound"}


def test_the_multiplier_is_the_one_chosen_and_says_what_it_rests_on() -> None:
    usual = first(entered()).water
    quarter = put(
        entered(), "watering_site", once_id(JOB, "watering_site"), multiplier="low quarter"
    )
    older = first(quarter).water
    assert usual is not None
    assert older is not None
    even = first(entered()).evenness.low_quarter
    assert even.is_default
    assert even.value <= plants_and_soils().uniformity["spray"]
    assert usual.multiplier.value == pytest.approx(1 / (0.4 + 0.6 * even.value))
    assert older.multiplier.value == pytest.approx(1 / even.value)
    assert usual.multiplier.is_default
    assert "0.4 + 0.6" in usual.multiplier.source


def test_drip_is_as_even_as_its_solved_flows() -> None:
    job = put(entered(), "zone", "zone-1", head_kind="drip")
    even = first(job).evenness.low_quarter
    assert even.origin == "solved"
    assert 0.9 < even.value <= 1.0


def test_a_rate_without_an_area_comes_from_the_spacing() -> None:
    job = watered(sound_job(1), spacing_ft=15.0)
    for head in job.heads:
        job = put(job, "head", head.id, arc_deg=180.0, nozzle_gpm=1.85)
    square = zone_rate(job, job.zones[0])
    triangle = zone_rate(watered(job, pattern="triangle"), job.zones[0])
    assert square is not None
    assert triangle is not None
    assert square.value == pytest.approx(square_rate(3.7, 15.0))
    assert triangle.value == pytest.approx(triangle_rate(3.7, 15.0))


def test_drip_by_its_emitters() -> None:
    bare = with_rows(with_rows(sound_job(1), "head", ()), "pipe_run", ())
    job = watered(bare, emitters=36, emitter_gph=0.48, plant_count=18, area_ft2=18 * 77.0)
    rate = zone_rate(job, job.zones[0])
    assert rate is not None
    assert rate.value == pytest.approx(area_rate(36 * 0.48 / 60, 18 * 77.0))
    assert rate.value == pytest.approx(0.0200, abs=0.0002)
    assert plant_gph(job.watering_of(job.zones[0].id)) == pytest.approx(0.96)
    grid = watered(bare, emitter_gph=0.9, spacing_ft=1.5, rows_ft=1.0)
    by_grid = zone_rate(grid, grid.zones[0])
    assert by_grid is not None
    assert by_grid.value == pytest.approx(0.9625)


def test_shade_lowers_the_factor_and_an_entered_factor_wins() -> None:
    shaded = put(entered(), "zone", "zone-1", sun="shade")
    assert first(shaded).needs[7].need_in_day == pytest.approx(0.25 * 0.8 * 0.7)
    own = watered(shaded, plant_factor=0.5)
    assert first(own).needs[7].need_in_day == pytest.approx(0.125)


def test_minutes_timed_to_run_off_win_over_the_soil() -> None:
    cycles = first(watered(entered(), runoff_min=3.0)).needs[7].cycles
    assert cycles.limit_min == 3.0
    assert cycles.cycle_min <= 3.0


def test_absurd_figures_are_no_figures() -> None:
    job = watered(entered(), area_ft2=-4.0)
    assert first(job).water is None
    job = month(entered(), 7, et_in=float("inf"))
    assert first(job).needs == {}
    odd = watered(entered(), planting="seaweed", density="?", new_plants="sod", planted_on="soon")
    assert first(odd).water is None
    assert first(odd).new is None
    assert len(zone_seasons(put(odd, "zone", "zone-1", soil="moon dust"))) == 1


EVEN = [20.0, 21.0, 22.0, 24.0] * 6
DRY = [0.0] * 14 + [60.0] * 10


def test_an_audit_that_counts_gives_the_rate_and_the_multiplier() -> None:
    job = audited(EVEN, entered())
    season = first(job)
    assert season.water is not None
    found = audited_uniformity(job, job.zones[0].id)
    assert found is not None
    assert season.water.rate.origin == "measured"
    assert season.water.rate.value == found.rate_in_h
    assert (season.way, season.water.multiplier.origin) == ("low half", "measured")
    assert season.water.multiplier.value == pytest.approx(1 / found.low_half)
    windy = audited(EVEN, entered(), wind_mph=12.0)
    assert first(windy).evenness.low_quarter.is_default


def test_cans_that_stayed_dry_divide_nothing_and_are_a_fix() -> None:
    job = audited(DRY, entered())
    season = first(job)
    assert season.evenness.low_quarter.value == 0.0
    assert season.way == "softened"
    assert season.water is not None
    assert season.water.multiplier.value == pytest.approx(2.5)
    assert only(job, "zone too uneven").severity == "fix"
    assert water_budget(job).peak is None
    assert "zone too uneven" not in codes(audited(EVEN, entered()))


def test_a_measured_flow_wins_over_the_solved_one() -> None:
    job = measured(entered(), gpm=6.3)
    gpm = zone_gpm(job, job.zones[0])
    assert gpm is not None
    assert gpm.origin == "measured"
    assert gpm.value == pytest.approx(6.3)
    water = first(job).water
    assert water is not None
    assert water.rate.value == pytest.approx(96.25 * gpm.value / 400.0)
