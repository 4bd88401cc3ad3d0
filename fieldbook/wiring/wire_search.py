"""The likeliest ways of joining a tangle: best first, with a bound on what is still to come.

Each step gives one station a terminal. Its cost so far and the least that the other stations can
cost are a bound, so the likeliest ways come first and the search stops where nothing it could
still find is likely enough to be kept.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.wiring.costs import Costs
from fieldbook.wiring.currents import Currents, weigh_tests
from fieldbook.wiring.entry_slips import entries_at_least, weigh_entries
from fieldbook.wiring.evidence import Mistake
from fieldbook.wiring.tangle import NOWHERE, Tangle, Ways
from fieldbook.wiring.wire_slips import Weighed, weigh_wires

BAND = 10.0
"""What costs so much more than the likeliest is not kept: the sum of two or three mistakes."""
PROVEN_BAND = 8.3
"""The band once tests show a map: a test noted wrongly (9.2) is no reason to doubt it."""
WIDE_BAND = 12.0
"""The band until a second explanation is found: one alone is only kept where tests prove it."""
MOST_CLIMBS = 6
_OPEN_END = 4.5
"""The least that the open end of exchanged rows costs: half of two rows and one misread."""
MOST_WEIGHED, MOST_STEPS = 700, 6000
"""Ways weighed and steps taken for one tangle, before the search makes do with what it has."""

Leads = tuple[tuple[str, frozenset[str]], ...]
"""Where terminals lead, in pairs sorted by terminal."""


@dataclass
class Found:
    """One wire map: its likeliest mistakes, the currents of those, and its weight in all."""

    cost: float
    mistakes: tuple[Mistake, ...]
    currents: Currents
    weight: float


class Search:
    """The search through one tangle."""

    def __init__(self, tangle: Tangle, costs: Costs, band: float = BAND) -> None:
        """Prepare the choices of every station, the cheapest first."""
        self.tangle, self.costs, self.band = tangle, costs, band
        self._start = [NOWHERE if one.beside is None else one.beside for one in tangle.stations]
        self._tested = {
            no: [t for t, post in enumerate(tangle.terminals) if one.name in (post.ran or ())]
            for no, one in enumerate(tangle.stations)
        }
        self._box = {one.seen for one in tangle.stations}
        self._under = {one.seen for one in tangle.terminals}
        choices = {no: self._choices(no) for no in tangle.movable}
        # The station with the fewest choices first, so that its mistakes are not tried again.
        self._order = sorted(tangle.movable, key=lambda no: len(choices[no]))
        self._choice = [choices[no] for no in self._order]
        least = [each[0][0] for each in self._choice]
        self._rest = [sum(least[at:]) for at in range(len(least) + 1)]
        self._weighed: set[Ways] = set()
        self._best_ways: Ways = tuple(self._start)
        self.found: dict[Leads, Found] = {}
        self.best = math.inf
        self.complete = True

    def run(self) -> None:
        """Fill `found` with every map that is likely enough; `complete` says whether all were."""
        for ways in self._likely_starts():
            self._weigh(ways)
        self._climb()
        steps = 0
        heap: list[tuple[float, int, int, Ways]] = [(self._rest[0], 0, 0, tuple(self._start))]
        while heap:
            bound, _, depth, ways = heapq.heappop(heap)
            if bound > self.best + self.band:
                break
            if depth == len(self._order):
                for each in (ways, *self._pushed(ways), *self._drawn_in(ways)):
                    self._weigh(each)
                if len(self._weighed) >= MOST_WEIGHED:
                    self.complete = False
                    break
                continue
            station = self._order[depth]
            before = bound - self._rest[depth]
            for cost, terminal in self._choice[depth]:
                total = before + cost + self._crowding(ways, station, terminal, depth)
                total += self._rest[depth + 1]
                if total > self.best + self.band:
                    continue
                steps += 1
                joined = (*ways[:station], terminal, *ways[station + 1 :])
                heapq.heappush(heap, (total, steps, depth + 1, joined))
            if steps > MOST_STEPS:
                self.complete = False
                break

    def _climb(self) -> None:
        """Better the best way by moving one station, or exchanging two, while that helps."""
        for _ in range(MOST_CLIMBS):
            before = self.best
            for ways in list(self._beside_of(self._best_ways)):
                self._weigh(ways)
            if self.best >= before:
                break

    def _beside_of(self, ways: Ways) -> Iterator[Ways]:
        """Ways that differ from one in one station's terminal, or in two stations exchanged."""
        for at, station in enumerate(self._order):
            for _, terminal in self._choice[at]:
                if terminal != ways[station]:
                    yield (*ways[:station], terminal, *ways[station + 1 :])
            for other in self._order[:at]:
                mixed = list(ways)
                mixed[station], mixed[other] = ways[other], ways[station]
                yield tuple(mixed)

    def _crowding(self, ways: Ways, station: int, terminal: int, depth: int) -> float:
        """What a wire shared with a station placed before costs more than a wire exchanged."""
        if terminal == NOWHERE or not any(ways[no] == terminal for no in self._order[:depth]):
            return 0.0
        return max(0.0, self.costs.shared - self.costs.ring(self.costs.wires, 3) / 3)

    def _pushed(self, ways: Ways) -> Iterator[Ways]:
        """Ways in which a station beside made room for one that came to its terminal.

        It went to a terminal that is now empty, or pushed a second one that did.
        """
        tangle = self.tangle
        fitting = {
            one.beside: no for no, one in enumerate(tangle.stations) if one.beside is not None
        }
        came = {ways[no] for no in tangle.movable if ways[no] in fitting}
        empty = [no for no, one in enumerate(tangle.terminals) if no not in ways and not one.beside]
        if len(came) != 1:
            return
        pushed = fitting[came.pop()]
        for to in empty:
            yield (*ways[:pushed], to, *ways[pushed + 1 :])

    def _drawn_in(self, ways: Ways) -> Iterator[Ways]:
        """Ways in which a station beside was joined to a wire that reads as two coils."""
        for no, one in enumerate(self.tangle.terminals):
            if one.reading == "two coils" and ways.count(no) == 1:
                for station, other in enumerate(self.tangle.stations):
                    if other.beside is not None and ways[station] != no:
                        yield (*ways[:station], no, *ways[station + 1 :])

    def _choices(self, station: int) -> list[tuple[float, int]]:
        """Every terminal that a station could come out at, with the least that this costs."""
        found = [(self._least(station, no), no) for no in range(len(self.tangle.terminals))]
        found.append((self._least(station, NOWHERE), NOWHERE))
        found.sort()
        return [(cost, no) for cost, no in found if cost <= found[0][0] + self.band + 2.0]

    def _least(self, station: int, terminal: int) -> float:
        """The least that a choice can cost: never more than what it turns out to cost."""
        one, costs = self.tangle.stations[station], self.costs
        if terminal == NOWHERE:
            gone = costs.ring(costs.wires, 3) / 3 if self.tangle.more else costs.nowhere
            return (gone if one.homes else 0.0) + self._against_tests(station, terminal)
        post = self.tangle.terminals[terminal]
        cost = self._against_tests(station, terminal)
        if terminal not in one.homes:
            hosted = post.beside and self.tangle.owners[terminal]
            cost += costs.shared if hosted else costs.ring(costs.wires, 3) / 3
            if self.tangle.apart([one.name, post.meant]):
                cost += costs.far if hosted else costs.far / 3
        if None not in (one.seen, post.seen) and one.seen != post.seen:
            same = one.seen is not None and one.seen[0] == post.cable
            misread = costs.least_misread if same else costs.wrong_cable
            # Rows typed for each other show both colours at both sides.
            both = one.seen in self._under and post.seen in self._box
            cost += min(misread, costs.ring(costs.entries, 3) / 3 if both else _OPEN_END)
        return cost

    def _against_tests(self, station: int, terminal: int) -> float:
        """The least that tests cost which speak against a choice."""
        if self.tangle.commons:
            return 0.0
        cost = 0.0
        if terminal != NOWHERE:
            ran = self.tangle.terminals[terminal].ran
            if ran is not None and self.tangle.stations[station].name not in ran:
                cost += self.costs.nothing_ran / 2
        if any(no != terminal for no in self._tested[station]):
            cost += self.costs.touching / 4
        return cost

    def _likely_starts(self) -> Iterator[Ways]:
        """Ways to begin with: as meant, as the colours say, as tested, and each ring for itself."""
        meant, colours = list(self._start), list(self._start)
        by_colour = {one.seen: no for no, one in enumerate(self.tangle.terminals) if one.seen}
        for no in self.tangle.movable:
            one = self.tangle.stations[no]
            free = one.homes[0] if one.homes else NOWHERE
            seen = by_colour.get(one.seen, free) if one.seen is not None else free
            meant[no] = free if one.homes else seen
            colours[no] = seen
            if self._tested[no]:
                fewest = min(
                    self._tested[no], key=lambda t: len(self.tangle.terminals[t].ran or ())
                )
                meant[no] = colours[no] = fewest
        apart = [no for no in self.tangle.movable if meant[no] != colours[no]]
        rings = _rings(apart, meant, colours)[:6]
        for mask in range(2 ** len(rings)):
            mixed = list(colours)
            for bit, ring in enumerate(rings):
                if mask >> bit & 1:
                    for no in ring:
                        mixed[no] = meant[no]
            yield tuple(mixed)
        yield tuple(meant)
        yield from self._common_exchanged(meant, colours)

    def _common_exchanged(self, *starts: list[int]) -> Iterator[Ways]:
        """Ways to begin with in which a common and the wire under one terminal are exchanged."""
        for common, cable, homes in self.tangle.commons:
            for no, post in enumerate(self.tangle.terminals):
                if post.cable != cable or post.common or post.ran == frozenset():
                    continue
                for start in starts:
                    mixed = list(start)
                    for station in self.tangle.movable:
                        if start[station] == no:
                            mixed[station] = homes[0]
                    mixed[common] = no
                    yield tuple(mixed)

    def _weigh(self, ways: Ways) -> None:
        """Weigh a whole way of joining, once, and add it to the map that it gives."""
        if ways in self._weighed:
            return
        self._weighed.add(ways)
        weighed, limit = Weighed(), self.best + self.band
        weigh_wires(self.tangle, ways, self.costs, weighed)
        if weighed.cost + entries_at_least(self.tangle, ways, self.costs) > limit:
            return
        weigh_entries(self.tangle, ways, self.costs, weighed)
        if weighed.cost > limit:
            return
        currents = Currents(self.tangle, ways)
        weigh_tests(currents, self.costs, weighed, beside=bool(self.tangle.commons))
        cost = weighed.cost
        if cost > limit:
            return
        if cost < self.best:
            self.best, self._best_ways = cost, ways
        leads = leads_of(self.tangle, currents.on)
        known = self.found.get(leads)
        weight = math.exp(-cost) + (known.weight if known is not None else 0.0)
        if known is None or cost < known.cost:
            self.found[leads] = Found(cost, tuple(weighed.mistakes), currents, weight)
        else:
            known.weight = weight


def leads_of(tangle: Tangle, on: list[list[int]]) -> Leads:
    """Where each terminal of a tangle leads."""
    pairs = [
        (one.name, tangle.leads(no, on[no])) for no, one in enumerate(tangle.terminals) if one.seen
    ]
    return tuple(sorted(pairs, key=lambda pair: pair[0]))


def _rings(apart: list[int], meant: list[int], colours: list[int]) -> list[list[int]]:
    """Stations in groups whose meant and seen terminals overlap."""
    groups: list[tuple[set[int], list[int]]] = []
    for no in apart:
        posts, members = {meant[no], colours[no]} - {NOWHERE}, [no]
        for group in [one for one in groups if one[0] & posts]:
            groups.remove(group)
            posts |= group[0]
            members += group[1]
        groups.append((posts, members))
    return [members for _, members in groups]
