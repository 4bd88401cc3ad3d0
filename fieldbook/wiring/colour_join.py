"""The wire map, derived: the colours seen at the box joined with those seen at the controller.

An end is a conductor at one part: a valve's lead or the common at the box, a terminal at the
controller. Two ends join when they name the same cable and colour. `station` is what an end is
meant for (a zone, the master valve, a cable's common), so a wire whose two ends are meant for
different stations is crossed. What does not join, or joins twice, is reported and never guessed.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

Side = Literal["box", "controller"]


@dataclass(frozen=True, order=True)
class End:
    """One end of a conductor: its name, unique among all ends, its station, and what was seen."""

    name: str
    station: str
    cable: str
    colour: str


@dataclass(frozen=True)
class Wire:
    """A conductor seen exactly once at each side."""

    box: End
    controller: End

    @property
    def crossed(self) -> bool:
        """Whether its ends are meant for different stations."""
        return self.box.station != self.controller.station


@dataclass(frozen=True)
class Double:
    """Ends of one side that all have the same colour of the same cable."""

    side: Side
    ends: tuple[End, ...]


@dataclass(frozen=True)
class Misread:
    """A station whose two ends name different conductors, neither of them at the other side."""

    box: End
    controller: End


@dataclass(frozen=True)
class Join:
    """The two sides of the wire, joined.

    wires: every conductor seen exactly once at each side, crossed or not.
    crossings: the crossed wires, those that share a station in one group. `closed(group)` tells
    wires that only trade places from a wire that leads outside its group.
    doubles, misread: see those. box_only, controller_only: ends without an answer at the other
    side.
    """

    wires: tuple[Wire, ...]
    crossings: tuple[tuple[Wire, ...], ...]
    doubles: tuple[Double, ...]
    misread: tuple[Misread, ...]
    box_only: tuple[End, ...]
    controller_only: tuple[End, ...]


def closed(group: Sequence[Wire]) -> bool:
    """Whether the crossed wires of a group only trade stations with each other."""
    at_box = Counter(wire.box.station for wire in group)
    return at_box == Counter(wire.controller.station for wire in group)


def join(box: Sequence[End], controller: Sequence[End]) -> Join:
    """Join the ends seen at the boxes with those seen at the controller.

    Results keep the order of `box`, then of `controller`; what joins does not depend on it. An
    end whose conductor is doubled on either side joins nothing.
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
    """Pair ends that are meant for one station: (pairs, box ends left, controller ends left)."""
    misread: list[Misread] = []
    alone: list[End] = []
    left = list(controller)
    for end in box:
        other = next((answer for answer in left if answer.station == end.station), None)
        if other is None:
            alone.append(end)
        else:
            left.remove(other)
            misread.append(Misread(end, other))
    return tuple(misread), tuple(alone), tuple(left)


def _groups(crossed: list[Wire]) -> tuple[tuple[Wire, ...], ...]:
    """Crossed wires in groups that share a station, directly or through other wires."""
    groups: list[list[Wire]] = []
    for wire in crossed:
        stations = {wire.box.station, wire.controller.station}
        touching = [group for group in groups if stations & _stations(group)]
        merged = [member for group in touching for member in group] + [wire]
        groups = [group for group in groups if group not in touching] + [merged]
    order = {id(wire): place for place, wire in enumerate(crossed)}
    whole = [tuple(sorted(group, key=lambda wire: order[id(wire)])) for group in groups]
    return tuple(sorted(whole, key=lambda group: order[id(group[0])]))


def _stations(group: Sequence[Wire]) -> set[str]:
    stations = [(wire.box.station, wire.controller.station) for wire in group]
    return {station for pair in stations for station in pair}
