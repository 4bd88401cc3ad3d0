"""Add what is measured at a start-up and at an audit, with what the row before it says already."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.rows import add_row
from fieldbook.checks.measured.audits import cans_of
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.records.base import Record
from fieldbook.records.days import order_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.audit import CatchAudit
from fieldbook.records.tables.measured.commissioning import ZoneMeasurement
from fieldbook.records.values import Value

_SAME_GAUGE = ("gauge_span_psi", "gauge_grade")
_SAME_METER = ("static_psi", "dial", "dial_read_to", "meter_off_pct", *_SAME_GAUGE)
_SAME_CANS = ("run_min", "wind_mph", "caught_as", "throat_in", "quarter_rule")
_NUMBER = re.compile(r"\d+(\.\d*)?|\.\d+")


def add_measurement(open_job: OpenJob) -> str:
    """Add a measurement of the next zone today; the meter and gauge are those of the last row."""
    job, today = open_job.job, date.today().isoformat()
    last = max(job.zone_measurements, key=_when_entered, default=None)
    done = {row.zone_id for row in job.zone_measurements if row.measured_on == today}
    same = _copied(last, _SAME_METER) if last is not None and last.measured_on == today else {}
    if not same and last is not None:
        # The static of another day says nothing of today.
        same = _copied(last, _SAME_METER[1:])
    values: dict[str, Value] = {"zone_id": _next_zone(job, done), "measured_on": today, **same}
    return add_row(open_job, "zone_measurement", visit_id=_visit(job), **values)


def add_reading(open_job: OpenJob, measurement: ZoneMeasurement) -> str:
    """Add a pressure at a head of a measured zone: the next head, read with the same gauge."""
    job = open_job.job
    read = {row.run_id for row in job.head_readings if row.measurement_id == measurement.id}
    runs = [run for run in job.runs_of(measurement.zone_id) if job.head_at(run.id) is not None]
    # Runs are in the order they were laid: the last head is the one that is likely to be short.
    run = next((run for run in reversed(runs) if run.id not in read), None)
    last = max(job.head_readings, key=_when_entered, default=None)
    same = _copied(last if last is not None else measurement, _SAME_GAUGE)
    return add_row(
        open_job,
        "head_reading",
        measurement_id=measurement.id,
        run_id=run.id if run is not None and measurement.zone_id else None,
        visit_id=_visit(job),
        **same,
    )


def add_audit(open_job: OpenJob) -> str:
    """Add an audit of the next zone today, with the cans, minutes and wind of the last one."""
    job, today = open_job.job, date.today().isoformat()
    last = max(job.catch_audits, key=_when_entered, default=None)
    done = {row.zone_id for row in job.catch_audits}
    values: dict[str, Value] = {"zone_id": _next_zone(job, done), "held_on": today}
    if last is not None:
        columns = _SAME_CANS if last.held_on == today else _SAME_CANS[2:]
        values |= _copied(last, columns)
    return add_row(open_job, "catch_audit", visit_id=_visit(job), **values)


def add_can(open_job: OpenJob, audit: CatchAudit) -> str:
    """Add the next can of an audit."""
    numbers = [can.number or 0 for can in cans_of(open_job.job, audit)]
    return add_row(open_job, "catch_can", audit_id=audit.id, number=max(numbers, default=0) + 1)


def catches(typed: str) -> list[str]:
    """What was typed as one catch or several, such as "9 11 11" or "3/8, 1/2".

    A blank separates plain numbers alone: "1 1/2" and "12 mL" are one catch.
    """
    parts = [part for part in re.split(r"[,;]", typed) if part.strip()]
    if len(parts) == 1 and all(_NUMBER.fullmatch(word) for word in typed.split()):
        return typed.split()
    return [part.strip() for part in parts]


def _when_entered(row: Record) -> tuple[bool, datetime, str]:
    """A key that puts the row entered last at the end; rows of a draft are newer than all."""
    # The ids of rows from a job file say nothing of when they were made.
    return not row.entered_at, order_of(row.entered_at), row.id


def _copied(row: Record | None, columns: Sequence[str]) -> dict[str, Value]:
    return {column: getattr(row, column) for column in columns} if row is not None else {}


def _visit(job: LoadedJob) -> str | None:
    """The visit under way, to which a reading of today belongs."""
    visit = visit_under_way(job, date.today())
    return visit.id if visit is not None else None


def _next_zone(job: LoadedJob, done: set[str | None]) -> str | None:
    """The first zone that is not done; None once all are, so that nobody takes the wrong one."""
    return next((zone.id for zone in job.zones if zone.id not in done), None)
