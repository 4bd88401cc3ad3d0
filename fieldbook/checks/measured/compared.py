"""Each zone as measured beside the same zone as worked out, with what that says.

The words are those of `fieldbook.audit.agreement`: it agrees, it differs by more than both errors,
or the errors are wider than the difference that matters. What lacks an entry is not compared.
"""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.audit import Agreement, Figure, agreement, gauge_error_psi, psi_at_head
from fieldbook.checks.common.naming import run_name, zone_word
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.measured.flow_readings import (
    FlowReading,
    flow_lacks,
    flow_reading,
    in_order,
    newest_first,
)
from fieldbook.checks.measured.worked_out import WorkedOut, worked_out
from fieldbook.checks.water.network_draft import MissingError
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.measured.commissioning import HeadReading, ZoneMeasurement
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE, Rule
from fieldbook.water import NetworkError

FLOW_MATTERS = Rule(0.10, "of flow", COMMON_PRACTICE)
"""A zone that is off by less waters as planned, within what a schedule can set."""
PRESSURE_MATTERS = Rule(
    0.20, "of pressure", "A fifth of pressure is a tenth of flow, since q = K sqrt(p)."
)
_MOST_ERROR_PART, _FURTHEST = 0.25, 3.0
"""A flow that is known no better, or further from what was worked out, feeds no schedule: a dial
in another unit than was typed is off 7.48 times."""


@dataclass(frozen=True)
class PressureCompared:
    """The pressure at one head: as read, as worked out, and what that says."""

    row: HeadReading
    run: PipeRun | None
    measured: Figure | None
    worked_out: Figure | None
    agreement: Agreement | None
    missing: tuple[Missing, ...]


@dataclass(frozen=True)
class ZoneCompared:
    """One measurement of a zone. `refusal` is the solver's sentence where it can't be solved.

    reading, worked_out, agreement: None while something is missing, which `missing` names.
    """

    zone: Zone
    row: ZoneMeasurement
    reading: FlowReading | None
    worked_out: Figure | None
    agreement: Agreement | None
    pressures: tuple[PressureCompared, ...]
    missing: tuple[Missing, ...]
    refusal: str = ""


@once_per_job
def compared(job: LoadedJob) -> dict[str, ZoneCompared]:
    """Every measurement of a zone that is in the record, in order, by the id of its row."""
    zones = ((row, job.zone(row.zone_id)) for row in in_order(job))
    return {row.id: _compared(job, zone, row) for row, zone in zones if zone is not None}


def measured_flow(job: LoadedJob, zone_id: str) -> FlowReading | None:
    """The newest measured flow of a zone that can be believed, for its schedule; None without one.

    It is passed over where it may be off by more than a quarter, or is three times what was worked
    out, or a third: then a dial was read in another unit.
    """
    found = compared(job)
    for row in newest_first(job, zone_id):
        reading = flow_reading(row)
        if reading is not None and row.id in found and _is_believable(reading, found[row.id]):
            return reading
    return None


def _is_believable(reading: FlowReading, beside: ZoneCompared) -> bool:
    worked = beside.worked_out
    if reading.error_gpm > _MOST_ERROR_PART * reading.gpm:
        return False
    if worked is None or worked.value <= 0.0:
        return True
    return worked.value / _FURTHEST <= reading.gpm <= worked.value * _FURTHEST


def _compared(job: LoadedJob, zone: Zone, row: ZoneMeasurement) -> ZoneCompared:
    missing, refusal, found = [*flow_lacks(job, row)], "", None
    static_psi = amount(row, "static_psi")
    if static_psi is None:
        at = CellRef("zone_measurement", row.id, "static_psi")
        missing.append(Missing(f"the static pressure before {zone_word(zone)} ran", at))
    else:
        try:
            found = worked_out(job, zone, static_psi, _gauge_psi(row, static_psi))
        except MissingError as figure:
            missing.append(Missing(str(figure).rstrip(","), figure.at))
        except NetworkError as error:
            refusal = str(error)
    reading = flow_reading(row)
    flow = found.flow if found is not None else None
    says = None
    if reading is not None and flow is not None:
        says = agreement(reading.figure, flow, FLOW_MATTERS.value * flow.value)
    readings = [one for one in job.head_readings if one.measurement_id == row.id]
    pressures = tuple(_pressure(job, one, found) for one in readings)
    return ZoneCompared(zone, row, reading, flow, says, pressures, tuple(missing), refusal)


def _gauge_psi(row: ZoneMeasurement | HeadReading, psi: float) -> float:
    """How far the gauge of a row may be off; one read beyond its scale, as far as its span."""
    span = amount(row, "gauge_span_psi")
    try:
        return gauge_error_psi(psi, span, row.gauge_grade)
    except ValueError:
        return span or psi


def _pressure(job: LoadedJob, row: HeadReading, found: WorkedOut | None) -> PressureCompared:
    run = job.find(PipeRun, row.run_id)
    head = job.head_at(run.id) if run is not None else None
    psi, missing = amount(row, "psi"), []
    if run is None or head is None:
        missing.append(Missing("the head of a reading", CellRef("head_reading", row.id, "run_id")))
    name = run_name(job, run) if run is not None else "a head"
    if psi is None:
        at = CellRef("head_reading", row.id, "psi")
        missing.append(Missing(f"the pressure at {name}", at))
    measured = None
    if psi is not None:
        error = _gauge_psi(row, psi)
        measured = Figure(psi_at_head(psi, amount(row, "above_ft") or 0.0), error, error)
    worked = found.heads.get(run.id) if found is not None and run is not None else None
    if worked is not None and row.gauge_at != "below the body":
        worked = _at_nozzle(worked, amount(head, "regulated_psi"))
    says = None
    if measured is not None and worked is not None:
        says = agreement(measured, worked, PRESSURE_MATTERS.value * max(worked.value, 1.0))
    return PressureCompared(row, run, measured, worked, says, tuple(missing))


def _at_nozzle(psi: Figure, regulated_psi: float | None) -> Figure:
    """The pressure at a nozzle: what its body lets through."""
    if regulated_psi is None:
        return psi
    low, high = psi.value - psi.down, psi.value + psi.up
    value = min(psi.value, regulated_psi)
    return Figure(value, value - min(low, regulated_psi), min(high, regulated_psi) - value)
