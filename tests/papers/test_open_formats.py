"""The as-built as GeoJSON, the dates as iCalendar, the record as CSV tables."""

from __future__ import annotations

import csv
import json
import math
from datetime import date, timedelta
from pathlib import Path

import icalendar
import pytest
from builders import bare_job, put, sound_job
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from job_parts import row

from fieldbook.checks.ground.positions import position_of
from fieldbook.checks.progress.deadlines import deadlines
from fieldbook.cli.main import main
from fieldbook.papers.exports.calendar import as_calendar
from fieldbook.papers.exports.geojson import CoordinatesError, as_geojson, metres_of_a_degree
from fieldbook.papers.exports.table_rows import tables_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.ties import FixedPoint, Tie

TODAY = date(2026, 5, 20)
FT = 0.3048


def placed(turn_deg: float, lat_deg: float = 40.7, taped_ft: float = 60.0) -> LoadedJob:
    """A wall of 60 ft that points `turn_deg` north of east, and a box 30 ft out from its middle.

    The coordinates are worked out here, apart from the code.
    """
    turn, lon_deg = math.radians(turn_deg), -74.0
    east_m, north_m = metres_of_a_degree(lat_deg)
    end = (
        lon_deg + 60 * FT * math.cos(turn) / east_m,
        lat_deg + 60 * FT * math.sin(turn) / north_m,
    )
    points = (
        row(FixedPoint, "a", name="left corner", along_ft=0.0, lat_deg=lat_deg, lon_deg=lon_deg),
        row(
            FixedPoint, "b", name="right corner", along_ft=taped_ft, lat_deg=end[1], lon_deg=end[0]
        ),
    )
    tape = math.hypot(30, 30)
    tie = row(
        Tie, "t", thing="valve box", name="A", point_1_id="a", tape_1_ft=tape, point_2_id="b",
        tape_2_ft=tape, side="right",
    )  # fmt: skip
    return bare_job(fixed_points=points, ties=(tie,))


def metres(job: LoadedJob, name: str) -> tuple[float, float]:
    """How far east and north of the left corner a feature is, by the degrees in the document."""
    features = as_geojson(job)["features"]
    assert isinstance(features, list)
    spots = {one["properties"]["name"]: one["geometry"]["coordinates"] for one in features}
    (lon_0, lat_0), (lon, lat) = spots["left corner"], spots[name]
    east_m, north_m = metres_of_a_degree(lat_0)
    return (lon - lon_0) * east_m, (lat - lat_0) * north_m


def test_a_degree_is_as_long_as_the_ellipsoid_says() -> None:
    # WGS 84: a degree of latitude is 110.574 km at the equator and 111.694 km at a pole, one of
    # longitude 111.320 km at the equator and 78.847 km at 45 degrees (from memory).
    assert metres_of_a_degree(0)[1] == pytest.approx(110_574, abs=1)
    assert metres_of_a_degree(90)[1] == pytest.approx(111_694, abs=1)
    assert metres_of_a_degree(0)[0] == pytest.approx(111_320, abs=1)
    assert metres_of_a_degree(45)[0] == pytest.approx(78_847, abs=1)


@settings(max_examples=40)
@given(st.floats(0, 360), st.floats(-60, 60))
def test_the_box_lies_out_from_the_wall_whichever_way_that_points(
    turn_deg: float, lat_deg: float
) -> None:
    job = placed(turn_deg, lat_deg)
    found = position_of(job, job.ties[0])
    assert found is not None
    # Out from the wall, towards the crew, is a quarter turn to the right of the wall's direction.
    turn = math.radians(turn_deg)
    along = (30 * FT * math.cos(turn), 30 * FT * math.sin(turn))
    out = (30 * FT * math.sin(turn), -30 * FT * math.cos(turn))
    assert metres(job, "A") == pytest.approx((along[0] + out[0], along[1] + out[1]), abs=0.01)


def test_a_document_is_as_the_standard_says() -> None:
    # RFC 7946: longitude before latitude, WGS 84, no "crs".
    document = as_geojson(placed(20))
    assert document["type"] == "FeatureCollection"
    assert "crs" not in document
    features = document["features"]
    assert isinstance(features, list)
    for one in features:
        assert one["type"] == "Feature"
        assert one["geometry"]["type"] == "Point"
        assert one["geometry"]["coordinates"] == pytest.approx([-74.0, 40.7], abs=0.01)
    assert json.loads(json.dumps(document)) == document


def test_coordinates_that_the_tape_denies_are_refused() -> None:
    with pytest.raises(CoordinatesError, match=r"60 ft apart, but the tape says 90 ft"):
        as_geojson(placed(20, taped_ft=90.0))


def test_one_point_with_coordinates_is_too_few() -> None:
    job = placed(20)
    with pytest.raises(CoordinatesError, match="Two fixed points"):
        as_geojson(put(job, "fixed_point", "b", lat_deg=None))


def test_each_date_is_an_event_with_a_reminder() -> None:
    job = sound_job()
    calendar = icalendar.Calendar.from_ical(as_calendar(job, TODAY))
    events = calendar.walk("VEVENT")
    assert [event.decoded("dtstart") for event in events] == sorted(
        due.on for due in deadlines(job, TODAY)
    )
    assert events
    for event in events:
        assert "12 Elm Street" in str(event["summary"])
        (alarm,) = event.walk("VALARM")
        assert alarm.decoded("trigger") == timedelta(days=-7)


def test_a_date_keeps_its_identifier_when_it_moves() -> None:
    job = sound_job()
    later = put(job, "backflow_test", job.backflow_tests[0].id, tested_on="2026-05-19")
    ids = [
        {str(event["uid"]): event.decoded("dtstart") for event in calendar.walk("VEVENT")}
        for calendar in (
            icalendar.Calendar.from_ical(as_calendar(one, TODAY)) for one in (job, later)
        )
    ]
    assert ids[0].keys() == ids[1].keys()
    assert ids[0] != ids[1]


def test_every_table_with_a_row_is_exported_whole() -> None:
    job = sound_job()
    found = {table.name: table for table in tables_of(job)}
    assert set(found) == {name for name, rows in job.tables().items() if rows}
    heads = found["head"]
    assert len(heads.rows) == len(job.heads)
    at = list(heads.headers).index("nozzle_gpm")
    assert [cells[at] for cells in heads.rows] == [head.nozzle_gpm for head in job.heads]


def test_the_commands_write_them(alder_book: Path, tmp_path: Path) -> None:
    def run(*words: str) -> tuple[int, str]:
        result = CliRunner().invoke(main, ["--book", str(alder_book), *words])
        return result.exit_code, result.output

    calendar = tmp_path / "dates.ics"
    assert run("export", "14 Alder Lane", str(calendar))[0] == 0
    assert icalendar.Calendar.from_ical(calendar.read_bytes()).walk("VEVENT")
    code, words = run("export", "14 Alder Lane", str(tmp_path / "built.geojson"))
    assert (code, "Two fixed points with latitude" in words) == (2, True)
    code, words = run("tables", "14 Alder Lane", str(tmp_path / "csv"))
    assert code == 0
    with (tmp_path / "csv" / "zone.csv").open(newline="", encoding="utf-8") as read:
        assert [one["number"] for one in csv.DictReader(read)] == ["1", "2", "3", "4"]
