"""The wire map, derived: what was seen at the box joined with what was seen at the controller.

An end is a conductor under one thing: a valve's lead or the common at the box, a terminal at the
controller. Ends meet when they name the same cable and colour. `station` is what an end is meant
for (a zone, the master valve, a cable's common), so a wire whose two ends are meant for different
stations is crossed. Whatever does not join, or joins twice, is named and never guessed away.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

Side = Literal["box", "controller"]


@dataclass(frozen=True, order=True)
class End:
    """One end of one conductor: whose it is (`name`, unique on its side), and what was seen."""

    name: str
    station: str
    cable: str
    colour: str


@dataclass(frozen=True)
class Wire:
    """A conductor seen once at each end."""

    box: End
    controller: End

    @property
    def crossed(self) -> bool:
        """Whether its ends are meant for different stations."""
        return self.box.station != self.controller.station


@dataclass(frozen=True)
class Double:
    """A colour that more than one end has, on one side of one cable."""

    side: Side
    ends: tuple[End, ...]


@dataclass(frozen=True)
class Misread:
    """A station whose two ends name different conductors, each unknown at the other end."""

    box: End
    controller: End


@dataclass(frozen=True)
class Join:
    """Both ends of the job's wire, joined.

    wires: every conductor seen exactly once at both ends, crossed or not.
    crossings: the crossed ones in groups that hang together; two wires that trade stations are
    one group, and `closed(group)` tells a mere mix-up from a wire that leads elsewhere.
    doubles, misread: see those. box_only, controller_only: ends that nothing answers.
    """

    wires: tuple[Wire, ...]
    crossings: tuple[tuple[Wire, ...], ...]
    doubles: tuple[Double, ...]
    misread: tuple[Misread, ...]
    box_only: tuple[End, ...]
    controller_only: tuple[End, ...]

    def terminal_of(self, name: str) -> End | None:
        """The controller end that the box end of this name leads to."""
        return next((wire.controller for wire in self.wires if wire.box.name == name), None)

    def map(self) -> dict[str, tuple[str, str]]:
        """The wire map: box end's name -> (colour, controller end's name)."""
        return {wire.box.name: (wire.box.colour, wire.controller.name) for wire in self.wires}


def closed(group: Sequence[Wire]) -> bool:
    """Whether a group of crossed wires only trades stations among itself."""
    return Counter(w.box.station for w in group) == Counter(w.controller.station for w in group)


def join(box: Sequence[End], controller: Sequence[End]) -> Join:
    """Join the ends seen at the boxes with those seen at the controller.

    The order of the ends does not matter to what joins; results keep the order of `box`, then of
    `controller`. An end whose conductor is doubled on either side joins nothing.
    """
    at_box, at_controller = _by_conductor(box), _by_conductor(controller)
    doubles = _doubles("box", at_box) + _doubles("controller", at_controller)
    doubtful = {key for double in doubles for key in map(_key, double.ends)}
    wires = tuple(
        Wire(ends[0], at_controller[key][0])
        for key, ends in at_box.items()
        if key not in doubtful and key in at_controller
    )
    met = doubtful | {_key(wire.box) for wire in wires}
    misread, box_only, controller_only = _pair_by_station(
        [end for end in box if _key(end) not in met],
        [end for end in controller if _key(end) not in met],
    )
    return Join(
        wires,
        _groups([wire for wire in wires if wire.crossed]),
        doubles,
        misread,
        box_only,
        controller_only,
    )


def _key(end: End) -> tuple[str, str]:
    return end.cable, end.colour


def _by_conductor(ends: Sequence[End]) -> dict[tuple[str, str], list[End]]:
    """The ends of one side by the conductor they name."""
    found: dict[tuple[str, str], list[End]] = defaultdict(list)
    for end in ends:
        found[_key(end)].append(end)
    return dict(found)


def _doubles(side: Side, ends: Mapping[tuple[str, str], list[End]]) -> tuple[Double, ...]:
    return tuple(Double(side, tuple(same)) for same in ends.values() if len(same) > 1)


def _pair_by_station(
    box: list[End], controller: list[End]
) -> tuple[tuple[Misread, ...], tuple[End, ...], tuple[End, ...]]:
    """Pair unanswered ends that are meant for one station; the rest stay alone."""
    misread: list[Misread] = []
    alone: list[End] = []
    left = list(controller)
    for end in box:
        other = next((one for one in left if one.station == end.station), None)
        if other is None:
            alone.append(end)
        else:
            left.remove(other)
            misread.append(Misread(end, other))
    return tuple(misread), tuple(alone), tuple(left)


def _groups(crossed: list[Wire]) -> tuple[tuple[Wire, ...], ...]:
    """Crossed wires that share a station, directly or through others, in groups."""
    groups: list[list[Wire]] = []
    for wire in crossed:
        stations = {wire.box.station, wire.controller.station}
        touching = [group for group in groups if stations & _stations(group)]
        merged = [one for group in touching for one in group] + [wire]
        groups = [group for group in groups if group not in touching] + [merged]
    order = {id(wire): place for place, wire in enumerate(crossed)}
    whole = [tuple(sorted(group, key=lambda one: order[id(one)])) for group in groups]
    return tuple(sorted(whole, key=lambda group: order[id(group[0])]))


def _stations(group: Sequence[Wire]) -> set[str]:
    return {one for wire in group for one in (wire.box.station, wire.controller.station)}
