"""A zone on the bench: its network with a place for every fault, solved again with each.

The network gets a throttle without loss before the meter, behind the gauge's tap and before the
zone's valve, and a leak that all but leaks nothing at every node, so that each fault replaces one
part and the network is laid out once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from fieldbook.diagnosis.fault_axes import Axis, lateral_ends
from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.water import (
    Device,
    Head,
    Kind,
    Link,
    Network,
    NetworkError,
    Node,
    Pipe,
    Regulator,
    Solution,
    Supply,
    Valve,
    WhatIf,
    velocity_ft_s,
)
from fieldbook.water.advice import shifted
from fieldbook.water.losses import VELOCITY_HEAD_PSI

_STANDS_OPEN_PSI = 900.0
_NO_LEAK_K = 1e-6
_NO_LOSS = Pipe(0.0, 1.0)
STATIC, RUNNING, FLOW, FIRST_HEAD = 0, 1, 2, 3
"""Where a signature has static, running pressure, flow, and the first head's pressure."""
Signature = tuple[float, ...]
"""Static and running pressure at the tap, the zone's flow, and the pressure at each head."""


@dataclass(frozen=True)
class Changed:
    """What is replaced in the network; static_psi: what the tap shows with everything off."""

    kinds: Mapping[str, Kind] = field(default_factory=dict)
    heads: Mapping[str, Head | None] = field(default_factory=dict)
    supply: Supply | None = None
    static_psi: float | None = None

    def joined(self, other: Changed) -> Changed | None:
        """Both changes; None where they replace the same part."""
        if self.kinds.keys() & other.kinds.keys() or self.heads.keys() & other.heads.keys():
            return None
        if None not in (self.supply, other.supply):
            return None
        static = self.static_psi if other.static_psi is None else other.static_psi
        return Changed(
            {**self.kinds, **other.kinds},
            {**self.heads, **other.heads},
            self.supply or other.supply,
            static,
        )


class FaultBench:
    """The zone's network laid out once, its `base` signature, and the solves made so far."""

    def __init__(self, parts: ZoneParts, static_psi: float | None) -> None:
        """Lay it out with the static pressure that was read, if it was.

        Raises NetworkError for a network that can't be solved as it is.
        """
        if not parts.heads:
            raise NetworkError("The zone has no head, so no water would run.")
        self.parts, self.solves = parts, 0
        self.recorded = parts.network.supply
        self.static_read = static_psi is not None
        off = 0.0 if static_psi is None else static_psi - self.recorded.static_psi
        self.supply = shifted(self.recorded, off) if off else self.recorded
        self._standing = {head: node for head, (_, node) in lateral_ends(parts).items()}
        self.network = _with_places(parts, self.supply, self._leaking())
        self.what_if = WhatIf(self.network)
        if not self.what_if.now.converged:
            raise NetworkError("The zone's network does not solve as it is.")
        self.links = {link.name: link.kind for link in self.network.links}
        self.heads = {head.name: head for node in self.network.nodes for head in node.heads}
        self.base = self._signature(self.what_if.now, Changed())

    def _leaking(self) -> dict[str, str]:
        """By node, what a leak there is called."""
        nodes = [*self._standing.values()]
        nodes += [link.end for link in self.parts.network.links]
        return {node: f"leak at {node}" for node in dict.fromkeys(nodes)}

    def solve(self, changed: Changed) -> Signature | None:
        """The signature with a change; None where the network then has no solution to trust."""
        self.solves += 1
        try:
            found = self.what_if.solve(changed.kinds, changed.heads, changed.supply)
        except (NetworkError, KeyError):
            return None
        return self._signature(found, changed) if found.converged else None

    def _signature(self, solution: Solution, changed: Changed) -> Signature:
        psi = solution.node_psi
        static = self.recorded.static_psi if changed.static_psi is None else changed.static_psi
        at_heads = (psi[self._standing[head]] for head in self.parts.heads)
        return (static, psi[self.parts.gauge], solution.supply_gpm, *at_heads)

    def psi_at(self, node: str) -> float:
        """The pressure at a node in the zone as it should be, at least 1 psi."""
        return max(self.what_if.now.node_psi[node], 1.0)

    def change(self, axis: Axis, severity: float) -> Changed:
        """What an axis replaces at a severity."""
        if axis.change in _THROTTLES:
            return Changed(kinds={_THROTTLES[axis.change]: self._throttle(severity)})
        makers: Mapping[str, Callable[[str, float], Changed]] = {
            "less at a head": self._blocked,
            "more at a node": self._leak,
            "more before the valve": self._main_leak,
            "lateral loses": self._throttled_pipe,
            "street pressure": self._fallen,
            "regulator low": self._regulator_low,
            "regulator open": self._regulator_open,
        }
        return makers[axis.change](axis.place, severity) if axis.change in makers else Changed()

    def _blocked(self, name: str, part: float) -> Changed:
        head = self.heads[name]
        return Changed(heads={name: head._replace(k=head.k * (1.0 - part)) if part < 1.0 else None})

    def _leak(self, place: str, gpm: float) -> Changed:
        node = self._standing.get(place, place)
        name = f"leak at {node}"
        return Changed(heads={name: Head(name, gpm / self.psi_at(node) ** 0.5)})

    def _main_leak(self, _: str, gpm: float) -> Changed:
        links, valve = self.parts.network.links, self.parts.valve
        return self._leak(next(link.start for link in links if link.name == valve), gpm)

    def _throttle(self, lost_psi: float) -> Kind:
        return Valve.rated(lost_psi, max(self.what_if.now.supply_gpm, 0.1))

    def _throttled_pipe(self, name: str, lost_psi: float) -> Changed:
        """The pipe with so much more K that it loses so much more at the flow it has now."""
        pipe = self.links[name]
        assert isinstance(pipe, Pipe)
        gpm = max(abs(self.what_if.now.links[name].gpm), 0.1)
        head_psi = VELOCITY_HEAD_PSI * velocity_ft_s(gpm, pipe.bore_in) ** 2
        kinked = pipe._replace(fittings_k=pipe.fittings_k + lost_psi / head_psi)
        return Changed(kinds={name: kinked})

    def _fallen(self, _: str, part: float) -> Changed:
        fallen = self.recorded.static_psi * (1.0 - part)
        if self.static_read:
            # The network has the pressure that was read already: only the record is off.
            return Changed(static_psi=fallen)
        supply = shifted(self.recorded, fallen - self.recorded.static_psi)
        return Changed(supply=supply, static_psi=fallen)

    def _regulator_low(self, _: str, part: float) -> Changed:
        return self._regulated(lambda set_psi: set_psi * (1.0 - part))

    def _regulator_open(self, _: str, _part: float) -> Changed:
        return self._regulated(lambda _set_psi: _STANDS_OPEN_PSI)

    def _regulated(self, sets: Callable[[float], float]) -> Changed:
        name = self.parts.regulator
        kind = self.links[name] if name is not None else None
        if name is None or not isinstance(kind, Regulator):
            return Changed()
        return Changed(kinds={name: Regulator(sets(kind.set_psi))})

    def doubted(self, changed: Changed, doubts: Mapping[str, float]) -> list[Signature]:
        """The signature with a change and each thing that is not known exactly off by one sigma.

        `doubts` has friction, devices and nozzles as parts, supply_drop as a part of the flow
        test's drop, and static in psi.
        """
        supply = changed.supply or self.supply
        nozzles = {
            name: head._replace(k=head.k * (1.0 + doubts["nozzles"]))
            for name, head in {**self.heads, **changed.heads}.items()
            if head is not None and head.k > _NO_LEAK_K
        }
        trials = (
            replace(changed, kinds={**changed.kinds, **self._rougher(changed, doubts["friction"])}),
            replace(changed, kinds={**changed.kinds, **self._lossier(doubts["devices"])}),
            replace(changed, heads={**changed.heads, **nozzles}),
            replace(changed, supply=_steeper(supply, 1.0 + doubts["supply_drop"])),
            replace(changed, supply=shifted(supply, doubts["static"])),
        )
        return [one for one in map(self.solve, trials) if one is not None]

    def _rougher(self, changed: Changed, by: float) -> dict[str, Kind]:
        part = 1.0 + by
        pipes = {**self.links, **changed.kinds}
        return {
            name: kind._replace(
                length_ft=kind.length_ft * part, fittings_ft=kind.fittings_ft * part
            )
            for name, kind in pipes.items()
            if isinstance(kind, Pipe) and kind.length_ft > 0.0
        }

    def _lossier(self, by: float) -> dict[str, Kind]:
        part = 1.0 + by
        found: dict[str, Kind] = {}
        for name, kind in self.links.items():
            if isinstance(kind, Device):
                found[name] = Device(tuple((gpm, psi * part) for gpm, psi in kind.points))
            elif isinstance(kind, Valve):
                found[name] = Valve(kind.cv / part**0.5)
        return found


_THROTTLES = {
    "street loses": "throttle at the meter",
    "shared part loses": "throttle behind the tap",
    "valve loses": "throttle at the valve",
}


def _with_places(parts: ZoneParts, supply: Supply, leaks: Mapping[str, str]) -> Network:
    """The network with throttles and leaks at their places."""
    network = parts.network
    street, tap, valve = _THROTTLES.values()
    nodes = [
        node._replace(heads=(*node.heads, *_leak_here(leaks, node.name))) for node in network.nodes
    ]
    source = network.node_at[network.source]
    nodes.insert(0, Node(f"before {street}", source.elevation_ft))
    links = [Link(street, f"before {street}", network.source, _NO_LOSS)]
    first = parts.before[0] if parts.before else parts.valve
    for link in network.links:
        start = link.start
        places = [(tap, first), (valve, parts.valve)]
        for name in (name for name, at in places if at == link.name):
            nodes.append(Node(f"behind {name}", network.node_at[link.start].elevation_ft))
            links.append(Link(name, start, f"behind {name}", _NO_LOSS))
            start = f"behind {name}"
        links.append(link._replace(start=start))
    return network._replace(
        supply=supply, source=f"before {street}", nodes=tuple(nodes), links=tuple(links)
    )


def _leak_here(leaks: Mapping[str, str], node: str) -> Iterable[Head]:
    return (Head(leaks[node], _NO_LEAK_K),) if node in leaks else ()


def _steeper(supply: Supply, part: float) -> Supply:
    """The supply with a flow test that dropped the pressure by so much more."""
    if supply.residual_psi is None:
        return supply
    drop = (supply.static_psi - supply.residual_psi) * part
    return supply._replace(residual_psi=max(supply.static_psi - drop, 0.0))
