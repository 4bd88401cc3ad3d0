"""What a way of joining a tangle costs: the mistakes of hands, in the wire.

`entry_slips` adds the mistakes of eyes and pencils, `currents` what ran and what the meter showed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fieldbook.wiring.costs import Costs
from fieldbook.wiring.evidence import Mistake, MistakeKind
from fieldbook.wiring.tangle import NOWHERE, Tangle, Ways

_PAIR = 2


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
    moved: dict[int, int] = {}
    for terminal, here in enumerate(tangle.on(ways)):
        if here:
            at_home = [no for no in here if terminal in tangle.stations[no].homes]
            base = at_home[0] if at_home else here[0]
            if not at_home:
                moved[base] = terminal
            for no in here:
                if no != base:
                    _share(tangle, terminal, (base, no), costs, into)
    for no, to in enumerate(ways):
        one = tangle.stations[no]
        if to != NOWHERE or not one.homes or one.end is None:
            continue
        if tangle.more and not one.common:
            # It may be under a terminal that is not entered yet, which is the likelier.
            moved[no] = NOWHERE
        else:
            into.add(costs.nowhere, Mistake("leads nowhere", _loose_ends(tangle, ways, no)))
    _exchanges(tangle, moved, costs, into)


def _share(
    tangle: Tangle, terminal: int, pair: tuple[int, int], costs: Costs, into: Weighed
) -> None:
    """Two stations are on one wire."""
    names = {tangle.stations[no].end or tangle.terminals[terminal].name for no in pair}
    far = tangle.apart([tangle.stations[no].name for no in pair])
    into.add(costs.shared + far * costs.far, Mistake("shared wire", tuple(sorted(names))))


def _loose_ends(tangle: Tangle, ways: Ways, station: int) -> tuple[str, ...]:
    """The end of a station that comes out nowhere, and its terminal where nothing comes out."""
    one = tangle.stations[station]
    empty = [tangle.terminals[home].name for home in one.homes if home not in ways]
    return tuple(sorted([*([one.end] if one.end else []), *empty]))


def _exchanges(tangle: Tangle, moved: Mapping[int, int], costs: Costs, into: Weighed) -> None:
    """Wires that came to another terminal: rings that trade places, and chains that end open."""
    pushed = {no: _pushed(tangle, terminal, moved) for no, terminal in moved.items()}
    led_to = set(pushed.values())
    # Chains first, from the wire that nothing pushed; what is left are rings.
    left = dict.fromkeys([*(no for no in moved if no not in led_to), *moved])
    while left:
        start = next(iter(left))
        walked: list[int] = []
        here: int | None = start
        while here is not None and here in left:
            walked.append(here)
            del left[here]
            here = pushed[here]
        # A chain from a terminal that is not entered to one that is not either may be a ring too.
        open_ends = moved[walked[-1]] == NOWHERE and not tangle.stations[start].homes
        count = len(walked) + (here != start and not open_ends)
        _exchanged(tangle, moved, walked, costs.ring(costs.wires, count), costs.far, into)


def _pushed(tangle: Tangle, terminal: int, moved: Mapping[int, int]) -> int | None:
    """The station that had to leave a terminal to another wire."""
    owners = tangle.owners[terminal] if terminal != NOWHERE else ()
    return next((no for no in owners if no in moved), None)


def _exchanged(
    tangle: Tangle,
    moved: Mapping[int, int],
    walked: Sequence[int],
    cost: float,
    far: float,
    into: Weighed,
) -> None:
    """Add the mistake of wires that traded places; `far` is added where they are not neighbours."""
    numbers = {moved[no] for no in walked} - {NOWHERE}
    numbers |= {home for no in walked for home in tangle.stations[no].homes[:1]}
    posts = [tangle.terminals[no] for no in numbers]
    apart = tangle.apart([post.meant for post in posts])
    kind: MistakeKind = "wires exchanged"
    if any(post.common for post in posts):
        # A common that traded places with one wire is seen often, with several hardly ever.
        kind, apart = "common exchanged", apart or len(posts) > _PAIR
    # A terminal alone: the other one is not entered yet.
    names = tuple(sorted(post.name for post in posts if post.seen is not None))
    into.add(cost + apart * far, Mistake(kind, names))
