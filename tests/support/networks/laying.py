"""Builds small networks from the street on, and measures how well a solution balances."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict

from fieldbook.water import (
    Device,
    Head,
    HeadResult,
    Link,
    LinkResult,
    Network,
    Node,
    Pipe,
    Regulator,
    Solution,
    Supply,
    Valve,
    velocity_ft_s,
)
from fieldbook.water.friction import darcy_weisbach, hazen_williams_psi, viscosity_ft2_s
from fieldbook.water.network import Kind, Law

_PSI_PER_FT = 0.433  # International Plumbing Code, Appendix E, E103.2.2.
_G_FT_S2 = 32.174


class Laying:
    """A network that is being built; `at` is the node where its last link ends."""

    def __init__(
        self, static_psi: float, residual_psi: float | None = None, test_gpm: float | None = None
    ) -> None:
        """Begin at the street; with a residual, the supply follows the curve of that flow test."""
        self.supply = Supply(static_psi, residual_psi, test_gpm)
        self.at = "street"
        self._nodes = {"street": Node("street")}
        self._links: list[Link] = []

    def go(self, name: str, kind: Kind, rise_ft: float = 0.0, start: str = "") -> Laying:
        """Add a link behind the last one, or behind `start`, ending at a node of its own name."""
        start = start or self.at
        height = self._nodes[start].elevation_ft + rise_ft
        self._nodes[name] = Node(name, height)
        self._links.append(Link(name, start, name, kind))
        self.at = name
        return self

    def close(self, name: str, end: str, kind: Kind) -> Laying:
        """Close a loop from the last node to another."""
        self._links.append(Link(name, self.at, end, kind))
        return self

    def head(self, gpm: float, psi: float = 30.0, regulated_psi: float | None = None) -> Laying:
        """Add a head at the last node, named after it."""
        node = self._nodes[self.at]
        head = Head.rated(f"head {self.at}{'+' * len(node.heads)}", gpm, psi, regulated_psi)
        self._nodes[self.at] = node._replace(heads=(*node.heads, head))
        return self

    def network(self, law: Law = "hazen-williams", water_deg_f: float = 60.0) -> Network:
        """The network that was built."""
        nodes, links = tuple(self._nodes.values()), tuple(self._links)
        return Network(self.supply, "street", nodes, links, law, water_deg_f)


def worked(heads: int = 6, service_in: float = 1.025) -> Laying:
    """The worked zone: 60 psi, 3/4 in meter, copper L, assembly, valve, mainline, 2 gpm heads.

    Fittings are 10 % of the laid pipe's loss; heads are regulated where they are rated, 30 psi.
    """
    laid = Laying(60.0).go("meter", Valve.rated(15.0, 30.0))
    laid.go("service", Pipe(60.0, service_in, 140.0, fittings_part=0.1))
    laid.go("assembly", Device(((0.0, 4.0),))).go("valve", Device(((0.0, 3.0),)))
    laid.go("main", Pipe(80.0, 1.049, fittings_part=0.1), 6.0)
    for no in range(1, heads + 1):
        laid.go(f"run {no}", Pipe(12.0, 1.189, fittings_part=0.1)).head(2.0, 30.0, 30.0)
    return laid


def worst(solution: Solution) -> HeadResult:
    """The head with the least pressure."""
    return min(solution.heads.values(), key=lambda head: head.psi)


def imbalance(network: Network, solution: Solution) -> tuple[float, float]:
    """The largest error in psi along any link and the supply, and in gpm at any node or head.

    Worked out anew from the published formulas, not with the solver's own numbers.
    """
    left: defaultdict[str, float] = defaultdict(float)
    psi, worst = solution.node_psi, 0.0
    for link in network.links:
        found = solution.links[link.name]
        left[link.start] -= found.gpm
        left[link.end] += found.gpm
        start, end = network.node_at[link.start], network.node_at[link.end]
        fall = _PSI_PER_FT * (start.elevation_ft - end.elevation_ft)
        got = psi[link.start] - psi[link.end] + fall
        worst = max(worst, abs(got - _lost(network, link, found, psi[link.end])))
    for node in network.nodes:
        for head in node.heads:
            gpm = solution.heads[head.name].gpm
            left[node.name] -= gpm
            left[head.name] = _head_off(head, gpm, psi[node.name])
    left[network.source] += solution.supply_gpm
    worst = max(worst, abs(_supplied(network.supply, solution.supply_gpm) - solution.source_psi))
    return worst, max(map(abs, left.values()))


def _head_off(head: Head, gpm: float, psi: float) -> float:
    """By how much a head's flow is off, in gpm; or the pressure that it needs, in psi, if less.

    A law that is nearly a step gives almost any flow at a pressure near zero.
    """
    off = abs(gpm - _given(head, psi))
    if gpm <= 0.0:
        return off
    if head.exponent == 0.0:
        needed = float((head.least_psi or 0.0) * (gpm / head.k) ** 2)
    else:
        needed = float((gpm / head.k) ** (1.0 / head.exponent))
    return min(off, abs(needed - min(psi, head.regulated_psi or psi)))


def _given(head: Head, psi: float) -> float:
    """The flow of a head in gpm at a pressure in psi."""
    if psi <= 0.0:
        return 0.0
    if head.exponent == 0.0:
        return float(head.k * min(psi / (head.least_psi or 0.0), 1.0) ** 0.5)
    return float(head.k * min(psi, head.regulated_psi or psi) ** head.exponent)


def _supplied(supply: Supply, gpm: float) -> float:
    pumped = _on_curve(supply.pump, gpm) if supply.pump else 0.0
    if supply.residual_psi is None or supply.test_gpm is None:
        return supply.static_psi + pumped
    drop = supply.static_psi - supply.residual_psi
    return supply.static_psi + pumped - drop * float((gpm / supply.test_gpm) ** supply.exponent)


def _on_curve(points: tuple[tuple[float, float], ...], gpm: float) -> float:
    """The pressure of a pump in psi: straight between its points and beyond the last."""
    at = min(bisect_right([flow for flow, _ in points], gpm), len(points) - 1)
    (x, y), (to_x, to_y) = points[at - 1], points[at]
    return y + (to_y - y) / (to_x - x) * (gpm - x)


def _lost(network: Network, link: Link, found: LinkResult, end_psi: float) -> float:
    """The pressure that a link should lose at its flow, in psi."""
    size, sign, kind = abs(found.gpm), -1.0 if found.gpm < 0 else 1.0, link.kind
    if isinstance(kind, Regulator):
        if found.state == "open":
            return 0.0
        return found.loss_psi if abs(end_psi - kind.set_psi) < 1e-6 else float("inf")
    if isinstance(kind, Valve):
        return sign * (size / kind.cv) ** 2
    if isinstance(kind, Device) and found.state == "shut":
        # What it holds back is not enough to open it.
        opens = found.loss_psi <= _read(kind.points, 0.0) + 1e-6
        return found.loss_psi if opens and not size else float("inf")
    if isinstance(kind, Device):
        return _read(kind.points, size)
    length_ft = kind.length_ft + kind.fittings_ft
    loss = hazen_williams_psi(size, kind.bore_in, kind.c, length_ft)
    own = hazen_williams_psi(size, kind.bore_in, kind.c, kind.length_ft)
    if network.law == "darcy-weisbach":
        nu = viscosity_ft2_s(network.water_deg_f)
        loss = darcy_weisbach(size, kind.bore_in, kind.roughness_ft, length_ft, nu)[0]
        own = darcy_weisbach(size, kind.bore_in, kind.roughness_ft, kind.length_ft, nu)[0]
    speed = velocity_ft_s(size, kind.bore_in)
    local = kind.fittings_k * _PSI_PER_FT * speed**2 / (2 * _G_FT_S2)
    return sign * (loss + kind.fittings_part * own + local)


def _read(points: tuple[tuple[float, float], ...], gpm: float) -> float:
    """The value of a table: straight between its points, and straight on beyond the last."""
    if len(points) == 1 or gpm <= points[0][0]:
        return points[0][1]
    at = min(bisect_right([flow for flow, _ in points], gpm), len(points) - 1)
    (x, y), (to_x, to_y) = points[at - 1], points[at]
    slope = (to_y - y) / (to_x - x)
    return y + slope * (gpm - x) if gpm <= to_x else to_y + max(slope, 0.0) * (gpm - to_x)
