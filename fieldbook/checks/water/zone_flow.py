"""What is entered of a zone's flow and of the street; nothing is solved for this."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fieldbook.checks.common.job_rules import velocity_maximum
from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.common.water_source import (
    flow_test_cell,
    has_meter,
    source_columns,
    supply_cell,
)
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.supply import FlowTestPoint
from fieldbook.records.tables.zones import Head, Zone
from fieldbook.trade.meters import METERS
from fieldbook.trade.pipes import PIPE_CLASSES, PipeClass
from fieldbook.water import Street, bucket_gpm


@dataclass(frozen=True)
class Bore:
    """A pipe's inside diameter in inches, and its class."""

    bore_in: float
    pipe: PipeClass


Bores = Literal["average", "minimum wall"]


def bores_of(job: LoadedJob) -> Bores:
    """Which bores of PVC pipe a job counts with."""
    chosen = job.supply.pipe_bores if job.supply is not None else None
    return "minimum wall" if chosen == "minimum wall" else "average"


def bore_of(pipe_class: str | None, size: str | None, bores: Bores) -> Bore | None:
    """The bore of a class in a size; None where one is not known or the other not listed."""
    found = PIPE_CLASSES.get(pipe_class or "")
    if found is None:
        return None
    listed = found.average_bores_in if bores == "average" else found.bores_in
    bore_in = listed.get(size or "")
    return Bore(bore_in, found) if bore_in is not None else None


def is_made(pipe_class: str, size: str) -> bool:
    """Whether a class is listed in a size; an unknown class is made in none."""
    return bore_of(pipe_class, size, "average") is not None


def zone_flow_gpm(job: LoadedJob, zone: Zone) -> float | None:
    """The design flow, else the sum of the nozzles entered; None if neither is."""
    entered = amount(zone, "design_flow_gpm")
    if entered is not None:
        return entered
    nozzles = [amount(head, "nozzle_gpm") for head in job.heads_of(zone.id)]
    return sum(nozzle for nozzle in nozzles if nozzle is not None) or None


def needed_psi(head: Head, zone: Zone) -> float | None:
    """The pressure a head needs: the zone's needed pressure, else its nozzle's rated pressure."""
    return amount(zone, "needed_psi") or amount(head, "rated_psi")


def nozzle_pressure_psi(head: Head, zone: Zone) -> float | None:
    """The pressure at which a head gives its nozzle flow: rated, else what the zone needs."""
    return amount(head, "rated_psi") or amount(zone, "needed_psi")


def allowed_lacks(job: LoadedJob, zone: Zone) -> list[Missing]:
    """What must be entered before a zone's draw can be held against all that limits it."""
    columns = (("static_psi", "the static pressure"), *source_columns(job))
    found = [
        Missing(words, supply_cell(job, column))
        for column, words in columns
        if job.supply is None or getattr(job.supply, column) is None
    ]
    if zone_flow_gpm(job, zone) is None:
        at = CellRef("zone", zone.id, "design_flow_gpm")
        found.append(Missing(f"the flow of {zone_name(zone)}", at))
    if flow_test(job) is None:
        found.append(Missing("a flow test", flow_test_cell(job)))
    return found


def street_of(job: LoadedJob) -> Street:
    """The supply as `fieldbook.water` takes it."""
    supply = job.supply
    meter = METERS.get(supply.meter_size or "") if supply is not None else None
    metered = has_meter(job)
    own_gpm = amount(supply, "meter_safe_gpm") if metered else None
    service = (
        bore_of(supply.service_class, supply.service_size, bores_of(job))
        if supply is not None
        else None
    )
    test = flow_test(job)
    return Street(
        static_psi=amount(supply, "static_psi"),
        source_gpm=None if metered else amount(supply, "source_gpm"),
        meter_safe_gpm=own_gpm or meter.safe_gpm if metered and meter is not None else own_gpm,
        meter_loss_at_safe_psi=meter.loss_at_safe_psi if metered and meter is not None else None,
        service_bore_in=service.bore_in if service is not None else None,
        service_velocity_ft_s=velocity_maximum(
            job, supply.service_class if supply is not None else None
        ).value,
        test_residual_psi=test[0] if test is not None else None,
        test_flow_gpm=test[1] if test is not None else None,
    )


def flow_test(job: LoadedJob) -> tuple[float, float] | None:
    """Residual in psi and flow in gpm of the usable reading with the largest flow."""
    static_psi = amount(job.supply, "static_psi")
    found = []
    for point in job.flow_test_points:
        residual_psi, flow_gpm = amount(point, "residual_psi"), _tested_gpm(point)
        if static_psi is None or residual_psi is None or flow_gpm is None:
            continue
        if residual_psi < static_psi:
            found.append((residual_psi, flow_gpm))
    return max(found, key=lambda reading: reading[1], default=None)


def _tested_gpm(point: FlowTestPoint) -> float | None:
    """The flow of a reading, else that of its bucket."""
    flow_gpm = amount(point, "flow_gpm")
    gallons, seconds = amount(point, "bucket_gal"), amount(point, "bucket_s")
    if flow_gpm is None and gallons is not None and seconds is not None:
        return bucket_gpm(gallons, seconds)
    return flow_gpm
