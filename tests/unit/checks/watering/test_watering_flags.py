"""Flags on the watering: mixed rates, run-off, sensors that a rule requires, the water budget."""

from __future__ import annotations

import pytest
from builders import JOB, checked, codes, number, only, put, ruled, sound_job, words_of

from fieldbook.checks.watering.water_budget import water_budget, year_gallons
from fieldbook.checks.watering.zone_seasons import zone_seasons
from fieldbook.records.ids import once_id, weather_month_id, zone_watering_id
from fieldbook.records.loaded_job import LoadedJob

ET_IN = (1.9, 2.2, 3.7, 4.7, 5.6, 6.2, 6.5, 6.0, 4.6, 3.4, 2.1, 1.6)


def a_year(job: LoadedJob, rain_in: float = 0.0) -> LoadedJob:
    for month, et_in in enumerate(ET_IN, start=1):
        row_id = weather_month_id(JOB, month)
        job = put(job, "weather_month", row_id, month=month, et_in=et_in, rain_in=rain_in)
    return job


def a_lawn(job: LoadedJob, zone_id: str = "zone-1", **values: object) -> LoadedJob:
    job = put(job, "zone", zone_id, soil="sandy loam", slope_pct=2)
    entered = {"zone_id": zone_id, "area_ft2": 600.0, "planting": "cool-season lawn", **values}
    return put(job, "zone_watering", zone_watering_id(zone_id), **entered)


def sited(job: LoadedJob, **values: object) -> LoadedJob:
    return put(job, "watering_site", once_id(JOB, "watering_site"), **values)


def lacking(job: LoadedJob) -> list[str]:
    """What the watering still lacks, though it is due only at the handover."""
    answers = [answer for answer in checked(job).answers if answer.check == "watering"]
    assert {answer.word for answer in answers if answer.missing} <= {"not due"}
    return [one.words for answer in answers for one in answer.missing]


def nozzles(job: LoadedJob, *gpm: float) -> LoadedJob:
    for head, flow in zip(job.heads, gpm, strict=True):
        job = put(job, "head", head.id, nozzle_gpm=flow, arc_deg=180.0, radius_ft=12.0)
    return job


def test_heads_of_two_kinds_on_a_zone_are_a_fix_unless_their_rates_match() -> None:
    job = sound_job(1)
    mixed = put(
        put(job, "head", job.heads[0].id, kind="rotor"), "head", job.heads[1].id, kind="spray"
    )
    assert only(mixed, "head kinds mixed").severity == "fix"
    assert "head kinds mixed" not in codes(nozzles(mixed, 2.0, 2.0, 2.0))
    assert "head kinds mixed" in codes(nozzles(mixed, 2.0, 2.0, 1.0))
    assert "head kinds mixed" not in codes(put(job, "head", job.heads[0].id, kind="rotor"))


def test_nozzles_of_one_kind_that_do_not_match_are_a_note() -> None:
    job = a_lawn(sound_job(1))
    assert "rates not matched" not in codes(nozzles(job, 2.0, 2.0, 1.7))
    # Of a zone whose watering nobody entered nothing is said.
    assert "rates not matched" not in codes(nozzles(sound_job(1), 2.0, 2.0, 1.0))
    flag = only(nozzles(job, 2.0, 2.0, 1.0), "rates not matched")
    assert flag.severity == "note"
    assert number(flag, "ratio") == pytest.approx(2.0)


def test_water_that_runs_off_by_the_table_or_by_the_watch() -> None:
    """USDA table: covered sandy loam takes 1.75 in/h on the flat, clay 0.20."""
    slow = a_year(a_lawn(sound_job(1)))
    assert "water runs off" not in codes(slow)
    clay = only(put(slow, "zone", "zone-1", soil="clay"), "water runs off")
    assert "takes 0.2 in/h" in clay.sentence
    metric = put(a_year(a_lawn(sound_job(1, "metric"))), "zone", "zone-1", soil="clay")
    assert "takes 5.1 mm/h" in only(metric, "water runs off").sentence
    assert "cycles of" in clay.mend
    timed = only(a_lawn(slow, runoff_min=4.0), "water runs off")
    assert "ran off after 4 min" in timed.sentence


@pytest.mark.parametrize(
    ("kind", "rule"),
    [("freeze", "freeze_sensor_required"), ("soil moisture", "soil_sensor_required")],
)
def test_a_sensor_that_the_rules_require(kind: str, rule: str) -> None:
    job = ruled(sound_job(), rule, True, "City code 1-2")
    assert "City code 1-2" in only(job, "no required sensor").source
    fitted = put(job, "sensor", "s1", kind=kind)
    assert "no required sensor" not in codes(fitted)
    assert lacking(fitted) == [
        f"when the {kind} sensor was tested",
        f"whether the {kind} sensor stops a zone",
    ]
    tested = put(fitted, "sensor", "s1", tested_on="2026-05-01", stops=True)
    assert words_of(tested, "watering") == {"sound"}
    assert only(put(tested, "sensor", "s1", stops=False), "sensor stops nothing").severity == "fix"


def test_a_budget_is_held_once_an_ordinance_is_chosen() -> None:
    job = a_year(a_lawn(sound_job(1)))
    assert "over water budget" not in codes(job)
    # 0.8 / 0.75 of ET is used, 0.55 of it is allowed.
    flag = only(sited(job, allowance="California, home"), "over water budget")
    year = sum(ET_IN)
    assert number(flag, "allowed") == pytest.approx(year * 0.62 * 0.55 * 600.0)
    assert number(flag, "use") == pytest.approx(year * 0.62 * 1.067 * 600.0)
    desert = a_lawn(job, planting="low water use")
    assert "over water budget" not in codes(sited(desert, allowance="California, home"))


def test_special_ground_and_rain_change_what_is_allowed() -> None:
    job = a_year(a_lawn(sound_job(1)), rain_in=1.0)
    whole = sited(job, allowance="California, home", special_ft2=200.0, rain_allowed=True)
    budget = water_budget(whole)
    assert budget.allowed_gal == pytest.approx(
        (sum(ET_IN) - 3.0) * 0.62 * (0.55 * 600 + 0.45 * 200)
    )


def test_a_year_that_is_not_whole_is_not_checked() -> None:
    job = sited(a_lawn(sound_job(1)), allowance="California, home")
    july = put(job, "weather_month", weather_month_id(JOB, 7), month=7, et_in=6.5)
    assert "the reference ET of January" in lacking(july)
    assert water_budget(july).allowed_gal is None


def test_planned_water_is_that_of_the_zones_months() -> None:
    job = a_year(a_lawn(sound_job(1)))
    season = zone_seasons(job)[0]
    budget = water_budget(job)
    planned = sum(need.gallons_in(1.0) or 0.0 for need in season.needs.values())
    assert budget.planned_gal == year_gallons(season, job)
    assert budget.planned_gal == pytest.approx(planned * 365.25 / 12, rel=0.02)
    assert budget.peak is not None
    assert not budget.peak.passes


def test_every_sentence_is_short_enough_to_read() -> None:
    job = sited(a_year(a_lawn(sound_job(1), runoff_min=1.0)), allowance="San Diego")
    job = put(nozzles(job, 2.0, 2.0, 1.0), "sensor", "s1", kind="rain", stops=False)
    found = [
        flag for flag in checked(job).flags if flag.at.place in ("ground", "desk", "controller")
    ]
    assert {"water runs off", "over water budget", "sensor stops nothing"} <= {
        flag.code for flag in found
    }
    assert all(len(flag.sentence) <= 200 and len(flag.mend) <= 200 for flag in found)
