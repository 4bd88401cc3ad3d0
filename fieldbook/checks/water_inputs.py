"""From the job record to the inputs of `water`, and its answers back onto heads and runs.

A zone draws its design flow, else the sum of its nozzles. Mainline, service, meter and devices
carry that flow; a lateral run carries the nozzles beyond it. With a flow test the budget starts on
the curve of the reading with the largest flow and takes no meter or service loss, which are in the
curve already. A budget is made only for a path whose every figure is entered.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.checks.heights import connection_ft, head_heights, heads_by_run
from fieldbook.checks.known import amount
from fieldbook.checks.local import velocity_maximum
from fieldbook.checks.runs import Line, lateral_of, mainline_to
from fieldbook.records.loaded import LoadedJob
from fieldbook.records.pipe import PipeRun
from fieldbook.records.supply import FlowTestPoint
from fieldbook.records.zones import Head, Zone
from fieldbook.trade.backflow import BACKFLOW_KINDS
from fieldbook.trade.meters import METERS
from fieldbook.trade.pipes import PIPE_CLASSES, PipeClass
from fieldbook.water.budget import Stretch, pressure_budget
from fieldbook.water.friction import velocity_ft_s
from fieldbook.water.supply import Street, available_flow, curve_psi, meter_loss_psi

VALVE_LOSS_PSI = 3.0
"""A zone valve's loss where its own was not entered (common practice, no source)."""
_RULES = {
    "meter flow": (
        "75 % of the meter's safe flow",
        "Common practice for the 75 %; safe maximum flow: COMAR 20.70.06.03 B.",
    ),
    "meter loss": (
        "the meter, losing at most 10 % of static,",
        "“The Water Source”, design article in the landscape trade press.",
    ),
    "service line": (
        "the velocity limit of the service line",
        "2004 Florida Building Code, Plumbing, App. F, Part II F: 5 ft/s.",
    ),
    "flow test": (
        "the flow test at the pressure the zone needs",
        "NFPA 291, chapter 4: Q2 = Q1 ((Ps - P2) / (Ps - P1))^0.54.",
    ),
}


@dataclass(frozen=True)
class Available:
    """The flow in gpm that the governing rule allows; `rule` names it in a sentence."""

    flow_gpm: float
    rule: str
    source: str


@dataclass(frozen=True)
class HeadPressure:
    """The pressure in psi at a head while its zone runs."""

    head: Head
    run: PipeRun
    psi: float


@dataclass(frozen=True)
class Speed:
    """Velocity in a pipe while a zone runs; `run` is None for the service line."""

    run: PipeRun | None
    flow_gpm: float
    ft_s: float
    limit_ft_s: float
    source: str


@dataclass(frozen=True)
class ZoneWater:
    """What can be said of a zone's water; what is not known is None or empty."""

    flow_gpm: float | None
    available: Available | None
    heads: tuple[HeadPressure, ...]
    speeds: tuple[Speed, ...]


def zone_water(job: LoadedJob, zone: Zone) -> ZoneWater:
    """A zone's flow, what the supply allows it, the pressure at its heads, its velocities."""
    flow_gpm = zone_flow_gpm(job, zone)
    if flow_gpm is None:
        return ZoneWater(None, None, (), ())
    lateral_gpm = _lateral_flows(job, zone)
    return ZoneWater(
        flow_gpm,
        _available(job, zone),
        _head_pressures(job, zone, flow_gpm, lateral_gpm),
        _speeds(job, zone, flow_gpm, lateral_gpm),
    )


def zone_flow_gpm(job: LoadedJob, zone: Zone) -> float | None:
    """The design flow, else the sum of the nozzles entered; None if neither is."""
    entered = amount(zone, "design_flow_gpm")
    if entered is not None:
        return entered
    nozzles = [amount(head, "nozzle_gpm") for head in _heads(job, zone)]
    return sum(nozzle for nozzle in nozzles if nozzle is not None) or None


def _heads(job: LoadedJob, zone: Zone) -> list[Head]:
    """A zone's heads, in the order of its runs."""
    heads = heads_by_run(job)
    return [heads[run.id] for run in job.runs_of(zone.id) if run.id in heads]


def is_made(pipe_class: str, size: str) -> bool:
    """Whether a class is listed in a size; a class that is not known is made in none."""
    return _bore(pipe_class, size) is not None


def _bore(pipe_class: str | None, size: str | None) -> tuple[float, PipeClass] | None:
    """Inside diameter in inches and the class, where both are listed."""
    found = PIPE_CLASSES.get(pipe_class or "")
    bore = found.bores_in.get(size or "") if found is not None else None
    return (bore, found) if bore is not None and found is not None else None


def _test(job: LoadedJob) -> tuple[float, float] | None:
    """Residual in psi and flow in gpm of the usable reading with the largest flow."""
    static_psi = amount(job.supply, "static_psi")
    found = []
    for point in job.flow_test_points:
        residual_psi, flow_gpm = amount(point, "residual_psi"), _tested_gpm(point)
        if static_psi is None or residual_psi is None or flow_gpm is None:
            continue
        if residual_psi < static_psi:
            found.append((residual_psi, flow_gpm))
    return max(found, key=lambda one: one[1], default=None)


def _tested_gpm(point: FlowTestPoint) -> float | None:
    """The flow of a reading, or of its bucket: 60 x gallons / seconds."""
    flow_gpm = amount(point, "flow_gpm")
    gallons, seconds = amount(point, "bucket_gal"), amount(point, "bucket_s")
    if flow_gpm is None and gallons is not None and seconds is not None:
        return 60.0 * gallons / seconds
    return flow_gpm


def _street(job: LoadedJob) -> Street:
    """The supply as `water` takes it."""
    supply = job.supply
    meter = METERS.get(supply.meter_size or "") if supply is not None else None
    own_gpm = amount(supply, "meter_safe_gpm")
    service = _bore(supply.service_class, supply.service_size) if supply is not None else None
    test = _test(job)
    return Street(
        static_psi=amount(supply, "static_psi"),
        meter_safe_gpm=own_gpm or (meter.safe_gpm if meter is not None else None),
        meter_loss_at_safe_psi=meter.loss_at_safe_psi if meter is not None else None,
        service_bore_in=service[0] if service is not None else None,
        service_velocity_ft_s=velocity_maximum().value,
        test_residual_psi=test[0] if test is not None else None,
        test_flow_gpm=test[1] if test is not None else None,
    )


def _available(job: LoadedJob, zone: Zone) -> Available | None:
    """The smallest of the rules whose figures are entered."""
    rated = [amount(head, "rated_psi") for head in _heads(job, zone)]
    needed = amount(zone, "needed_psi") or max((r for r in rated if r is not None), default=None)
    limit = available_flow(_street(job), needed)
    if limit is None:
        return None
    rule, source = _RULES[limit.rule]
    return Available(limit.flow_gpm, rule, source)


def _lateral_flows(job: LoadedJob, zone: Zone) -> Mapping[str, float]:
    """The flow in gpm of each sound lateral run, by its id; empty while a nozzle is not entered."""
    flows: dict[str, float] = defaultdict(float)
    heads = heads_by_run(job)
    for path in lateral_of(job, zone).paths():
        head = heads.get(path[-1].id)
        nozzle_gpm = amount(head, "nozzle_gpm") or 0.0
        if head is not None and not nozzle_gpm:
            return {}
        for run in path:
            flows[run.id] += nozzle_gpm
    return flows


def _stretch(run: PipeRun, flow_gpm: float) -> Stretch | None:
    """A run as `water` takes it; None while a figure is missing."""
    bore, length_ft = _bore(run.pipe_class, run.size), amount(run, "length_ft")
    if bore is None or length_ft is None:
        return None
    return Stretch(length_ft, bore[0], bore[1].c, flow_gpm)


def _at_connection(job: LoadedJob, flow_gpm: float) -> tuple[float, list[Stretch]] | None:
    """Pressure to start from in psi, and the service line still to pass; None if not known."""
    street, supply = _street(job), job.supply
    if street.static_psi is None or supply is None:
        return None
    if street.test_residual_psi is not None and street.test_flow_gpm is not None:
        at_flow = curve_psi(
            street.static_psi, street.test_residual_psi, street.test_flow_gpm, flow_gpm
        )
        return at_flow, []
    safe, loss = street.meter_safe_gpm, street.meter_loss_at_safe_psi
    bore = _bore(supply.service_class, supply.service_size)
    length_ft = amount(supply, "service_length_ft")
    if safe is None or loss is None or bore is None or length_ft is None:
        return None
    behind_meter = street.static_psi - meter_loss_psi(flow_gpm, safe, loss)
    return behind_meter, [Stretch(length_ft, bore[0], bore[1].c, flow_gpm)]


def _devices_psi(job: LoadedJob, zone: Zone) -> float:
    """What the backflow assembly, the zone valve and a master valve take."""
    assembly, valve, master = job.backflow_of(zone), job.valve_of(zone.id), job.master_valve()
    total = 0.0
    if assembly is not None:
        entered = amount(assembly, "loss_psi")
        kind = BACKFLOW_KINDS.get(assembly.kind or "")
        total += entered if entered is not None else (kind.loss_psi if kind is not None else 0.0)
    for one in (valve, master) if master is not None else (valve,):
        entered = amount(one, "loss_psi")
        total += entered if entered is not None else VALVE_LOSS_PSI
    return total


def _head_pressures(
    job: LoadedJob, zone: Zone, flow_gpm: float, lateral_gpm: Mapping[str, float]
) -> tuple[HeadPressure, ...]:
    """The budget of every head whose path is entered in full."""
    start = _at_connection(job, flow_gpm)
    if start is None:
        return ()
    main = [_stretch(run, flow_gpm) for run in mainline_to(job, zone)]
    paths = {path[-1].id: path for path in lateral_of(job, zone).paths()}
    devices_psi = _devices_psi(job, zone)
    found = []
    for height in head_heights(job, zone):
        path: Line = paths[height.run.id]
        lateral = [_stretch(run, lateral_gpm.get(run.id, 0.0)) for run in path]
        pipes = [one for one in (*start[1], *main, *lateral) if one is not None]
        if len(pipes) < len(start[1]) + len(main) + len(lateral) or not lateral_gpm:
            continue
        rise_ft = height.elevation_ft - connection_ft(job)
        left = pressure_budget(start[0], devices_psi, pipes, rise_ft)
        found.append(HeadPressure(height.head, height.run, left.head_psi))
    return tuple(found)


def _speeds(
    job: LoadedJob, zone: Zone, flow_gpm: float, lateral_gpm: Mapping[str, float]
) -> tuple[Speed, ...]:
    """Velocities in the service line, the mainline on the way, and the lateral."""
    limit = velocity_maximum()
    main = mainline_to(job, zone)
    flows = {**dict.fromkeys((run.id for run in main), flow_gpm), **lateral_gpm}
    found = []
    for run in (*main, *job.runs_of(zone.id)):
        bore = _bore(run.pipe_class, run.size)
        if run.id in flows and bore is not None:
            ft_s = velocity_ft_s(flows[run.id], bore[0])
            found.append(Speed(run, flows[run.id], ft_s, limit.value, limit.source))
    service_in = _street(job).service_bore_in
    if service_in is not None:
        ft_s = velocity_ft_s(flow_gpm, service_in)
        found.append(Speed(None, flow_gpm, ft_s, limit.value, limit.source))
    return tuple(found)
