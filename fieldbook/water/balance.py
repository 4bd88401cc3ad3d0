"""A solved network as a crew reads it: supply and zone curves, and where the pressure goes.

Flows are in gpm, pressures in psi.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fieldbook.units import PSI_PER_FT
from fieldbook.water.losses import loss_and_slope, loss_of, supply_loss, supply_psi
from fieldbook.water.network import Network, Supply
from fieldbook.water.solution import Solution
from fieldbook.water.solver import solve
from fieldbook.water.topology import lay_out

Point = tuple[float, float]
"""A flow in gpm and a pressure in psi."""


class OperatingCurves(NamedTuple):
    """Points with rising flow, as a gauge at the end of the street would show them.

    `supply` is what the street can give and falls with flow; `zone` is what the zone takes and
    rises. The zone runs where they meet.
    """

    supply: tuple[Point, ...]
    zone: tuple[Point, ...]


def operating_curves(
    network: Network, street: Sequence[str], most_gpm: float, count: int = 40
) -> OperatingCurves:
    """Supply and zone curves at the end of the links named in `street`.

    Those links (a meter, a service line) follow the source one after the other. The supply curve
    has up to `count` + 1 points from no flow to `most_gpm`, the zone's as many for pressures from
    none to static. Raises NetworkError as `solve` does.
    """
    links = {link.name: link for link in network.links}
    path = [links[name] for name in street]
    end = path[-1].end if path else network.source
    rise_ft = network.node_at[end].elevation_ft - network.node_at[network.source].elevation_ft
    losses = [supply_loss(network.supply), *(loss_of(link, network) for link in path)]
    ceiling_psi = supply_psi(network.supply) - PSI_PER_FT * rise_ft
    supply = []
    for number in range(count + 1):
        gpm = most_gpm * number / count
        psi = ceiling_psi - sum(loss_and_slope(*loss, gpm)[0] for loss in losses)
        if psi >= 0.0:
            supply.append((gpm, psi))
    passed_links = {link.name for link in path}
    passed_nodes = {link.start for link in path}
    zone = network._replace(
        source=end,
        nodes=tuple(node for node in network.nodes if node.name not in passed_nodes),
        links=tuple(link for link in network.links if link.name not in passed_links),
    )
    return OperatingCurves(tuple(supply), _zone_curve(zone, max(ceiling_psi, 0.0), count))


def _zone_curve(zone: Network, most_psi: float, count: int) -> tuple[Point, ...]:
    """What the zone takes at each of `count` + 1 pressures before it."""
    found = []
    for number in range(count + 1):
        psi = most_psi * number / count
        solution = solve(zone._replace(supply=Supply(psi)))
        if solution.converged:
            found.append((solution.supply_gpm, psi))
    return tuple(found)


class Item(NamedTuple):
    """One part on the way and the psi it takes; negative where water runs downhill."""

    name: str
    psi: float


class Ledger(NamedTuple):
    """The pressure of one head: `static_psi` less every item leaves `left_psi` at its inlet."""

    head: str
    static_psi: float
    items: tuple[Item, ...]
    left_psi: float


SUPPLY, HEIGHT = "supply", "height"
"""Names of two items: what the supply loses with flow (negative: its pump adds), and the climb."""


def ledger(network: Network, solution: Solution, head: str) -> Ledger:
    """Where the pressure goes on the way from the source to the head of this name.

    Items are in the order of the water, the height last. Raises KeyError for a head that the
    network does not have.
    """
    result = solution.heads[head]
    static_psi = network.supply.static_psi
    items: list[Item] = []
    shape = lay_out(network)
    at = next(number for number, node in enumerate(shape.nodes) if node.name == result.node)
    while at > 0:
        name = shape.links[at - 1].name
        loss = solution.links[name].loss_psi
        items.append(Item(name, -loss if at in shape.against else loss))
        at = shape.parent[at]
    items.reverse()
    lost_psi = static_psi - solution.source_psi
    if lost_psi:
        items.insert(0, Item(SUPPLY, lost_psi))
    node_at = network.node_at
    rise_ft = node_at[result.node].elevation_ft - node_at[network.source].elevation_ft
    items.append(Item(HEIGHT, PSI_PER_FT * rise_ft))
    return Ledger(head, static_psi, tuple(items), result.psi)
