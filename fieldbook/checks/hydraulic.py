"""The water of each zone: flow against the supply, pressure at the worst head, velocity in pipes.

What a head needs: the zone's needed pressure, else the pressure its nozzle is rated at. A head
under its published minimum is a stop; one without a minimum is a stop under 90 % of what it needs.
Between that and what it needs it is a fix; with less than 10 % or 3 psi to spare it is a note.
Nothing is said of a zone whose figures are not yet all entered.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.checks.finding import COMMON_PRACTICE, SEVERITIES, At, Finding, Number, Severity
from fieldbook.checks.known import amount
from fieldbook.checks.pipe_rows import check_pipe_rows
from fieldbook.checks.water_inputs import HeadPressure, Speed, ZoneWater, zone_water
from fieldbook.checks.words import quantity, run_name, sentence, speed, zone_name, zone_word
from fieldbook.records.loaded import LoadedJob
from fieldbook.records.pipe import PipeRun
from fieldbook.records.zones import Zone
from fieldbook.units import FLOW, PRESSURE

LEAST_PART = 0.9
"""Without a published minimum, the part of its needed pressure that a head must have."""
SPARE_PART, SPARE_PSI = 0.1, 3.0
"""A margin under either is worth knowing: small-pipe friction is under-predicted by as much."""
_BUDGET = (
    "Pressure budget: Hazen-Williams, 10 % of pipe loss for fittings, 0.433 psi/ft "
    "(International Plumbing Code, Appendix E, E103.2.2); losses not entered are placeholders, "
    "common practice, no source."
)


def check_hydraulics(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every zone's water, then on pipe rows that can't be."""
    waters = [(zone, zone_water(job, zone)) for zone in job.zones]
    for zone, water in waters:
        yield from _flow(job, zone, water)
    for zone, water in waters:
        yield from _pressure(job, zone, water)
    yield from _velocities(job, waters)
    yield from check_pipe_rows(job)


def _flow(job: LoadedJob, zone: Zone, water: ZoneWater) -> Iterator[Finding]:
    """Design flow over the available flow, and the rule that governs it."""
    available = water.available
    if not _over(water):
        return
    assert available is not None
    assert water.flow_gpm is not None
    margin = available.flow_gpm - water.flow_gpm
    wants, gives = quantity(job, water.flow_gpm, FLOW), quantity(job, available.flow_gpm, FLOW)
    yield Finding(
        "flow over supply",
        "stop",
        "ground",
        f"{sentence(zone_name(zone))} draws {wants}, but {available.rule} allows {gives}: "
        f"{quantity(job, -margin, FLOW)} too much.",
        f"Split {zone_word(zone)} or fit smaller nozzles, and correct its design flow or nozzles "
        "at the ground; or correct the meter, service line or flow test at the street.",
        available.source,
        At("zone", zone.id, "design_flow_gpm"),
        (
            Number("design flow", water.flow_gpm, "gpm"),
            Number("available flow", available.flow_gpm, "gpm"),
            Number("margin", margin, "gpm"),
        ),
    )


def _over(water: ZoneWater) -> bool:
    """Whether a zone draws more than the supply allows."""
    if water.flow_gpm is None or water.available is None:
        return False
    return water.flow_gpm > water.available.flow_gpm * (1 + 1e-9)


@dataclass(frozen=True)
class _Verdict:
    """How one head stands: its severity and its margin over what it is held to."""

    severity: Severity
    head: HeadPressure
    held_to_psi: float
    words: str

    @property
    def margin_psi(self) -> float:
        return self.head.psi - self.held_to_psi


def _judge(zone: Zone, at: HeadPressure) -> _Verdict | None:
    """Whether a head's pressure is a flag; None if it is well served or not known."""
    needed = amount(zone, "needed_psi") or amount(at.head, "rated_psi")
    minimum = amount(at.head, "min_psi")
    if minimum is not None and at.psi < minimum:
        return _Verdict("stop", at, minimum, "its minimum is")
    held_to = needed if needed is not None else minimum
    if held_to is None:
        return None
    words = "it needs" if needed is not None else "its minimum is"
    if needed is not None and at.psi < needed:
        severity: Severity = "fix"
        if minimum is None and at.psi < LEAST_PART * needed:
            severity = "stop"
        return _Verdict(severity, at, needed, words)
    margin = at.psi - held_to
    if margin < SPARE_PSI or margin < SPARE_PART * held_to:
        return _Verdict("note", at, held_to, words)
    return None


def _pressure(job: LoadedJob, zone: Zone, water: ZoneWater) -> Iterator[Finding]:
    """The worst head of a zone, by severity and then by margin."""
    judged = [_judge(zone, at) for at in water.heads]
    worst = min(
        (one for one in judged if one is not None),
        key=lambda one: (SEVERITIES.index(one.severity), one.margin_psi),
        default=None,
    )
    if worst is None:
        return
    run, psi = worst.head.run, worst.head.psi
    short = worst.margin_psi < 0
    margin = quantity(job, abs(worst.margin_psi), PRESSURE)
    yield Finding(
        "pressure too low" if short else "little pressure to spare",
        worst.severity,
        "ground",
        f"The head at {run_name(job, run)} gets {quantity(job, psi, PRESSURE)}; {worst.words} "
        f"{quantity(job, worst.held_to_psi, PRESSURE)}: {margin} "
        f"{'short' if short else 'to spare'}.",
        f"Lay larger pipe on the way to that head, or split {zone_word(zone)}, and correct the "
        "runs at the ground.",
        _BUDGET,
        At("pipe_run", run.id, "size"),
        (
            Number("pressure at the head", psi, "psi"),
            Number("needed", worst.held_to_psi, "psi"),
            Number("margin", worst.margin_psi, "psi"),
        ),
    )


def _velocities(job: LoadedJob, waters: list[tuple[Zone, ZoneWater]]) -> Iterator[Finding]:
    """The worst lateral run of each zone, and the worst zone for each shared pipe."""
    shared: dict[str, tuple[Zone, Speed]] = {}
    for zone, water in waters:
        fast = [one for one in water.speeds if one.ft_s > one.limit_ft_s * (1 + 1e-9)]
        lateral = [one for one in fast if one.run is not None and one.run.zone_id is not None]
        if lateral:
            yield _too_fast(job, zone, max(lateral, key=_excess))
        for one in fast:
            # The service line over its limit is what governs the flow: one mistake, one flag.
            if one in lateral or (one.run is None and _over(water)):
                continue
            key = one.run.id if one.run is not None else ""
            if key not in shared or _excess(one) > _excess(shared[key][1]):
                shared[key] = (zone, one)
    mainline = [found for key, found in shared.items() if key]
    if mainline:
        yield _too_fast(job, *max(mainline, key=lambda found: _excess(found[1])))
    if "" in shared:
        yield _too_fast(job, *shared[""])


def _excess(one: Speed) -> float:
    return one.ft_s / one.limit_ft_s


def _too_fast(job: LoadedJob, zone: Zone, one: Speed) -> Finding:
    at, place = _pipe_cell(job, one.run)
    where = run_name(job, one.run) if one.run is not None else "the service line"
    own = one.run is not None and one.run.zone_id == zone.id
    when = "" if own else f" with {zone_name(zone)} on"
    return Finding(
        "water too fast",
        "fix",
        "ground" if place else "street",
        f"Water runs {speed(job, one.ft_s)} in {where}{when}; the limit is "
        f"{speed(job, one.limit_ft_s)}.",
        f"Lay larger pipe for {where}, or draw less in {zone_word(zone)}, and correct the size at "
        f"the {'ground' if place else 'street'}.",
        one.source or COMMON_PRACTICE,
        at,
        (
            Number("velocity", one.ft_s, "ft/s"),
            Number("limit", one.limit_ft_s, "ft/s"),
            Number("flow", one.flow_gpm, "gpm"),
        ),
    )


def _pipe_cell(job: LoadedJob, run: PipeRun | None) -> tuple[At, bool]:
    """The size cell of a run, or of the service line; and whether it is in the ground place."""
    if run is not None:
        return At("pipe_run", run.id, "size"), True
    supply = job.supply
    return At("supply", supply.id if supply is not None else "", "service_size"), False
