"""What a way of joining a tangle costs: entries that are not of the conductor they are on.

Every conductor has one true name, and no two have the same. A wire on which all entries agree has
that name. Where a terminal and a valve on one wire disagree, one of the two was misread; where such
wires hand names on to each other, rows were typed for each other (a ring), or so and one misread as
well (a chain).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from fieldbook.wiring.costs import Costs
from fieldbook.wiring.evidence import Conductor, Mistake
from fieldbook.wiring.tangle import NOWHERE, Tangle, Ways
from fieldbook.wiring.wire_slips import Weighed


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
            # A wire with several valves: a ring through it is not looked for here.
            continue
        other[under] = box
    led_to = set(other.values())
    for start in [*(one for one in other if one not in led_to), *list(other)]:
        here, count = start, 0
        while here in other:
            here, count = other.pop(here), count + 1
        if count:
            ring = costs.ring(costs.entries, max(count, 2))
            one = min(count * costs.least_misread, ring + costs.least_misread)
            cost += ring if here == start else min(one, costs.ring(costs.entries, count + 1))
    return cost


@dataclass(frozen=True, eq=False)
class _Wire:
    """Ends that are on one conductor: its terminal, if it has one, and ends at the box."""

    terminal: tuple[str, Conductor] | None
    box: tuple[tuple[str, Conductor], ...]

    @property
    def ends(self) -> tuple[tuple[str, Conductor], ...]:
        """All ends, with what was entered for each."""
        return (self.terminal, *self.box) if self.terminal is not None else self.box


@dataclass(frozen=True, eq=False)
class _Gap:
    """Ends at the box (`box`) that disagree with the terminal (`under`) on their wire.

    settled: the terminal is right, since another end on the wire says the same.
    """

    wire: _Wire
    terminal: str
    under: Conductor
    ends: tuple[str, ...]
    box: Conductor
    settled: bool


class _Names:
    """The true names that conductors were given so far."""

    def __init__(self) -> None:
        self._of: dict[Conductor, _Wire] = {}

    def free(self, name: Conductor, wire: _Wire) -> bool:
        """Whether a wire can have this name."""
        return self._of.get(name, wire) is wire

    def give(self, name: Conductor, wire: _Wire) -> None:
        self._of.setdefault(name, wire)

    def terminal_alone(self, name: Conductor) -> str | None:
        """The terminal that a name belongs to, where no valve is known on its wire."""
        wire = self._of.get(name)
        return wire.terminal[0] if wire is not None and wire.terminal and not wire.box else None

    def box_end_alone(self, name: Conductor) -> str | None:
        """The end at the box that a name belongs to, where its wire has no terminal."""
        wire = self._of.get(name)
        return wire.box[0][0] if wire is not None and wire.terminal is None else None


def weigh_entries(tangle: Tangle, ways: Ways, costs: Costs, into: Weighed) -> None:
    """Add the mistakes in the entries of a way of joining."""
    names = _Names()
    gaps: list[_Gap] = []
    undecided: list[_Wire] = []
    second: set[str] = set()
    for wire in sorted(_wires(tangle, ways), key=lambda one: -len(one.ends)):
        first = wire.ends[0][1]
        if any(seen != first for _, seen in wire.ends):
            undecided.append(wire)
        elif names.free(first, wire):
            names.give(first, wire)
        elif wire.terminal is not None and wire.box:
            # Whole at both ends, and yet a second wire of this name: it is of a second cable.
            _of_second_cable(wire, second, costs, into)
        else:
            for end, seen in wire.ends:
                into.add(costs.misread(seen, None), Mistake("misread", (end,)))
    for wire in undecided:
        gaps += _gaps(wire, names, costs, into)
    for chain, ring in _chains(gaps):
        far = tangle.apart([tangle.station_at[end] for gap in chain for end in gap.ends])
        slip = costs.ring(costs.entries, max(2, len(chain))) + far * costs.far
        _weigh_chain(_Chain(tuple(chain), ring, slip), names, costs, into)


def _of_second_cable(wire: _Wire, second: set[str], costs: Costs, into: Weighed) -> None:
    """A wire of a second cable that was entered as the first; `second` are those seen so far.

    Where both ends of one wire are misread alike that is likelier still, but for a second wire.
    """
    cable = wire.ends[0][1][0]
    into.add(0.0 if cable in second else costs.two_cables)
    if cable not in second:
        into.mistakes.append(Mistake("two cables", tuple(sorted(end for end, _ in wire.ends))))
    second.add(cable)


def _wires(tangle: Tangle, ways: Ways) -> list[_Wire]:
    """The conductors of a way of joining, with the ends entered on each."""
    found = []
    for no, here in enumerate(tangle.on(ways)):
        terminal = tangle.terminals[no]
        if terminal.beside and here == list(tangle.owners[no][:1]):
            # The terminal and its own station: they fit, and their name is their own.
            continue
        own = (terminal.name, terminal.seen) if terminal.seen is not None else None
        box = _box_ends(tangle, here)
        if own is not None or box:
            found.append(_Wire(own, box))
    for no, to in enumerate(ways):
        if to == NOWHERE and (alone := _box_ends(tangle, [no])):
            found.append(_Wire(None, alone))
    return found


def _box_ends(tangle: Tangle, stations: Sequence[int]) -> tuple[tuple[str, Conductor], ...]:
    ends = [(tangle.stations[no].end, tangle.stations[no].seen) for no in stations]
    return tuple((end, seen) for end, seen in ends if end is not None and seen is not None)


def _gaps(wire: _Wire, names: _Names, costs: Costs, into: Weighed) -> list[_Gap]:
    """Where the ends of a wire disagree; weighs those that can be nothing but misread."""
    by_box: defaultdict[Conductor, list[str]] = defaultdict(list)
    for end, seen in wire.box:
        by_box[seen].append(end)
    if wire.terminal is None:
        rest = list(by_box.items())[1:]
        for seen, ends in rest:
            for end in ends:
                into.add(costs.misread(seen, None), Mistake("misread", (end,)))
        return []
    terminal, under = wire.terminal
    settled = under in by_box
    if settled:
        names.give(under, wire)
    found = [
        _Gap(wire, terminal, under, tuple(ends), seen, settled)
        for seen, ends in by_box.items()
        if seen != under
    ]
    if not settled:
        # One name at most can be the wire's own; the ends with other names are misread.
        found.sort(key=lambda gap: -len(gap.ends))
        for gap in found[1:]:
            for end in gap.ends:
                into.add(costs.misread(gap.box, None), Mistake("misread", (end,)))
        del found[1:]
    return found


def _chains(gaps: Sequence[_Gap]) -> list[tuple[list[_Gap], bool]]:
    """Gaps in chains, in which each one's box name is the next one's terminal name; and rings."""
    by_under: defaultdict[Conductor, list[_Gap]] = defaultdict(list)
    for gap in gaps:
        by_under[gap.under].append(gap)
    led_to = {gap.box for gap in gaps}
    starts = [gap for gap in gaps if gap.under not in led_to]
    left = dict.fromkeys(map(id, gaps))
    found = []
    for start in [*starts, *gaps]:
        chain: list[_Gap] = []
        here: _Gap | None = start
        while here is not None and id(here) in left:
            chain.append(here)
            del left[id(here)]
            if here.box == start.under:
                break
            here = next((one for one in by_under.get(here.box, ()) if id(one) in left), None)
        if chain:
            found.append((chain, len(chain) > 1 and chain[-1].box == chain[0].under))
    return found


@dataclass(frozen=True)
class _Chain:
    """Gaps that hand names on; `slip` is what it costs that their rows were exchanged."""

    gaps: tuple[_Gap, ...]
    ring: bool
    slip: float


def _weigh_chain(whole: _Chain, names: _Names, costs: Costs, into: Weighed) -> None:
    """Weigh gaps that hand names on: rows exchanged, or each misread for itself."""
    chain, slip = whole.gaps, whole.slip
    box_ends = tuple(sorted(end for gap in chain for end in gap.ends))
    exchanged = Mistake("entries exchanged", box_ends)
    at_box = all(names.free(gap.under, gap.wire) for gap in chain)
    if whole.ring and at_box:
        into.add(slip, exchanged)
        return
    at_controller = all(names.free(gap.box, gap.wire) and not gap.settled for gap in chain)
    if len(chain) > 1 and (at_box or at_controller):
        extra, wrong = _open_end(chain, at_box, costs)
        if slip + extra < sum(min(_singly(gap, names, costs)) for gap in chain):
            into.add(slip, exchanged)
            into.add(extra, wrong)
            _name_all(chain, at_box, names)
            return
    for gap in chain:
        _weigh_gap(gap, names, costs, into)


def _name_all(chain: Sequence[_Gap], at_box: bool, names: _Names) -> None:
    """Give the wires of a chain their names: those of the side that was not exchanged."""
    for gap in chain:
        names.give(gap.under if at_box else gap.box, gap.wire)


def _open_end(chain: Sequence[_Gap], at_box: bool, costs: Costs) -> tuple[float, Mistake]:
    """The end of exchanged rows that was misread as well, at the side where they were."""
    first, last = chain[0], chain[-1]
    if at_box:
        wrong = Mistake("misread", last.ends[:1], last.under)
        return costs.misread(last.box, last.under), wrong
    return costs.misread(first.under, first.box), Mistake("misread", (first.terminal,), first.box)


def _singly(gap: _Gap, names: _Names, costs: Costs) -> tuple[float, float]:
    """What it costs that the ends at the box are wrong, and that the terminal is."""
    at_box = len(gap.ends) * costs.misread(gap.box, gap.under)
    if not names.free(gap.under, gap.wire):
        at_box += costs.misread(gap.under, None)
    if len(gap.ends) == 1 and (
        names.terminal_alone(gap.box) is not None or names.box_end_alone(gap.under) is not None
    ):
        # It may be exchanged with a row that is not entered yet, or whose wire comes out nowhere.
        at_box = min(at_box, costs.entries)
    at_terminal = costs.misread(gap.under, gap.box)
    if gap.settled or not names.free(gap.box, gap.wire):
        at_terminal += len(gap.ends) * costs.misread(gap.box, None)
    if not gap.settled and names.terminal_alone(gap.box) is not None:
        at_terminal = min(at_terminal, costs.entries)
    return at_box, at_terminal


def _weigh_gap(gap: _Gap, names: _Names, costs: Costs, into: Weighed) -> None:
    """One gap for itself: the ends at the box are wrong, or the terminal is."""
    at_box, at_terminal = _singly(gap, names, costs)
    if at_box <= at_terminal:
        other = names.box_end_alone(gap.under)
        exchanged = other if at_box == costs.entries else None
        free = names.free(gap.under, gap.wire)
        names.give(gap.under, gap.wire)
        into.add(at_box)
        into.mistakes += _wrong(gap.ends, exchanged, gap.under if free else None)
        return
    other = names.terminal_alone(gap.box)
    exchanged = other if at_terminal == costs.entries else None
    free = names.free(gap.box, gap.wire)
    names.give(gap.box, gap.wire)
    into.add(at_terminal)
    into.mistakes += _wrong((gap.terminal,), exchanged, gap.box if free else None)


def _wrong(ends: Sequence[str], exchanged: str | None, true: Conductor | None) -> list[Mistake]:
    """Entries exchanged with one other end's, or misread."""
    if exchanged is not None:
        return [Mistake("entries exchanged", tuple(sorted((*ends, exchanged))))]
    return [Mistake("misread", (end,), true) for end in ends]
