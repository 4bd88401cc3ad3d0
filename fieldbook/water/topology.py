"""The shape of a network: a tree from the source, and the pipes that close loops in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from fieldbook.water.network import Device, Link, Network, NetworkError, Regulator


class Branch(NamedTuple):
    """A link of the tree: from the branch `parent` (-1 is the source) to `node`.

    `against`: the link was given the other way round, so its flow is shown negative.
    """

    link: Link
    parent: int
    node: str
    against: bool


class Chord(NamedTuple):
    """A link that closes a loop, between two branches' far ends (-1 is the source)."""

    link: Link
    start: int
    end: int


@dataclass(frozen=True)
class Topology:
    """Branches in an order that has every parent before its children."""

    branches: tuple[Branch, ...]
    chords: tuple[Chord, ...]


def topology(network: Network) -> Topology:
    """Lay the network out as a tree. Raises NetworkError naming what can't be."""
    _check_names(network)
    branches, chord_links, at = _spread(network)
    _refuse_lost(network, at)
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
            raise NetworkError(f"The {what} {double} is there twice: give each a name of its own.")
    node_at = network.node_at
    if network.source not in node_at:
        raise NetworkError(f"The source {network.source} is no node of the network.")
    for link in network.links:
        if link.start not in node_at or link.end not in node_at:
            end = link.end if link.start in node_at else link.start
            raise NetworkError(f"Link {link.name} leads to {end}, which is no node.")
        if link.start == link.end:
            raise NetworkError(f"Link {link.name} begins and ends at {link.start}.")


def _spread(network: Network) -> tuple[list[Branch], list[Link], dict[str, int]]:
    """Reach every node from the source, nearest first."""
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
                raise NetworkError(f"Link {link.name} is set against the water: turn it round.")
            at[there] = len(branches)
            came_by[there] = link
            branches.append(Branch(link, at[here], there, against))
            queue.append(there)
    return branches, list(chords.values()), at


def _refuse_lost(network: Network, at: dict[str, int]) -> None:
    for node in network.nodes:
        if node.name in at:
            continue
        if node.heads:
            raise NetworkError(f"Head {node.heads[0].name} is not connected to the supply.")
        raise NetworkError(f"Node {node.name} is not connected to the supply.")


def _refuse_devices(chord: Chord, branches: list[Branch]) -> None:
    """A loop may hold pipes and valves; what works one way only has no place in it."""
    for link in (chord.link, *(branches[no].link for no in loop_of(chord, branches))):
        if isinstance(link.kind, Device | Regulator):
            raise NetworkError(
                f"Link {link.name} is part of a loop: a loop can't run through a device or "
                "regulator."
            )


def loop_of(chord: Chord, branches: list[Branch]) -> list[int]:
    """The branches that a chord makes a loop with."""
    one, other = chord.start, chord.end
    found: list[int] = []
    # Parents come before children, so the larger number is never the ancestor of the smaller.
    while one != other:
        if one > other:
            found.append(one)
            one = branches[one].parent
        else:
            found.append(other)
            other = branches[other].parent
    return found
