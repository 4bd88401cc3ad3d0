"""One network solved again and again with small changes, as a search for remedies does it.

The network is checked and laid out once. Each change replaces what it touches, and is solved from
the flows of the network as it is, which are near.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from fieldbook.water.head_laws import head_figures
from fieldbook.water.losses import loss_of, pump_most_gpm, supply_loss, supply_psi
from fieldbook.water.network import Head, Kind, Network, NetworkError, Regulator, Supply
from fieldbook.water.network_plan import Plan, plan_of
from fieldbook.water.solution import Solution
from fieldbook.water.solver import solve, solve_plan

_NONE: Mapping[str, Kind] = MappingProxyType({})
_ALL: Mapping[str, Head | None] = MappingProxyType({})


class WhatIf:
    """A network that is laid out, and its solution as it is in `now`."""

    def __init__(self, network: Network) -> None:
        """Lay out the network and solve it. Raises NetworkError as `solve` does."""
        self._network, self._plan = network, plan_of(network)
        self.now = solve(network)
        shape = self._plan.shape
        # Which way water runs in a loop, or through a link turned round, may change with any part.
        self._plain = not shape.chords and not shape.against
        self._branch = {link.name: no for no, link in enumerate(shape.links, start=1)}

    def solve(
        self,
        kinds: Mapping[str, Kind] = _NONE,
        heads: Mapping[str, Head | None] = _ALL,
        supply: Supply | None = None,
    ) -> Solution:
        """Solve the network with some parts changed, as `solve` solves the changed network.

        `kinds` are pipes, valves and devices by link name, to stand in the place of those that
        are there; `heads` are heads by the name of the one that each replaces, None for a head
        that does not run. Raises KeyError for a name that the network does not have, NetworkError
        for impossible figures, no head left, or a regulator where there was none.
        """
        if not self._plain:
            return solve(_changed(self._network, kinds, heads, supply))
        plan, near = self._plan, list(self.now.head_gpm)
        if kinds:
            plan = self._with_kinds(plan, kinds)
        if supply is not None:
            power, square, curve = supply_loss(supply)
            plan = plan._replace(
                static=plan.height[0] + supply_psi(supply),
                most_gpm=pump_most_gpm(supply),
                power=[power, *plan.power[1:]],
                square=[square, *plan.square[1:]],
                curve=[curve, *plan.curve[1:]],
            )
        if heads:
            plan, near = self._with_heads(plan, heads, near)
        found = solve_plan(plan, near)
        # What was near may not be so after a large change.
        return found if found.converged else solve_plan(plan)

    def _with_kinds(self, plan: Plan, kinds: Mapping[str, Kind]) -> Plan:
        links, set_psi = plan.shape.links[:], dict(plan.set_psi)
        power, square, curve = plan.power[:], plan.square[:], plan.curve[:]
        for name, kind in kinds.items():
            number = self._branch[name]
            link = links[number - 1]
            if isinstance(kind, Regulator) != isinstance(link.kind, Regulator):
                raise NetworkError(
                    f"Link {name}: a regulator and another part can't change places here; "
                    "solve a network of its own."
                )
            links[number - 1] = link = link._replace(kind=kind)
            power[number], square[number], curve[number] = loss_of(link, self._network)
            if isinstance(kind, Regulator):
                set_psi[number] = kind.set_psi
        shape = plan.shape._replace(links=links)
        return plan._replace(shape=shape, power=power, square=square, curve=curve, set_psi=set_psi)

    def _with_heads(
        self, plan: Plan, heads: Mapping[str, Head | None], near: list[float]
    ) -> tuple[Plan, list[float]]:
        """The plan with other heads, and the flows near theirs."""
        left = dict(heads)
        found = [
            (head, branch, gpm)
            for old, branch, gpm in zip(plan.heads, plan.head_branch, near, strict=True)
            if (head := left.pop(old.name, old)) is not None
        ]
        if left:
            raise KeyError(next(iter(left)))
        if not found:
            raise NetworkError("The network has no head, so no water would run.")
        changed = [head for head, _, _ in found]
        figures = head_figures(changed)
        near = [min(gpm, top) for (_, _, gpm), top in zip(found, figures.most, strict=True)]
        branches = [branch for _, branch, _ in found]
        return plan._replace(heads=changed, head_branch=branches, figures=figures), near


def _changed(
    network: Network,
    kinds: Mapping[str, Kind],
    heads: Mapping[str, Head | None],
    supply: Supply | None,
) -> Network:
    """The network with the changes of `WhatIf.solve`."""
    links = {link.name: link for link in network.links}
    for name, kind in kinds.items():
        links[name] = links[name]._replace(kind=kind)
    left = dict(heads)
    nodes = [
        node._replace(
            heads=tuple(head for old in node.heads if (head := left.pop(old.name, old)) is not None)
        )
        for node in network.nodes
    ]
    if left:
        raise KeyError(next(iter(left)))
    return network._replace(
        links=tuple(links.values()), nodes=tuple(nodes), supply=supply or network.supply
    )
