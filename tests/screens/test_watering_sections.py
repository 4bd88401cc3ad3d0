"""The watering on the sheets: what is asked for, what is shown, and how a figure came about."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import JOB, put, sound_job
from crew import at_the_truck

from fieldbook.checks.registry import check
from fieldbook.checks.watering.zone_seasons import zone_seasons
from fieldbook.records.ids import once_id, weather_month_id, zone_watering_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.controller_sheet import controller
from fieldbook.screens.sheets.desk_sheet import desk
from fieldbook.screens.sheets.ground_sheet import ground
from fieldbook.screens.sheets.presses import ShowSteps
from fieldbook.screens.sheets.sheet import Row, Section, Sheet


def watered(zones: int = 1) -> LoadedJob:
    job = sound_job(zones)
    job = put(job, "zone", "zone-1", soil="clay loam", slope_pct=2)
    row_id = zone_watering_id("zone-1")
    values = {"zone_id": "zone-1", "area_ft2": 400.0, "planting": "cool-season lawn"}
    job = put(job, "zone_watering", row_id, **values)
    return put(job, "weather_month", weather_month_id(JOB, 7), month=7, et_in=7.75)


def section(sheet: Sheet, title: str) -> Section:
    return next(one for one in sheet.sections if one.title.startswith(title))


def texts(row: Row) -> list[str]:
    return [cell.text for cell in row.cells]


def steps(row: Row, number: int) -> str:
    press = row.cells[number].press
    assert isinstance(press, ShowSteps)
    return press.text


def test_the_peak_of_each_zone_has_its_steps() -> None:
    row = section(controller(watered(), "us"), "What each zone needs").rows[0]
    month, every, minutes = texts(row)[:3]
    assert (month, every) == ("Jul", "2 d")
    assert minutes.endswith("min")
    assert "July, typed" in steps(row, 2)
    assert "60 x 0.400" in steps(row, 2)
    assert "stated default" in steps(row, 2)
    assert texts(row)[6].startswith("~ ")


def test_the_water_of_a_month_is_that_of_its_waterings() -> None:
    need = zone_seasons(watered())[0].needs[7]
    shown = texts(section(controller(watered(), "us"), "Water by month").rows[0])
    assert need.gallons is not None
    assert shown == [f"{need.gallons * 31 / need.days_between:.0f}"]
    # One month is no year of four seasons.
    titles = [one.title for one in controller(watered(), "us").sections]
    assert not [title for title in titles if title.startswith("By season")]


def test_the_steps_of_a_metric_job_end_in_metric_units() -> None:
    row = section(controller(watered(), "metric"), "What each zone needs").rows[0]
    assert "Reference ET 6.35 mm/day" in steps(row, 2)
    assert "One watering 10.16 mm" in steps(row, 2)


def test_a_zone_that_lacks_a_figure_is_not_checked() -> None:
    rows = section(controller(watered(2), "us"), "What each zone needs").rows
    assert rows[1].cells == ()
    assert rows[1].tail.startswith("- not checked: the area of zone 2")


def test_nothing_is_shown_before_anything_is_entered() -> None:
    titles = [one.title for one in controller(sound_job(), "us").sections]
    assert not [title for title in titles if title.startswith(("What each zone", "Minutes of a"))]


def test_new_plants_have_their_days_counted_from_planting() -> None:
    job = put(
        watered(), "zone_watering", zone_watering_id("zone-1"), new_plants="sod",
        planted_on="2027-07-01",
    )  # fmt: skip
    rows = section(controller(job, "us"), "New plants").rows
    assert [texts(row)[1:5] for row in rows] == [
        ["2027-07-01", "2027-07-14", "3", "1 d"],
        ["2027-07-15", "2027-07-21", "1", "1 d"],
        ["2027-07-22", "2027-07-30", "1", "2 d"],
    ]
    assert "Common practice, no source" in steps(rows[0], 5)


def test_the_zones_rate_stands_beside_its_name_in_the_jobs_units() -> None:
    us = section(ground(watered(), "us"), "Watering of the zones").rows[0]
    metric = section(ground(watered(), "metric"), "Watering of the zones").rows[0]
    assert us.beside.endswith("in/h")
    assert metric.beside.endswith("mm/h")
    assert float(metric.beside.split()[0]) == pytest.approx(
        25.4 * float(us.beside.split()[0]), rel=0.01
    )


def test_a_months_et_says_how_it_came_about() -> None:
    site = put(watered(), "watering_site", once_id(JOB, "watering_site"), latitude_deg=40.0)
    values = {"month": 6, "high_deg_f": 90, "low_deg_f": 62, "humidity_pct": 45, "wind_mph": 5.0}
    job = put(site, "weather_month", weather_month_id(JOB, 6), sun_h=11.0, **values)
    rows = section(desk(job, "us"), "Weather by month").rows
    assert "typed" in steps(rows[6], 0)
    assert "Net short-wave" in steps(rows[5], 0)
    assert "Not checked" in steps(rows[0], 0)


def test_a_year_is_held_against_its_allowance_at_the_desk() -> None:
    job = watered()
    for month in range(1, 13):
        row_id = weather_month_id(JOB, month)
        job = put(job, "weather_month", row_id, month=month, et_in=4.0)
    chosen = put(job, "watering_site", once_id(JOB, "watering_site"), allowance="San Diego")
    rows = {row.label: row for row in section(desk(chosen, "us"), "Water budget").rows}
    assert rows["Allowed a year"].tail.startswith("! ")
    assert "over water budget" in [flag.code for flag in check(chosen)]
    year = replace(chosen, weather_months=chosen.weather_months[:6])
    assert "not checked" in section(desk(year, "us"), "Water budget").rows[0].tail


async def test_enter_and_the_question_mark_show_the_steps() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "controller")
        cell = next(one for one in crew.cells if isinstance(one.press, ShowSteps))
        await crew.stand_on(cell.at.table, cell.at.column, cell.at.row_id)
        for key in ("enter", "question_mark"):
            await crew.press(key)
            assert "Reference ET" in crew.screen()
            await crew.press("escape")


async def test_the_usual_rebate_papers_are_added_by_one_key() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "desk")
        await crew.stand_on("rebate_paper", "add rebate papers", "")
        await crew.press("enter")
        papers = crew.open_job.job.rebate_papers
        assert "itemised invoice with make and model" in [one.paper for one in papers]
        assert crew.cell.at.column == "due_on"
