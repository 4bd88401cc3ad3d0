"""Zones as crews lay them, as they are recorded, and as they then are in the ground.

How far things are off in the ground is common practice, no source.
"""

from __future__ import annotations

import math
from random import Random

from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.water import (
    Device,
    Head,
    Link,
    Network,
    Node,
    Pipe,
    Regulator,
    Supply,
    Valve,
)
from fieldbook.water import Kind as Part

BORES = {"1/2": 0.622, "3/4": 0.804, "1": 1.029, "1-1/4": 1.36}
"""PVC bores in inches (1/2 in and 3/4 in: Schedule 40; the others average, ASTM D1785)."""


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
