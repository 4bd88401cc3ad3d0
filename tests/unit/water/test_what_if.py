"""What-if solves: each is as the solver's answer to the changed network, or refused as it is."""

from __future__ import annotations

from random import Random

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from laying import Laying
from random_zones import realistic

from fieldbook.water import (
    Head,
    Kind,
    Network,
    NetworkError,
    Pipe,
    Regulator,
    Solution,
    Supply,
    Valve,
    WhatIf,
    solve,
)

seeds = st.integers(0, 10**6)


def same(one: Solution, other: Solution) -> None:
    """Every head and link is as in the other solution."""
    assert one.converged
    assert other.converged
    assert list(one.heads) == list(other.heads)
    for name, head in one.heads.items():
        assert head.psi == pytest.approx(other.heads[name].psi, abs=1e-6), name
        assert head.gpm == pytest.approx(other.heads[name].gpm, abs=1e-6), name
        assert head.node == other.heads[name].node
    for name, link in one.links.items():
        assert link.gpm == pytest.approx(other.links[name].gpm, abs=1e-6), name
        assert link.loss_psi == pytest.approx(other.links[name].loss_psi, abs=1e-6), name
        assert link.ft_s == pytest.approx(other.links[name].ft_s, abs=1e-6), name


def with_kinds(network: Network, kinds: dict[str, Kind]) -> Network:
    links = tuple(link._replace(kind=kinds.get(link.name, link.kind)) for link in network.links)
    return network._replace(links=links)


def with_heads(network: Network, heads: dict[str, Head | None]) -> Network:
    nodes = tuple(
        node._replace(
            heads=tuple(
                head for old in node.heads if (head := heads.get(old.name, old)) is not None
            )
        )
        for node in network.nodes
    )
    return network._replace(nodes=nodes)


def wider(pick: Random, kind: Kind) -> Kind:
    """Another link of the same sort."""
    if isinstance(kind, Pipe):
        return kind._replace(bore_in=kind.bore_in * pick.uniform(0.8, 1.6), c=140.0)
    if isinstance(kind, Regulator):
        return Regulator(kind.set_psi * pick.uniform(0.5, 1.5))
    return Valve(pick.uniform(4.0, 20.0))


@given(seeds)
@examples(120)
def test_a_change_is_solved_as_the_changed_network_is(seed: int) -> None:
    network, pick = realistic(seed), Random(seed)
    what_if = WhatIf(network)
    same(what_if.now, solve(network))
    chosen = pick.sample(network.links, 3)
    kinds = {link.name: wider(pick, link.kind) for link in chosen}
    every = [head for node in network.nodes for head in node.heads]
    heads: dict[str, Head | None] = {
        head.name: None if pick.random() < 0.4 else head._replace(k=head.k * pick.uniform(0.5, 2))
        for head in every[1:]
        if pick.random() < 0.5
    }
    supply = Supply(pick.uniform(20.0, 100.0))
    same(what_if.solve(kinds), solve(with_kinds(network, kinds)))
    same(what_if.solve(heads=heads), solve(with_heads(network, heads)))
    same(what_if.solve(supply=supply), solve(network._replace(supply=supply)))
    all_of_it = with_heads(with_kinds(network, kinds), heads)._replace(supply=supply)
    same(what_if.solve(kinds, heads, supply), solve(all_of_it))
    # What was tried leaves no trace in what is tried next.
    same(what_if.solve(), solve(network))


def looped() -> Network:
    laid = Laying(60.0).go("main", Pipe(20.0, 1.380)).go("left", Pipe(40.0, 0.824)).head(2.0)
    laid.go("right", Pipe(40.0, 0.824), start="main").head(3.0)
    return laid.close("ring", "left", Pipe(15.0, 0.622)).network()


def test_a_link_that_closes_a_loop_may_change() -> None:
    kinds: dict[str, Kind] = {"ring": Pipe(15.0, 1.049), "main": Valve(9.0)}
    same(WhatIf(looped()).solve(kinds), solve(with_kinds(looped(), kinds)))


def test_what_can_not_be_tried_is_refused() -> None:
    plain = looped()._replace(links=looped().links[:-1])
    for what_if in (WhatIf(plain), WhatIf(looped())):
        with pytest.raises(KeyError, match="nothing"):
            what_if.solve({"nothing": Valve(3.0)})
        with pytest.raises(KeyError, match="nobody"):
            what_if.solve(heads={"nobody": None})
        with pytest.raises(NetworkError, match=r"Link right: .*bore"):
            what_if.solve({"right": Pipe(15.0, 0.0)})
        with pytest.raises(NetworkError, match=r"Link right: .*regulator.*\.|Link right is part"):
            what_if.solve({"right": Regulator(30.0)})
        with pytest.raises(NetworkError, match="no head"):
            what_if.solve(heads={"head left": None, "head right": None})
        with pytest.raises(NetworkError, match="residual"):
            what_if.solve(supply=Supply(40.0, 50.0, 5.0))
