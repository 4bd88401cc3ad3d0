"""Seeded zones with what is rarer: other head laws, pumps, and assemblies side by side."""

from __future__ import annotations

from random import Random

from laying import Laying
from random_zones import realistic

from fieldbook.water import Device, Head, Link, Network, Pipe, Supply

EXPONENTS = (0.1, 0.3, 0.6, 0.8, 1.0)
"""Those of published emitter laws, from nearly compensating to laminar."""


def with_laws(seed: int) -> Network:
    """A zone of orifices, heads of one other exponent and compensating emitters; some pumped.

    Its tables rise, because EPANET's valves can't follow one that falls.
    """
    network, pick = rising(realistic(seed)), Random(seed)
    exponent = pick.choice(EXPONENTS)

    def changed(head: Head) -> Head:
        draw = pick.random()
        if draw < 0.35:
            return Head.rated(head.name, head.k * 5.0, 20.0, head.regulated_psi, exponent)
        if draw < 0.5:
            least_psi = pick.uniform(8.0, 25.0)
            return Head(head.name, head.k * 4.0, None, 0.0, least_psi, 45.0)
        return head

    nodes = tuple(node._replace(heads=tuple(map(changed, node.heads))) for node in network.nodes)
    supply = pumped(pick) if pick.random() < 0.4 else network.supply
    return network._replace(nodes=nodes, supply=supply)


def any_law(network: Network, seed: int) -> Network:
    """The network with most of its heads of another exponent, or compensating."""
    pick = Random(seed)

    def changed(head: Head) -> Head:
        draw = pick.random()
        if draw < 0.5:
            return head._replace(exponent=pick.choice((0.03, *EXPONENTS)))
        if draw < 0.7:
            least_psi = 10 ** pick.uniform(-1.0, 2.0)
            return head._replace(regulated_psi=None, exponent=0.0, least_psi=least_psi)
        return head

    nodes = tuple(node._replace(heads=tuple(map(changed, node.heads))) for node in network.nodes)
    return network._replace(nodes=nodes)


def pumped(pick: Random) -> Supply:
    """A pump at a tank or pond: a few psi before it, or a little suction."""
    shut_off = pick.uniform(40.0, 80.0)
    parts = ((0.0, 1.0), (5.0, 0.95), (15.0, 0.8), (30.0, 0.4))
    return Supply(pick.uniform(-3.0, 20.0), pump=tuple((gpm, shut_off * p) for gpm, p in parts))


def rising(network: Network) -> Network:
    """The network with the losses of each table in rising order."""

    def sorted_table(link: Link) -> Link:
        if not isinstance(link.kind, Device):
            return link
        flows = [gpm for gpm, _ in link.kind.points]
        losses = sorted(psi for _, psi in link.kind.points)
        return link._replace(kind=Device(tuple(zip(flows, losses, strict=True))))

    return network._replace(links=tuple(map(sorted_table, network.links)))


def side_by_side(seed: int) -> Network:
    """Two or three assemblies with tables, side by side before a row of heads."""
    pick = Random(seed)
    laid = Laying(pick.uniform(30.0, 90.0))
    laid.go("main", Pipe(pick.uniform(10.0, 100.0), pick.choice((1.049, 1.380))))
    joined = ""
    for number in range(pick.choice((2, 2, 3))):
        laid.go(f"in {number}", Pipe(pick.uniform(1.0, 20.0), 0.824), 0.0, "main")
        laid.go(f"assembly {number}", _assembly(pick))
        if pick.random() < 0.3:
            laid.go(f"meter {number}", _assembly(pick))
        if number and pick.random() < 0.3:
            laid.head(pick.uniform(1.0, 3.0))
        out = Pipe(pick.uniform(1.0, 20.0), 0.824)
        if joined:
            laid.close(f"out {number}", joined, out)
        else:
            joined = laid.go(f"out {number}", out).at
    laid.at = joined
    for number in range(pick.randint(1, 8)):
        laid.go(f"run {number}", Pipe(12.0, 0.930), pick.uniform(-2.0, 2.0))
        laid.head(pick.uniform(0.2, 4.0))
    return laid.network()


def _assembly(pick: Random) -> Device:
    opens = pick.uniform(0.0, 10.0)
    middle = opens + pick.uniform(0.0, 2.0)
    most = middle + pick.uniform(0.1, 6.0)
    return Device(
        ((0.0, opens), (pick.uniform(2.0, 8.0), middle), (pick.uniform(10.0, 40.0), most))
    )
