"""What a way of joining a tangle costs: the mistakes of hands, in the wire.

`entries` adds the mistakes of eyes and pencils, `currents` what ran and what the meter showed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fieldbook.wiring.costs import Costs
from fieldbook.wiring.evidence import Mistake
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
            if tangle.more and not stations[no].common:
                # It may be under a terminal that is not entered yet, which is the likelier.
                moved[no] = NOWHERE
            else:
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
        if terminal != NOWHERE
        else None
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
        posts = {moved[no] for no in walked if moved[no] != NOWHERE}
        posts |= {home for no in walked for home in tangle.stations[no].homes[:1]}
        # A chain from a terminal that is not entered to one that is not either may be a ring too.
        closed = ring or (moved[walked[-1]] == NOWHERE and not tangle.stations[walked[0]].homes)
        count = len(walked) if closed else len(walked) + 1
        far = tangle.apart([tangle.terminals[no].meant for no in posts])
        cost = costs.ring(costs.wires, count) + far * costs.far
        common = any(tangle.terminals[no].common for no in posts)
        # A terminal alone: the other one is not entered yet.
        names = tuple(
            sorted(one.name for one in map(tangle.terminals.__getitem__, posts) if one.seen)
        )
        into.add(cost, Mistake("common exchanged" if common else "wires exchanged", names))
