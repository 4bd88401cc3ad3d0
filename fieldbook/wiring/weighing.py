"""What a way of joining a tangle costs, and the mistakes it takes: in the wire and in the entries.

`currents` adds what was seen to run and what the meter showed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fieldbook.wiring.costs import Costs
from fieldbook.wiring.evidence import Conductor, Mistake
from fieldbook.wiring.tangle import NOWHERE, Tangle, Ways


@dataclass
class Weighed:
    """The cost so far and the mistakes that it is made of."""

    cost: float = 0.0
    mistakes: list[Mistake] = field(default_factory=list)

    def add(self, cost: float, mistake: Mistake | None = None) -> None:
        """Add one mistake, or a cost that is no mistake of its own."""
        self.cost += cost
        if mistake is not None:
            self.mistakes.append(mistake)


def weigh_wires(tangle: Tangle, ways: Ways, costs: Costs, into: Weighed) -> None:
    """The mistakes of hands: wires exchanged, shared or left loose."""
    stations = tangle.stations
    moved: dict[int, int] = {}
    for terminal, here in enumerate(tangle.on(ways)):
        if not here:
            continue
        at_home = [no for no in here if terminal in stations[no].homes]
        base = at_home[0] if at_home else here[0]
        if not at_home:
            moved[base] = terminal
        for no in here:
            if no != base:
                names = [stations[one].end or tangle.terminals[terminal].name for one in (base, no)]
                far = tangle.apart([stations[one].name for one in (base, no)])
                cost = costs.shared + far * costs.far
                into.add(cost, Mistake("shared wire", tuple(sorted(set(names)))))
    for no, to in enumerate(ways):
        if to == NOWHERE and stations[no].homes and stations[no].end is not None:
            into.add(costs.nowhere, Mistake("leads nowhere", _loose_ends(tangle, ways, no)))
    _exchanges(tangle, moved, costs, into)


def _loose_ends(tangle: Tangle, ways: Ways, station: int) -> tuple[str, ...]:
    """The end of a station that comes out nowhere, and its terminal where nothing comes out."""
    one = tangle.stations[station]
    empty = [tangle.terminals[home].name for home in one.homes if home not in ways]
    return tuple(sorted([*([one.end] if one.end else []), *empty]))


def _exchanges(tangle: Tangle, moved: Mapping[int, int], costs: Costs, into: Weighed) -> None:
    """Wires that came to another terminal: rings that trade places, and chains that end open."""
    after = {
        no: next((one for one in tangle.owners[terminal] if one in moved), None)
        for no, terminal in moved.items()
    }
    led_to = {one for one in after.values() if one is not None}
    # Chains first, from the wire that nothing pushed; what is left are rings.
    left = dict.fromkeys([*(no for no in moved if no not in led_to), *moved])
    while left:
        start = next(iter(left))
        walked, here = [], start
        while here is not None and here in left:
            walked.append(here)
            del left[here]
            here = after[here]
        ring = here == start
        posts = {moved[no] for no in walked}
        posts |= {home for no in walked for home in tangle.stations[no].homes[:1]}
        count = len(walked) if ring else len(walked) + 1
        far = tangle.apart([tangle.terminals[no].meant for no in posts])
        cost = costs.ring(costs.wires, count) + far * costs.far
        common = any(tangle.terminals[no].common for no in posts)
        # A terminal alone: the other one is not entered yet.
        names = tuple(sorted(one.name for one in map(tangle.terminals.__getitem__, posts) if one.seen))
        into.add(cost, Mistake("common exchanged" if common else "wires exchanged", names))


def entries_at_least(tangle: Tangle, ways: Ways, costs: Costs) -> float:
    """The least that `weigh_entries` adds, told quickly: most ways cost too much by this alone."""
    other: dict[Conductor, Conductor] = {}
    cost = 0.0
    for no, to in enumerate(ways):
        if to == NOWHERE:
            continue
        box, under = tangle.stations[no].seen, tangle.terminals[to].seen
        if box is None or under is None or box == under:
            continue
        if under in other:
            cost += costs.least_misread
        other[under] = box
    while other:
        start, here = other.popitem()
        count = 1
        while here in other:
            here, count = other.pop(here), count + 1
        ring = here == start and count > 1
        cost += costs.ring(costs.entries, count) if ring else count * costs.least_misread
    return cost


@dataclass(frozen=True)
class _Wire:
    """Ends that are on one conductor, with what was entered for each."""

    ends: tuple[tuple[str, Conductor], ...]
    at_box: int

    def most(self) -> list[Conductor]:
        """The entries, the most frequent first."""
        first = self.ends[0][1]
        if all(seen == first for _, seen in self.ends):
            return [first]
        return [one for one, _ in Counter(seen for _, seen in self.ends).most_common()]


def weigh_entries(tangle: Tangle, ways: Ways, costs: Costs, into: Weighed) -> None:
    """The mistakes of eyes and pencils: entries that are not of the conductor they are on.

    Every conductor has one true name, and no two have the same. A wire on which all entries agree
    has that name; the others get what is left, each with as few entries wrong as possible.
    """
    mixed: list[_Wire] = []
    taken: dict[Conductor, _Wire] = {}
    for wire in sorted(_wires(tangle, ways), key=lambda one: -len(one.ends)):
        names = wire.most()
        if len(names) > 1:
            mixed.append(wire)
        elif names[0] not in taken:
            taken[names[0]] = wire
        else:
            for end, seen in wire.ends:
                into.add(costs.misread(seen, None), Mistake("misread", (end,)))
    mixed = _exchanged_entries(mixed, taken, costs, into)
    free = {id(one): [name for name in one.most() if name not in taken] for one in mixed}
    used: set[Conductor] = set()
    for wire in sorted(mixed, key=lambda one: len(free[id(one)])):
        true = next((name for name in free[id(wire)] if name not in used), None)
        if true is not None:
            used.add(true)
        for end, seen in wire.ends:
            if seen != true:
                into.add(costs.misread(seen, true), Mistake("misread", (end,), true))


def _wires(tangle: Tangle, ways: Ways) -> list[_Wire]:
    """The conductors of a way of joining, with the ends entered on each."""
    found = []
    for no, here in enumerate(tangle.on(ways)):
        terminal = tangle.terminals[no]
        if terminal.beside and here == [one for one in tangle.owners[no]][:1]:
            # The terminal and its own station: they fit, and their name is their own.
            continue
        own = ((terminal.name, terminal.seen),) if terminal.seen is not None else ()
        if ends := (*own, *_box_ends(tangle, here)):
            found.append(_Wire(ends, len(here) if own else 0))
    for no, to in enumerate(ways):
        if to == NOWHERE and (alone := _box_ends(tangle, [no])):
            found.append(_Wire(tuple(alone), 0))
    return found


def _box_ends(tangle: Tangle, stations: Sequence[int]) -> list[tuple[str, Conductor]]:
    ends = [(tangle.stations[no].end, tangle.stations[no].seen) for no in stations]
    return [(end, seen) for end, seen in ends if end is not None and seen is not None]


def _exchanged_entries(
    mixed: list[_Wire], taken: Mapping[Conductor, _Wire], costs: Costs, into: Weighed
) -> list[_Wire]:
    """Weigh rows that were typed for each other as one mistake; returns the wires left."""
    by_terminal = {
        wire.ends[0][1]: wire
        for wire in mixed
        if len(wire.ends) == 2 and wire.at_box == 1 and not {one for _, one in wire.ends} & set(taken)
    }
    gone: set[int] = set()
    for start in by_terminal:
        ring: list[_Wire] = []
        here: Conductor | None = start
        while here in by_terminal and id(by_terminal[here]) not in gone:
            wire = by_terminal[here]
            ring.append(wire)
            gone.add(id(wire))
            here = wire.ends[1][1]
        if ring and here == start:
            ends = tuple(sorted(wire.ends[1][0] for wire in ring))
            into.add(costs.ring(costs.entries, len(ring)), Mistake("entries exchanged", ends))
        else:
            gone -= {id(wire) for wire in ring}
    return [wire for wire in mixed if id(wire) not in gone]
