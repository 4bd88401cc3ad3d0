"""Where supply and zone meet: what the street can give and what the zone takes, at one point.

The point is behind the things that belong to the supply (a meter, a service line), so that both
curves are pressures a gauge there would show. Flows in gpm, pressures in psi.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from fieldbook.water.friction import PSI_PER_FT
from fieldbook.water.losses import loss_of, supply_loss
from fieldbook.water.network import Network, Supply
from fieldbook.water.newton import drop
from fieldbook.water.solution import Solution
from fieldbook.water.solve import solve
from fieldbook.water.topology import topology

Point = tuple[float, float]


class Duty(NamedTuple):
    """Curves of (gpm, psi) with rising flow. `supply` falls with flow, `zone` rises."""

    supply: tuple[Point, ...]
    zone: tuple[Point, ...]


def duty(network: Network, street: Sequence[str], most_gpm: float, count: int = 40) -> Duty:
    """Both curves at the end of the links named in `street`, which follow the source in a row.

    `count` points of each: the supply's from no flow to `most_gpm`, the zone's for pressures from
    none to static. Raises NetworkError for a network that can't be.
    """
    links = {link.name: link for link in network.links}
    way = [links[name] for name in street]
    end = way[-1].end if way else network.source
    rise_ft = network.node_at[end].elevation_ft - network.node_at[network.source].elevation_ft
    losses = [supply_loss(network.supply), *(loss_of(link, network) for link in way)]
    ceiling_psi = network.supply.static_psi - PSI_PER_FT * rise_ft
    supply = []
    for no in range(count + 1):
        gpm = most_gpm * no / count
        psi = ceiling_psi - sum(drop(*loss, gpm)[0] for loss in losses)
        if psi >= 0.0:
            supply.append((gpm, psi))
    passed = {link.name for link in way}
    gone = {link.start for link in way}
    zone = replace(
        network,
        source=end,
        nodes=tuple(node for node in network.nodes if node.name not in gone),
        links=tuple(link for link in network.links if link.name not in passed),
        _node_at={},
    )
    return Duty(tuple(supply), _takes(zone, max(ceiling_psi, 0.0), count))


def _takes(zone: Network, most_psi: float, count: int) -> tuple[Point, ...]:
    """What the zone takes at each pressure before it."""
    found = []
    for no in range(count + 1):
        psi = most_psi * no / count
        answer = solve(replace(zone, supply=Supply(psi), _node_at={}))
        if answer.converged:
            found.append((answer.supply_gpm, psi))
    return tuple(found)


class Item(NamedTuple):
    """One thing on the way and the psi it takes; a drop in height gives, so it is negative."""

    name: str
    psi: float


class Ledger(NamedTuple):
    """static_psi less every item is left_psi, the pressure at the head's inlet."""

    head: str
    static_psi: float
    items: tuple[Item, ...]
    left_psi: float


SUPPLY, HEIGHT = "supply", "height"
"""The names of what the supply itself loses with flow, and of the height from source to head."""


def ledger(network: Network, solution: Solution, head: str) -> Ledger:
    """The ledger of a head by its name. Raises KeyError for one that the network has not."""
    result = solution.heads[head]
    static_psi = network.supply.static_psi
    items: list[Item] = []
    branches = topology(network).branches
    at = next((no for no, one in enumerate(branches) if one.node == result.node), -1)
    while at >= 0:
        branch = branches[at]
        loss = solution.links[branch.link.name].loss_psi
        items.append(Item(branch.link.name, -loss if branch.against else loss))
        at = branch.parent
    supply = Item(SUPPLY, static_psi - solution.source_psi)
    rise_ft = (
        network.node_at[result.node].elevation_ft - network.node_at[network.source].elevation_ft
    )
    way = [supply, *reversed(items)] if supply.psi else list(reversed(items))
    return Ledger(head, static_psi, (*way, Item(HEIGHT, PSI_PER_FT * rise_ft)), result.psi)
