"""Faults dug into a zone, built part by part into its network.

Nothing here uses the simulation of `fieldbook.diagnosis`: the faulty network is laid out and solved
whole. Only `axes_of` is shared, which lists what a fault can be.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from random import Random
from typing import NamedTuple

from fieldbook.diagnosis.fault_axes import Axis, Cause, Kind, axes_of
from fieldbook.diagnosis.zone_parts import (
    ZoneParts,
)
from fieldbook.water import (
    Head,
    Link,
    Network,
    Node,
    Pipe,
    Regulator,
    Solution,
    Valve,
    solve,
)

SMALLER = {1.36: 1.029, 1.029: 0.804, 0.804: 0.622}


class Fault(NamedTuple):
    """A fault dug in: its kind, its place as in `Cause`, and how bad it is in its own figure."""

    kind: Kind
    place: str
    severity: float


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
