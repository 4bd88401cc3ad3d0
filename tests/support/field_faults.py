"""Zones as crews lay them, with faults dug in and readings as a crew takes them.

Nothing here uses the simulation of `fieldbook.diagnosis`: the true network is built part by part
and solved whole, by another friction law than the record's, with bores, nozzles, curves and heights
off as they are in the ground. Only `axes_of` is shared, which lists what a fault can be. How far
things are off, and how crews see, is common practice, no source; errors of gauges and meter are
those of section "Commissioning and measuring" of the published rules named in `zone_parts`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from random import Random
from typing import NamedTuple

from fieldbook.diagnosis.fault_axes import Axis, Cause, Kind, axes_of
from fieldbook.diagnosis.zone_parts import (
    Measured,
    ZoneParts,
    ZoneReadings,
    gauge_error_psi,
    timed_flow_error,
)
from fieldbook.trade.water_faults import SIGNS, Sign
from fieldbook.water import (
    Device,
    Head,
    Link,
    Network,
    Node,
    Pipe,
    Regulator,
    Solution,
    Supply,
    Valve,
    solve,
)
from fieldbook.water import Kind as Part

BORES = {"1/2": 0.622, "3/4": 0.804, "1": 1.029, "1-1/4": 1.36}
"""PVC bores in inches (1/2 in and 3/4 in: Schedule 40; the others average, ASTM D1785)."""
SMALLER = {1.36: 1.029, 1.029: 0.804, 0.804: 0.622}


class Fault(NamedTuple):
    """A fault dug in: its kind, its place as in `Cause`, and how bad it is in its own figure."""

    kind: Kind
    place: str
    severity: float


def laid(pick: Random, heads: int | None = None) -> ZoneParts:
    """A zone as recorded: 4 to 14 spray or rotor heads on one or two branches."""
    count = pick.randint(4, 14) if heads is None else heads
    spray = pick.random() < 0.6
    rated = 30.0 if spray else 45.0
    nodes, links = [Node("street")], []
    elevation = 0.0

    def go(name: str, kind: Pipe | Device | Valve | Regulator, start: str, rise: float) -> str:
        nonlocal elevation
        elevation += rise
        nodes.append(Node(f"after {name}", elevation))
        links.append(Link(name, start, f"after {name}", kind))
        return f"after {name}"

    at = go("assembly", Device(((0.0, 3.0), (10.0, 3.5), (20.0, 5.0), (40.0, 9.0))), "street", 0.0)
    main = Pipe(pick.uniform(20, 120), BORES["1"], fittings_part=0.1)
    at = go("main 1", main, at, pick.uniform(-2, 2))
    at = go("valve", Valve(pick.uniform(7, 14)), at, 0.0)
    regulated = spray and pick.random() < 0.25
    if regulated:
        at = go("regulator", Regulator(pick.choice((35.0, 40.0))), at, 0.0)
    valve_end, names = at, []
    turn = pick.randint(2, count) if pick.random() < 0.6 else count
    sizes = {count: "1"} if count <= 5 else {count: "1-1/4"}
    for no in range(1, count + 1):
        if no == turn + 1:
            at = valve_end
        left = count - no + 1 if no > turn else turn - no + 1
        size = "3/4" if left <= 4 else "1" if left <= 8 else sizes.get(count, "1")
        pipe = Pipe(pick.uniform(8, 16), BORES[size], fittings_part=0.1)
        at = go(f"run {no}", pipe, at, pick.uniform(-0.6, 0.6))
        part = pick.choice((0.25, 0.5, 0.5, 1.0))
        flow = (3.7 if spray else 4.0) * part
        nodes[-1] = nodes[-1]._replace(heads=(Head.rated(f"head {no}", flow, rated),))
        names.append(f"head {no}")
    supply = Supply(pick.uniform(52, 80))
    drop = pick.uniform(0.12, 0.25) * supply.static_psi
    total = sum(head.k for node in nodes for head in node.heads) * rated**0.5
    supply = supply._replace(residual_psi=supply.static_psi - drop, test_gpm=max(total, 8.0))
    return ZoneParts(
        Network(supply, "street", tuple(nodes), tuple(links)),
        "street",
        ("assembly", "main 1"),
        assembly=True,
        valve="valve",
        laterals=tuple(link.name for link in links if link.name.startswith("run ")),
        heads=tuple(names),
        regulator="regulator" if regulated else None,
        rated_psi=dict.fromkeys(names, rated),
    )


def dug_in(pick: Random, parts: ZoneParts) -> Fault:
    """A fault at a random place, bad enough that somebody would be called."""
    cause = pick.choice([one for axis in axes_of(parts) for one in axis.causes])
    kinds = sorted({one.kind for axis in axes_of(parts) for one in axis.causes})
    # Every kind as often, so that the many places of one kind do not hide the others.
    kind = pick.choice(kinds)
    cause = pick.choice([one for axis in axes_of(parts) for one in axis.causes if one.kind == kind])
    low, high = _SEVERITIES[cause.kind]
    return Fault(cause.kind, cause.place, math.exp(pick.uniform(math.log(low), math.log(high))))


_SEVERITIES: Mapping[Kind, tuple[float, float]] = {
    "blocked": (0.25, 1.0),
    "too_small": (0.3, 0.55),
    "too_large": (0.4, 1.5),
    "missing": (0.9, 2.5),
    "leak": (0.15, 2.5),
    "obstructed": (1.0, 1.0),
    "kink": (5.0, 60.0),
    "undersized": (1.0, 1.0),
    "valve_part_closed": (5.0, 60.0),
    "filter": (5.0, 60.0),
    "regulator_low": (0.2, 0.6),
    "regulator_open": (1.0, 1.0),
    "isolation": (5.0, 60.0),
    "assembly": (5.0, 60.0),
    "street_valve": (5.0, 60.0),
    "supply_fallen": (0.12, 0.5),
    "main_leak": (0.15, 2.0),
    "seat": (1.0, 1.0),
}
"""Of a nozzle the part shut; too large: the part by which it gives more; of leaks and open bodies k
in gpm at 1 psi; of losses psi at the recorded flow; of pressures the part lost."""


def broken(parts: ZoneParts, faults: tuple[Fault, ...]) -> Network:
    """The recorded network with faults built into it."""
    network, recorded = parts.network, _recorded(parts.network)
    pipe_gpm = {name: max(abs(link.gpm), 0.1) for name, link in recorded.links.items()}
    ground = _Ground(parts, recorded.supply_gpm, pipe_gpm)
    for fault in faults:
        if fault.kind in _MAKE:
            network = _MAKE[fault.kind](ground, network, fault)
    return network


@lru_cache(maxsize=16)
def _recorded(network: Network) -> Solution:
    return solve(network)


_Make = Callable[["_Ground", Network, Fault], Network]


class _Ground(NamedTuple):
    """The zone as recorded, with its flow and that of each pipe in gpm."""

    parts: ZoneParts
    zone_gpm: float
    pipe_gpm: Mapping[str, float]


def _leaking(_: _Ground, network: Network, fault: Fault) -> Network:
    nodes = {link.name: link.end for link in network.links}
    standing = {head.name: node.name for node in network.nodes for head in node.heads}
    return _with_leak(network, standing.get(fault.place) or nodes[fault.place], fault.severity)


def _main_leaking(ground: _Ground, network: Network, fault: Fault) -> Network:
    start = next(link.start for link in network.links if link.name == ground.parts.valve)
    return _with_leak(network, start, fault.severity)


def _kinked(ground: _Ground, network: Network, fault: Fault) -> Network:
    return _with_loss(network, fault.place, fault.severity, ground.pipe_gpm[fault.place])


def _valve_losing(ground: _Ground, network: Network, fault: Fault) -> Network:
    return _with_loss(network, ground.parts.valve, fault.severity, ground.zone_gpm)


def _shared_losing(ground: _Ground, network: Network, fault: Fault) -> Network:
    return _with_loss(network, ground.parts.before[0], fault.severity, ground.zone_gpm)


def _street_losing(ground: _Ground, network: Network, fault: Fault) -> Network:
    curb = Valve.rated(fault.severity, ground.zone_gpm)
    return network._replace(
        source="main street",
        nodes=(Node("main street"), *network.nodes),
        links=(Link("curb stop", "main street", network.source, curb), *network.links),
    )


def _fallen(_: _Ground, network: Network, fault: Fault) -> Network:
    static, residual = network.supply.static_psi, network.supply.residual_psi
    lost = static * fault.severity
    assert residual is not None
    supply = network.supply._replace(
        static_psi=static - lost, residual_psi=max(residual - lost, 0.0)
    )
    return network._replace(supply=supply)


def _set_to(network: Network, part: float) -> Network:
    links = tuple(
        link._replace(kind=Regulator(link.kind.set_psi * part))
        if isinstance(link.kind, Regulator)
        else link
        for link in network.links
    )
    return network._replace(links=links)


def _smaller_pipe(_: _Ground, network: Network, fault: Fault) -> Network:
    links = tuple(
        link._replace(kind=_smaller(link.kind))
        if link.name == fault.place and isinstance(link.kind, Pipe)
        else link
        for link in network.links
    )
    return network._replace(links=links)


_MAKE: Mapping[Kind, _Make] = {
    "blocked": lambda _, network, fault: _with_nozzle(network, fault.place, 1.0 - fault.severity),
    "too_small": lambda _, network, fault: _with_nozzle(network, fault.place, 1.0 - fault.severity),
    "too_large": lambda _, network, fault: _with_nozzle(network, fault.place, 1.0 + fault.severity),
    "missing": _leaking,
    "leak": _leaking,
    "main_leak": _main_leaking,
    "kink": _kinked,
    "undersized": _smaller_pipe,
    "valve_part_closed": _valve_losing,
    "filter": _valve_losing,
    "isolation": _shared_losing,
    "assembly": _shared_losing,
    "street_valve": _street_losing,
    "supply_fallen": _fallen,
    "regulator_low": lambda _, network, fault: _set_to(network, 1.0 - fault.severity),
    "regulator_open": lambda _ground, network, _: _set_to(network, 20.0),
}
"""How a fault is built into the network; those that change nothing while it runs are not here."""


def _smaller(pipe: Pipe) -> Pipe:
    return pipe._replace(bore_in=SMALLER.get(pipe.bore_in, pipe.bore_in * 0.78))


def _with_nozzle(network: Network, name: str, part: float) -> Network:
    def changed(head: Head) -> tuple[Head, ...]:
        if head.name != name:
            return (head,)
        return (head._replace(k=head.k * part),) if part > 0.0 else ()

    nodes = tuple(
        node._replace(heads=tuple(new for head in node.heads for new in changed(head)))
        for node in network.nodes
    )
    return network._replace(nodes=nodes)


def _with_leak(network: Network, at: str, k: float) -> Network:
    nodes = tuple(
        node._replace(heads=(*node.heads, Head(f"hole at {at}", k))) if node.name == at else node
        for node in network.nodes
    )
    return network._replace(nodes=nodes)


def _with_loss(network: Network, name: str, psi: float, gpm: float) -> Network:
    """A valve that loses `psi` at `gpm`, behind the link."""
    links: list[Link] = []
    nodes = list(network.nodes)
    for link in network.links:
        if link.name != name:
            links.append(link)
            continue
        nodes.append(Node(f"inside {name}", network.node_at[link.end].elevation_ft))
        links.append(link._replace(end=f"inside {name}"))
        links.append(Link(f"loss in {name}", f"inside {name}", link.end, Valve.rated(psi, gpm)))
    return network._replace(links=tuple(links), nodes=tuple(nodes))


def as_dug(pick: Random, network: Network) -> Network:
    """The network as it is in the ground: another law, and every figure a little off."""

    def off(sigma: float) -> float:
        return max(1.0 + pick.gauss(0.0, sigma), 0.5)

    friction, nozzles, devices = off(0.05), off(0.02), off(0.12)

    def kind(one: Part) -> Part:
        if isinstance(one, Pipe):
            rough = one.length_ft * friction
            return one._replace(length_ft=rough, bore_in=one.bore_in * off(0.008))
        if isinstance(one, Valve):
            return Valve(one.cv / math.sqrt(devices * off(0.05)))
        if isinstance(one, Device):
            part = devices * off(0.05)
            return Device(tuple((gpm, psi * part) for gpm, psi in one.points))
        return one

    nodes = tuple(
        node._replace(
            elevation_ft=node.elevation_ft + (pick.gauss(0.0, 0.4) if node.heads else 0.0),
            heads=tuple(head._replace(k=head.k * nozzles * off(0.03)) for head in node.heads),
        )
        for node in network.nodes
    )
    links = tuple(link._replace(kind=kind(link.kind)) for link in network.links)
    return network._replace(
        supply=_as_today(pick, network.supply),
        nodes=nodes,
        links=links,
        law=pick.choice(("hazen-williams", "darcy-weisbach", "darcy-weisbach")),
    )


def _as_today(pick: Random, supply: Supply) -> Supply:
    """The street at another hour, and a flow test whose readings were off."""
    static = supply.static_psi * (1.0 + pick.gauss(0.0, 0.02)) + pick.gauss(0.0, 0.8)
    if supply.residual_psi is None:
        return supply._replace(static_psi=static)
    drop = supply.static_psi - supply.residual_psi
    drop = max(drop + pick.gauss(0.0, 1.2), 0.2 * drop) * (1.0 + pick.gauss(0.0, 0.03))
    return supply._replace(static_psi=static, residual_psi=max(static - drop, 0.0))


@dataclass(frozen=True)
class Round:
    """What a crew takes on its round of a zone."""

    running: bool
    gauged: tuple[str, ...]
    walked: bool
    ground: bool
    others: bool
    meter: bool
    gallons: float

    @classmethod
    def usual(cls, pick: Random, parts: ZoneParts) -> Round:
        """Static and flow always, the rest as often as a crew has time for it."""
        gauged = pick.sample(parts.heads, min(pick.randint(2, 4), len(parts.heads)))
        return cls(
            pick.random() < 0.7,
            tuple(sorted(gauged)),
            pick.random() < 0.85,
            pick.random() < 0.6,
            pick.random() < 0.6,
            pick.random() < 0.5,
            pick.choice((7.48, 14.96, 20.0)),
        )


def true_values(parts: ZoneParts, network: Network) -> dict[str, float]:
    """What perfect instruments would show: "static", "running", "flow" and every head."""
    found = solve(network)
    assert found.converged
    standing = {head.name: node.name for node in parts.network.nodes for head in node.heads}
    values = {
        "static": network.supply.static_psi,
        "running": found.node_psi[parts.gauge],
        "flow": found.supply_gpm,
    }
    return {**values, **{head: found.node_psi[standing[head]] for head in parts.heads}}


def read(pick: Random, parts: ZoneParts, faults: tuple[Fault, ...], what: Round) -> ZoneReadings:
    """A crew's readings of a zone with faults, on one day."""
    true = true_values(parts, as_dug(pick, broken(parts, faults)))

    def gauge(psi: float) -> Measured:
        error = gauge_error_psi(psi)
        shown = round(max(psi + pick.gauss(0.0, error / 1.96), 0.0))
        return Measured.within(float(shown), math.hypot(error, 0.5))

    seconds = 60.0 * what.gallons / max(true["flow"], 0.2)
    watched = max(seconds * (1.0 + pick.gauss(0.0, 0.0075)) + pick.gauss(0.0, 0.5), 1.0)
    flow = 60.0 * what.gallons / watched
    signs = seen_signs(pick, parts, faults, true) if what.walked else {}
    wet = {one.place for one in faults if one.kind in ("leak", "missing") and pick.random() < 0.55}
    shared = any(one.kind in SHARED for one in faults)
    runs_on = any(one.kind in RUNS_ON for one in faults)
    return ZoneReadings(
        gauge(true["static"]),
        gauge(true["running"]) if what.running else None,
        Measured.within(flow, flow * timed_flow_error(what.gallons, watched)),
        {head: gauge(true[head]) for head in what.gauged},
        signs,
        frozenset(wet) if what.ground else frozenset(),
        what.ground,
        ("weak" if pick.random() < (0.85 if shared else 0.03) else "fine") if what.others else None,
        ("moves" if pick.random() < (0.85 if runs_on else 0.01) else "still")
        if what.meter
        else None,
        "never stops"
        if what.walked and any(one.kind == "seat" for one in faults) and pick.random() < 0.8
        else None,
    )


SHARED = ("isolation", "assembly", "street_valve", "supply_fallen", "main_leak")
RUNS_ON = ("main_leak", "seat")
_MISSEEN: Mapping[Sign, float] = {
    "misting": 0.003,
    "weak": 0.005,
    "low": 0.005,
    "short": 0.005,
    "dry": 0.0005,
    "gush": 0.0005,
    "fine": 0.01,
}
"""How often each is noted of a head where something else is there."""


def seen_signs(
    pick: Random, parts: ZoneParts, faults: tuple[Fault, ...], true: Mapping[str, float]
) -> dict[str, Sign]:
    """What a crew notes of each head on its walk."""
    usual = true_values(parts, parts.network)
    found = {}
    for head in parts.heads:
        chances = sign_chances(head, parts, faults, true[head], usual[head])
        found[head] = pick.choices(SIGNS, [chances[sign] for sign in SIGNS])[0]
    return found


def sign_chances(
    head: str, parts: ZoneParts, faults: tuple[Fault, ...], psi: float, usual: float
) -> dict[Sign, float]:
    """What a crew notes of a head: mostly what is there, now and then something else."""
    there = next((one for one in faults if one.place == head), None)
    seen = _at_fault(there) if there is not None else None
    if seen is None:
        seen = _by_pressure(psi / max(usual, 1.0), psi / parts.rated_psi[head])
    chances = dict(_MISSEEN)
    for sign, part in seen.items():
        chances[sign] += (1.0 - sum(_MISSEEN.values())) * part
    total = sum(chances.values())
    return {sign: chance / total for sign, chance in chances.items()}


def _by_pressure(part: float, of_rated: float) -> dict[Sign, float]:
    if part < 0.05:
        return {"dry": 1.0}
    if part < 0.35:
        return {"low": 0.5, "weak": 0.35, "dry": 0.15}
    if part < 0.75:
        return {"weak": 0.75, "low": 0.1, "fine": 0.15}
    if of_rated > 1.6:
        return {"misting": 0.7, "fine": 0.3}
    return {"fine": 1.0}


def _at_fault(fault: Fault) -> dict[Sign, float] | None:
    match fault.kind:
        case "blocked" | "too_small":
            if fault.severity > 0.9:
                return {"dry": 0.95, "short": 0.05}
            return {"short": 0.55, "weak": 0.25, "fine": 0.2}
        case "too_large":
            return {"fine": 0.6, "short": 0.25, "gush": 0.15}
        case "missing":
            return {"gush": 0.97, "weak": 0.03}
        case "obstructed":
            return {"short": 0.6, "low": 0.3, "fine": 0.1}
        case _:
            return None


def group_of(parts: ZoneParts, fault: Fault) -> Axis:
    """The axis that a fault belongs to, with all that changes the water in the same way."""
    return next(
        axis
        for axis in axes_of(parts)
        for cause in axis.causes
        if (cause.kind, cause.place) == (fault.kind, fault.place)
    )


def severities_of(cause: Cause) -> list[float]:
    """A grid of a cause's severities, in the figures of this file."""
    low, high = _SEVERITIES[cause.kind]
    if low == high:
        return [low]
    # Wider than faults are dug in, so that a rival may fit better than any that is.
    low, high = low / 1.5, high if cause.kind == "blocked" else high * 1.5
    if cause.kind in ("too_small", "regulator_low", "supply_fallen"):
        high = min(high, 0.9)
    return [low * (high / low) ** (step / 6) for step in range(7)]


def without_readings(readings: ZoneReadings) -> ZoneReadings:
    """The same round with the gauges left at home: what was seen alone."""
    return replace(readings, static=None, running=None, flow=None, heads={})
