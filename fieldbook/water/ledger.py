"""The pressure ledger of a head: from the street to its nozzle, what each thing takes."""

from __future__ import annotations

from typing import NamedTuple

from fieldbook.water.friction import PSI_PER_FT
from fieldbook.water.network import Network
from fieldbook.water.solution import Solution
from fieldbook.water.topology import topology


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
