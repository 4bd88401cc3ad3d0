"""The next test: the one that tells most, for the least walking."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from fieldbook.wiring.evidence import DecidingTest, Explanation, TestKind
from fieldbook.wiring.readings import Meaning

_EFFORT: Mapping[TestKind, float] = {"energise": 1.0, "meter": 1.2, "ring out": 3.0}
"""Energising is a walk along the lawn; the meter shows less surely what it shows; ringing out takes
a second person at the boxes."""

Outcome = Callable[[Explanation, str], object]


@dataclass(frozen=True)
class Testable:
    """The terminals that can be energised, read, or rung out, and were not yet."""

    live: Collection[str] = ()
    unread: Collection[str] = ()
    dead: Collection[str] = ()


def best_test(explanations: Sequence[Explanation], terminals: Testable) -> DecidingTest | None:
    """The test with the most information expected per effort; None if none tells anything."""
    tests: list[tuple[str, TestKind, Outcome]] = [
        (name, "energise", _runs) for name in terminals.live
    ]
    tests += [(name, "meter", reads) for name in terminals.unread]
    tests += [(name, "ring out", _leads) for name in terminals.dead]
    best, most = None, 0.0
    for name, kind, outcome in tests:
        parts = _parts(explanations, name, outcome)
        told = _bits(parts) / _EFFORT[kind]
        if told > most + 1e-9:
            settles = all(len(part) == 1 for part in parts)
            best, most = DecidingTest(name, settles, kind), told
    return best


def same_whatever(explanations: Sequence[Explanation], name: str) -> bool:
    """Whether energising a terminal shows the same thing by every explanation."""
    return len(_parts(explanations, name, _runs)) == 1


def _runs(one: Explanation, name: str) -> frozenset[str]:
    return one.runs.get(name, one.map.get(name, frozenset()))


def reads(one: Explanation, name: str) -> Meaning | None:
    """What a meter should show at a terminal by an explanation; None where that is not known."""
    return one.reads.get(name)


def _leads(one: Explanation, name: str) -> frozenset[str]:
    return one.map.get(name, frozenset())


def _parts(
    explanations: Sequence[Explanation], name: str, outcome: Outcome
) -> list[list[Explanation]]:
    """The explanations by what a test would show."""
    parts: defaultdict[object, list[Explanation]] = defaultdict(list)
    for one in explanations:
        parts[outcome(one, name)].append(one)
    return list(parts.values())


def _bits(parts: Sequence[Sequence[Explanation]]) -> float:
    """The information in bits that a test is expected to give."""
    chances = [sum(one.chance for one in part) for part in parts]
    total = sum(chances)
    return -sum(one / total * math.log2(one / total) for one in chances if one > 0)
