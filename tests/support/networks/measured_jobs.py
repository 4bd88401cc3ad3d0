"""Sound jobs of which something was measured: a zone's flow, pressures at heads, catch cans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from builders import sound_job
from job_parts import row

from fieldbook.checks.measured.worked_out import WorkedOut, worked_out
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.audit import CatchAudit, CatchCan
from fieldbook.records.tables.measured.commissioning import HeadReading, ZoneMeasurement

STATIC_PSI = 62.0


def open_nozzles(job: LoadedJob) -> LoadedJob:
    """The job with heads that do not regulate, so that what is upstream shows in the flow."""
    heads = tuple(head.with_values(regulated_psi=None) for head in job.heads)
    return replace(job, heads=heads)


def expected(job: LoadedJob, number: int = 1) -> WorkedOut:
    """What a zone should do at the usual static."""
    return worked_out(job, job.zones[number - 1], STATIC_PSI, 2.0)


def measured(job: LoadedJob, gpm: float, **values: object) -> LoadedJob:
    """The job with a measurement of zone 1: 20 gal on the dial in the time of that flow."""
    usual: dict[str, Any] = {
        "zone_id": "zone-1",
        "measured_on": "2026-05-10",
        "static_psi": STATIC_PSI,
        "dial": "gallons",
        "dial_start": 100.0,
        "dial_stop": 120.0,
        "dial_s": 1200.0 / gpm,
    }
    count = len(job.zone_measurements) + 1
    found = row(ZoneMeasurement, f"measured-{count}", **{**usual, **values})
    return replace(job, zone_measurements=(*job.zone_measurements, found))


def read_at(job: LoadedJob, run_id: str, psi: float | None, **values: object) -> LoadedJob:
    """The job with a pressure at the head of a run, under its first measurement."""
    count = len(job.head_readings) + 1
    found = row(
        HeadReading,
        f"reading-{count}",
        measurement_id="measured-1",
        run_id=run_id,
        psi=psi,
        **values,
    )
    return replace(job, head_readings=(*job.head_readings, found))


def audited(
    cans: Sequence[float | None],
    job: LoadedJob | None = None,
    places: Sequence[tuple[float, float]] = (),
    **values: object,
) -> LoadedJob:
    """The job with an audit of zone 1 in mL; a can that is None was not read."""
    job = job or sound_job()
    usual: dict[str, Any] = {
        "zone_id": "zone-1",
        "held_on": "2026-05-11",
        "run_min": 30.0,
        "wind_mph": 2.0,
        "caught_as": "mL",
        "throat_in": 3.0,
    }
    audit_id = f"audit-{len(job.catch_audits) + 1}"
    audit = row(CatchAudit, audit_id, **{**usual, **values})
    column = "depth_in" if audit.caught_as == "depth" else "caught_ml"
    stood = [{"along_ft": along, "out_ft": out} for along, out in places]
    stood += [{}] * (len(cans) - len(stood))
    rows = tuple(
        row(CatchCan, f"{audit_id}-{no}", audit_id=audit_id, number=no, **{column: caught}, **place)
        for no, (caught, place) in enumerate(zip(cans, stood, strict=True), start=1)
    )
    return replace(
        job, catch_audits=(*job.catch_audits, audit), catch_cans=(*job.catch_cans, *rows)
    )
