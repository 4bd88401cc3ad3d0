"""The shape of a network: a tree from the source, and chords, the links that close loops in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from fieldbook.water.network import Device, Link, Network, NetworkError, Regulator


class Branch(NamedTuple):
    """A link of the tree: from the far end of branch `parent` (-1: from the source) to `node`.

    `against`: the water runs from the link's end to its start, so its flow is shown negative.
    """

    link: Link
    parent: int
    node: str
    against: bool


class Chord(NamedTuple):
    """A link that closes a loop, between the far ends of two branches (-1: the source)."""

    link: Link
    start: int
    end: int


@dataclass(frozen=True)
class Topology:
    """Branches in an order that has every parent before its children."""

    branches: tuple[Branch, ...]
    chords: tuple[Chord, ...]


def lay_out(network: Network) -> Topology:
    """Lay the network out as a tree with chords.

    Raises NetworkError, naming the part, for names that are not unique or not there, parts that
    are not connected, one-way devices set against the water, and loops through a device or
    regulator.
    """
    _check_names(network)
    branches, chord_links, at = _spread(network)
    _refuse_unconnected(network, at)
    chords = tuple(Chord(link, at[link.start], at[link.end]) for link in chord_links)
    for chord in chords:
        _refuse_devices(chord, branches)
    return Topology(tuple(branches), chords)


def _check_names(network: Network) -> None:
    for what, names in (
        ("node", [node.name for node in network.nodes]),
        ("link", [link.name for link in network.links]),
        ("head", [head.name for node in network.nodes for head in node.heads]),
    ):
        if len(set(names)) < len(names):
            double = next(name for name in names if names.count(name) > 1)
            raise NetworkError(f"Two {what}s are named {double}: give each a name of its own.")
    node_at = network.node_at
    if network.source not in node_at:
        raise NetworkError(f"The source {network.source} is not a node of the network.")
    for link in network.links:
        if link.start not in node_at or link.end not in node_at:
            end = link.end if link.start in node_at else link.start
            raise NetworkError(f"Link {link.name} leads to {end}, which is not a node.")
        if link.start == link.end:
            raise NetworkError(f"Link {link.name} begins and ends at {link.start}.")


def _spread(network: Network) -> tuple[list[Branch], list[Link], dict[str, int]]:
    """Walk from the source, nearest nodes first.

    Returns the branches, the links that close loops, and each reached node's branch by name.
    """
    touching: dict[str, list[Link]] = {node.name: [] for node in network.nodes}
    for link in network.links:
        touching[link.start].append(link)
        touching[link.end].append(link)
    at: dict[str, int] = {network.source: -1}
    branches: list[Branch] = []
    chords: dict[str, Link] = {}
    came_by: dict[str, Link] = {}
    queue = [network.source]
    for here in queue:
        came = came_by.get(here)
        for link in touching[here]:
            if link is came:
                continue
            against = link.start != here
            there = link.start if against else link.end
            if there in at:
                if link is not came_by.get(there):
                    chords[link.name] = link
                continue
            if against and isinstance(link.kind, Device | Regulator):
                raise NetworkError(f"Link {link.name} is set against the water: turn it around.")
            at[there] = len(branches)
            came_by[there] = link
            branches.append(Branch(link, at[here], there, against))
            queue.append(there)
    return branches, list(chords.values()), at


def _refuse_unconnected(network: Network, at: dict[str, int]) -> None:
    for node in network.nodes:
        if node.name in at:
            continue
        if node.heads:
            raise NetworkError(f"Head {node.heads[0].name} is not connected to the supply.")
        raise NetworkError(f"Node {node.name} is not connected to the supply.")


def _refuse_devices(chord: Chord, branches: list[Branch]) -> None:
    """Refuse a loop with a part that works one way only; it may have pipes and valves."""
    for link in (chord.link, *(branches[number].link for number in _loop_of(chord, branches))):
        if isinstance(link.kind, Device | Regulator):
            raise NetworkError(
                f"Link {link.name} is part of a loop: a loop can't run through a device or "
                "regulator; remove one link of it."
            )


def _loop_of(chord: Chord, branches: list[Branch]) -> list[int]:
    """The branches that a chord makes a loop with."""
    left, right = chord.start, chord.end
    found: list[int] = []
    # Parents come before children, so the larger number is never an ancestor of the smaller:
    # stepping up from the larger meets at the branch where both ways part.
    while left != right:
        if left > right:
            found.append(left)
            left = branches[left].parent
        else:
            found.append(right)
            right = branches[right].parent
    return found
