"""The shape of a network: a tree from the source, and chords, the links that close loops in it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from operator import itemgetter
from typing import NamedTuple

from fieldbook.water.network import Device, Head, Link, Network, NetworkError, Node, Regulator

_NAME: Callable[[Node | Link | Head], str] = itemgetter(0)


class Chord(NamedTuple):
    """A link that closes a loop, between the far ends of two branches."""

    link: Link
    start: int
    end: int


class Topology(NamedTuple):
    """A tree of numbered branches, in an order that has every parent before its children.

    Branch 0 is the supply, which ends at the source; branch n is `links[n - 1]`. `parent` is -1
    for branch 0. `nodes` are the nodes at the far ends, `at` the branch that ends at each node, by
    name. `against` has the branches in which the water runs from the link's end to its start, so
    that their flow is shown negative. `one_way` names the devices in loops, which might be shut by
    water that would run backwards.
    """

    parent: list[int]
    nodes: list[Node]
    at: dict[str, int]
    links: list[Link]
    against: set[int]
    chords: list[Chord]
    one_way: set[str]


def lay_out(network: Network, *, backwards: bool = False) -> Topology:
    """Lay the network out as a tree with chords.

    `backwards`: a device may lead to a node from behind, as when all else that led there is shut.
    Raises NetworkError, naming the part, for names that are not unique or not there, parts that
    are not connected, one-way devices set against the water, and loops through a regulator or a
    device whose loss falls with flow.
    """
    refuse_doubles("node", network.nodes)
    refuse_doubles("link", network.links)
    shape = _in_order(network)
    if shape is None:
        _refuse_loose_ends(network)
        shape = _spread(network)
        for chord in shape.chords:
            _look_at_loop(chord, shape)
        for number in shape.against:
            link = shape.links[number - 1]
            known = backwards or link.name in shape.one_way
            if isinstance(link.kind, Device) and not known:
                raise _set_against(link)
    return shape


def refuse_doubles(what: str, parts: Sequence[Node | Link | Head]) -> None:
    """Raise NetworkError where two nodes, links or heads have one name."""
    if len(set(map(_NAME, parts))) < len(parts):
        names = [part.name for part in parts]
        double = next(name for name in names if names.count(name) > 1)
        raise NetworkError(f"Two {what}s are named {double}: give each a name of its own.")


def _in_order(network: Network) -> Topology | None:
    """The tree of a network whose links stand in the order of the water, as most do.

    None for any other network: it may have loops, links turned around, or faults.
    """
    node_at = network.node_at
    if network.source not in node_at or len(network.links) != len(network.nodes) - 1:
        return None
    at, parent, nodes = {network.source: 0}, [-1], [node_at[network.source]]
    for number, (_, start, end, _) in enumerate(network.links, start=1):
        up = at.get(start)
        if up is None or end in at or end not in node_at:
            return None
        at[end] = number
        parent.append(up)
        nodes.append(node_at[end])
    return Topology(parent, nodes, at, list(network.links), set(), [], set())


def _refuse_loose_ends(network: Network) -> None:
    node_at = network.node_at
    if network.source not in node_at:
        raise NetworkError(f"The source {network.source} is not a node of the network.")
    for link in network.links:
        if link.start not in node_at or link.end not in node_at:
            end = link.end if link.start in node_at else link.start
            raise NetworkError(f"Link {link.name} leads to {end}, which is not a node.")
        if link.start == link.end:
            raise NetworkError(f"Link {link.name} begins and ends at {link.start}.")


def _spread(network: Network) -> Topology:
    """Walk from the source, nearest nodes first; links that are left over close loops.

    Nothing behind a regulator feeds what is before it, so that is not walked backwards.
    """
    touching: dict[str, list[Link]] = {node.name: [] for node in network.nodes}
    for link in network.links:
        touching[link.start].append(link)
        touching[link.end].append(link)
    at, used = {network.source: 0}, set()
    shape = Topology([-1], [network.node_at[network.source]], at, [], set(), [], set())
    for number, node in enumerate(shape.nodes):
        for link in touching[node.name]:
            against = link.start != node.name
            there = link.start if against else link.end
            if there in at or (against and isinstance(link.kind, Regulator)):
                continue
            at[there] = len(shape.parent)
            used.add(link.name)
            if against:
                shape.against.add(at[there])
            shape.parent.append(number)
            shape.nodes.append(network.node_at[there])
            shape.links.append(link)
    _refuse_unconnected(network, at)
    shape.chords.extend(
        Chord(link, at[link.start], at[link.end]) for link in network.links if link.name not in used
    )
    return shape


def _refuse_unconnected(network: Network, at: dict[str, int]) -> None:
    if len(at) == len(network.nodes):
        return
    for link in network.links:
        if link.end in at and link.start not in at:
            raise _set_against(link)
    node = next(node for node in network.nodes if node.name not in at)
    if node.heads:
        raise NetworkError(f"Head {node.heads[0].name} is not connected to the supply.")
    raise NetworkError(f"Node {node.name} is not connected to the supply.")


def _set_against(link: Link) -> NetworkError:
    return NetworkError(f"Link {link.name} is set against the water: turn it around.")


def _look_at_loop(chord: Chord, shape: Topology) -> None:
    """Note the devices of a loop; refuse one with a part by which its flow can't be told."""
    for link in (chord.link, *(shape.links[number - 1] for number in loop_of(chord, shape.parent))):
        if isinstance(link.kind, Regulator):
            raise NetworkError(
                f"Link {link.name} is part of a loop: a loop can't run through a regulator; "
                "remove one link of it."
            )
        if isinstance(link.kind, Device):
            losses = [psi for _, psi in link.kind.points]
            if losses != sorted(losses):
                raise NetworkError(
                    f"Link {link.name} is part of a loop and its loss falls with flow, so how the "
                    "water parts can't be told: give it a table that rises, or remove one link."
                )
            shape.one_way.add(link.name)


def loop_of(chord: Chord, parent: list[int]) -> list[int]:
    """The branches that a chord makes a loop with."""
    left, right = chord.start, chord.end
    found: list[int] = []
    # Parents come before children, so the larger number is never an ancestor of the smaller:
    # stepping up from the larger meets at the branch where both ways part.
    while left != right:
        if left > right:
            found.append(left)
            left = parent[left]
        else:
            found.append(right)
            right = parent[right]
    return found
