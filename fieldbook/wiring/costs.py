"""What each kind of mistake costs in the search: the negative logarithm of its chance.

Costs add up where chances multiply, so the likeliest explanation is the one that costs least.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from fieldbook.trade.wire_mistakes import WireMistakes, wire_mistakes
from fieldbook.wiring.evidence import Conductor

_COLOURS, _ALIKE, _UNLIKE = 8.0, 3.0, 16.0
"""How many others a misread colour could have become: in all, of like ones, of unlike ones."""


@dataclass(frozen=True)
class Costs:
    """Costs by kind of mistake; see `wire_mistakes.toml` for the kinds."""

    misread_any: float
    wrong_cable: float
    entries: float
    two_cables: float
    wires: float
    one_more: float
    far: float
    shared: float
    nowhere: float
    broken: float
    shut: float
    nothing_ran: float
    touching: float
    noted: float
    reading: Mapping[str, Mapping[str, float]]
    alike: frozenset[frozenset[str]]

    @property
    def least_misread(self) -> float:
        """What a misread entry costs at the least."""
        return min(self.misread_any + math.log(_ALIKE), self.wrong_cable)

    def misread(self, seen: Conductor, true: Conductor | None) -> float:
        """What it costs that one conductor was entered for another; None: for one not seen."""
        if true is None:
            return self.misread_any + math.log(_COLOURS)
        if seen[1] == true[1]:
            return self.wrong_cable
        alike = frozenset((seen[1], true[1])) in self.alike or _stripe_missed(seen[1], true[1])
        cost = self.misread_any + math.log(_ALIKE if alike else _UNLIKE)
        return cost if seen[0] == true[0] else cost + self.wrong_cable

    def ring(self, first: float, count: int) -> float:
        """The cost of `count` wires, or rows, that traded places in a ring."""
        return first + (count - 2) * self.one_more


def costs_of(mistakes: WireMistakes) -> Costs:
    """The costs that follow from chances."""
    cost = {kind: -math.log(chance) for kind, chance in mistakes.chance.items()}
    return Costs(
        misread_any=cost["misread"],
        wrong_cable=cost["wrong_cable"],
        entries=cost["entries_exchanged"],
        two_cables=cost["two_cables"],
        wires=cost["wires_exchanged"],
        one_more=cost["one_more_shifted"],
        far=cost["far_off"],
        shared=cost["shared_wire"],
        nowhere=cost["leads_nowhere"],
        broken=cost["broken"],
        shut=cost["valve_shut"],
        nothing_ran=-math.log(mistakes.chance["broken"] + mistakes.chance["valve_shut"]),
        touching=cost["touching"],
        noted=cost["test_noted_wrong"],
        reading={
            row: {meaning: -math.log(chance) for meaning, chance in shown.items()}
            for row, shown in mistakes.reading.items()
        },
        alike=frozenset(map(frozenset, mistakes.alike)),
    )


def _stripe_missed(one: str, other: str) -> bool:
    return one.partition("/")[0] == other.partition("/")[0]


@lru_cache
def usual_costs() -> Costs:
    """The costs by the figures that ship with fieldbook."""
    return costs_of(wire_mistakes())
