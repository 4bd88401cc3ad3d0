"""The way of the water from the source to one head, and the flow that a tested supply can send.

Flows are in gpm, pressures in psi. A way is kept as a sum of losses over the flow of the source,
so that it can be evaluated at any flow without solving the network again.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from fieldbook.units import PSI_PER_FT
from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.losses import Curve, loss_of
from fieldbook.water.network import Link, Network
from fieldbook.water.solution import Solution
from fieldbook.water.supply_curve import Street

_CLOSE = 1e-9
_MOST_HALVINGS = 60


class Way(NamedTuple):
    """The losses on a way in psi at Q gpm of the source, and its rise in ft.

    They are `power` Q^1.852 + `square` Q^2 + each curve at its own part of Q.
    """

    power: float = 0.0
    square: float = 0.0
    curves: tuple[tuple[Curve, float], ...] = ()
    rise_ft: float = 0.0

    def loss_psi(self, gpm: float) -> float:
        """The pressure lost on the way, the rise included, while the source gives `gpm`."""
        psi = self.power * gpm**FLOW_EXPONENT + self.square * gpm * gpm + PSI_PER_FT * self.rise_ft
        return float(psi + sum(curve(gpm * part)[0] for curve, part in self.curves))


def way_to_head(network: Network, solution: Solution, head: str) -> Way:
    """The way to a head, its links sharing the flow of the source as in the solution.

    A loop is followed along one of its sides. Raises KeyError for a head that is not there.
    """
    node = solution.heads[head].node
    by_end = {link.end: link for link in network.links}
    links: list[Link] = []
    while node != network.source and node in by_end:
        links.append(by_end[node])
        node = links[-1].start
    total = solution.supply_gpm
    parts = [(link, abs(solution.links[link.name].gpm) / total if total else 0.0) for link in links]
    end = solution.heads[head].node
    rise_ft = network.node_at[end].elevation_ft - network.node_at[network.source].elevation_ft
    return way_of(network, parts, rise_ft)


def way_of(network: Network, parts: Iterable[tuple[Link, float]], rise_ft: float) -> Way:
    """The way through links, each with its part of the source's flow.

    Raises NetworkError for figures that no link can have.
    """
    power = square = 0.0
    curves: list[tuple[Curve, float]] = []
    for link, part in parts:
        loss = loss_of(link, network)
        power += loss.power * part**FLOW_EXPONENT
        square += loss.square * part * part
        if loss.curve is not None:
            curves.append((loss.curve, part))
    return Way(power, square, tuple(curves), rise_ft)


def flow_leaving_gpm(street: Street, needed_psi: float, way: Way) -> float | None:
    """The flow at which a tested supply leaves `needed_psi` at the end of a way.

    The supply follows Q2 = Q1 ((Ps - P2) / (Ps - P1))^0.54 (NFPA 291, chapter 4). Zero where even
    standing water has less than that pressure; None without a usable flow test.
    """
    static, residual, tested = street.static_psi, street.test_residual_psi, street.test_flow_gpm
    if static is None or residual is None or not tested or residual >= static:
        return None
    per_gpm = (static - residual) / tested**FLOW_EXPONENT

    def spare_psi(gpm: float) -> float:
        return float(static - per_gpm * gpm**FLOW_EXPONENT - way.loss_psi(gpm) - needed_psi)

    if spare_psi(0.0) <= 0.0:
        return 0.0
    # At this flow the supply alone has no pressure left, whatever the way loses.
    low, high = 0.0, float(tested * (static / (static - residual)) ** (1.0 / FLOW_EXPONENT))
    for _ in range(_MOST_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if spare_psi(middle) > 0.0 else (low, middle)
        if high - low <= _CLOSE * high:
            break
    return low
