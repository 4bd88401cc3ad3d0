"""Rows of what is measured are added with what the row before them says already."""

from __future__ import annotations

from datetime import date

import pytest

from fieldbook.actions.cells import enter
from fieldbook.actions.job_files import import_file
from fieldbook.actions.measuring import add_audit, add_measurement, add_reading, catches
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import demo_files
from fieldbook.actions.rows import remove_row
from fieldbook.checks.finding import CellRef
from fieldbook.records.tables.measured.audit import CatchAudit
from fieldbook.records.tables.measured.commissioning import HeadReading, ZoneMeasurement
from fieldbook.store.book import Book


@pytest.fixture
def open_job(book: Book) -> OpenJob:
    file = next(file for file in demo_files() if file.stem == "alder_lane")
    return OpenJob(book, import_file(book, file, "RO").job_id, "RO")


def measured_next(open_job: OpenJob) -> ZoneMeasurement:
    row_id = add_measurement(open_job)
    row = open_job.job.find(ZoneMeasurement, row_id)
    assert row is not None
    return row


def test_the_next_zone_is_measured_today_by_the_same_meter(open_job: OpenJob) -> None:
    zones = [zone.id for zone in open_job.job.zones]
    first = measured_next(open_job)
    # The static of another day says nothing of today, the dial still counts in cubic feet.
    assert (first.zone_id, first.static_psi, first.dial) == (zones[0], None, "cubic feet")
    assert first.measured_on == date.today().isoformat()
    enter(open_job, CellRef("zone_measurement", first.id, "static_psi"), 61.0)
    rest = [measured_next(open_job) for _ in zones]
    assert [row.zone_id for row in rest] == [*zones[1:], None]
    assert {row.static_psi for row in rest} == {61.0}


def test_heads_are_read_from_the_last_on_with_the_same_gauge(open_job: OpenJob) -> None:
    job = open_job.job
    row = next(one for one in job.zone_measurements if one.zone_id == job.zones[0].id)
    runs = [run.id for run in job.runs_of(job.zones[0].id) if job.head_at(run.id) is not None]
    for _ in runs:
        add_reading(open_job, row)
    found = [one for one in open_job.job.head_readings if one.measurement_id == row.id]
    assert found[0].run_id == runs[-1]
    assert {one.run_id for one in found} == set(runs)
    assert {(one.gauge_span_psi, one.gauge_grade) for one in found} == {(100.0, "B")}
    row_id = add_reading(open_job, row)
    extra = open_job.job.find(HeadReading, row_id)
    assert extra is not None
    assert extra.run_id is None


def test_an_audit_takes_the_cans_but_not_the_wind_of_another_day(open_job: OpenJob) -> None:
    row_id = add_audit(open_job)
    audit = open_job.job.find(CatchAudit, row_id)
    assert audit is not None
    assert audit.zone_id == open_job.job.zones[1].id
    assert (audit.throat_in, audit.caught_as, audit.wind_mph) == (3.0, "mL", None)


def test_a_measurement_takes_its_readings_with_it(open_job: OpenJob) -> None:
    job = open_job.job
    measured = job.head_readings[0].measurement_id
    assert measured is not None
    remove_row(open_job, "zone_measurement", measured)
    assert all(one.measurement_id != measured for one in open_job.job.head_readings)


@pytest.mark.parametrize(
    ("typed", "several"),
    [
        ("9", ["9"]),
        ("9 11 11.5", ["9", "11", "11.5"]),
        ("9, 11;12", ["9", "11", "12"]),
        ("12 mL", ["12 mL"]),
        ("1 1/2", ["1 1/2"]),
        ("3/8, 1 1/2", ["3/8", "1 1/2"]),
        ("", []),
    ],
)
def test_a_blank_separates_plain_numbers_alone(typed: str, several: list[str]) -> None:
    assert catches(typed) == several
