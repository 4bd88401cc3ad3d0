"""The readings that the record has of a zone: its newest measurement, as a diagnosis takes it."""

from __future__ import annotations

from dataclasses import replace

from fieldbook.audit import gauge_error_psi, psi_at_head
from fieldbook.checks.diagnosing.running_zone import head_numbered
from fieldbook.checks.diagnosing.typed_readings import TypedReadings
from fieldbook.checks.measured.flow_readings import flow_reading, newest_first
from fieldbook.diagnosis.zone_parts import Measured, Meter, ZoneParts, ZoneReadings
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.commissioning import HeadReading, ZoneMeasurement
from fieldbook.records.tables.zones import Zone

_BELOW = "below the body"


def recorded(job: LoadedJob, zone: Zone, parts: ZoneParts | None) -> tuple[TypedReadings, str]:
    """The newest measurement of a zone as readings, and its day; empty where there is none.

    A gauge at the nozzle of a body that regulates shows what the body regulates to and nothing of
    the pipe, so it is left out.
    """
    rows = newest_first(job, zone.id)
    if not rows:
        return TypedReadings(), ""
    row = rows[0]
    static, flow = amount(row, "static_psi"), flow_reading(row)
    readings = ZoneReadings(
        static=None if static is None else Measured.within(static, _gauge(row, static)),
        flow=None if flow is None else Measured.within(flow.gpm, flow.error_gpm),
        heads=_heads(job, zone, parts, row) if parts is not None else {},
        meter_off=_meter(job, row),
    )
    return TypedReadings(readings), row.measured_on or ""


def with_record(typed: TypedReadings, measured: TypedReadings, *, same_day: bool) -> TypedReadings:
    """What was typed, beside the record's measurement where that is of the same day.

    Readings of one day belong together: a pressure of today beside a flow of last year would look
    like a fault. Where nothing is typed the measurement counts, whatever its day.
    """
    if typed == TypedReadings():
        return measured
    if typed.dead or not same_day:
        return typed
    now, then = typed.running, measured.running
    both = replace(
        now,
        static=now.static or then.static,
        flow=now.flow or then.flow,
        heads={**then.heads, **now.heads},
        meter_off=now.meter_off or then.meter_off,
    )
    return replace(typed, running=both)


def _heads(
    job: LoadedJob, zone: Zone, parts: ZoneParts, measured: ZoneMeasurement
) -> dict[str, Measured]:
    found = {}
    for row in job.head_readings:
        run = next((run for run in job.runs_of(zone.id) if run.id == row.run_id), None)
        psi = amount(row, "psi")
        if row.measurement_id != measured.id or run is None or run.number is None or psi is None:
            continue
        head = job.head_at(run.id)
        if amount(head, "regulated_psi") is not None and row.gauge_at != _BELOW:
            continue
        name = head_numbered(parts, zone, run.number)
        if name is not None:
            at_head = max(psi_at_head(psi, amount(row, "above_ft") or 0.0), 0.0)
            found[name] = Measured.within(at_head, _gauge(row, psi))
    return found


def _gauge(row: ZoneMeasurement | HeadReading, psi: float) -> float:
    """How far a gauge may be off; one that reads beyond its span is taken as not described."""
    span = amount(row, "gauge_span_psi")
    return gauge_error_psi(psi, span if span is None or psi <= span else None, row.gauge_grade)


def _meter(job: LoadedJob, row: ZoneMeasurement) -> Meter | None:
    """The meter with everything off, where the start-up list of the same day says it."""
    listed = job.commissioning
    if listed is None or listed.meter_still is None or not row.measured_on:
        return None
    if listed.held_on != row.measured_on:
        return None
    return "still" if listed.meter_still else "moves"
