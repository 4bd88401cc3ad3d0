"""The next test: the one that tells most, for the least walking."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Collection, Sequence

from fieldbook.wiring.evidence import DecidingTest, Explanation

_ENERGISE, _RING_OUT = 1.0, 3.0
"""Effort: energising is a walk along the lawn, ringing out takes a second person at the boxes."""

Outcome = Callable[[Explanation, str], frozenset[str]]


def best_test(
    explanations: Sequence[Explanation], live: Collection[str], dead: Collection[str]
) -> DecidingTest | None:
    """The test with the most information expected per effort; None if none tells anything.

    live: terminals that can be energised and were not yet. dead: those to be rung out.
    """
    tests = [(name, False, _ENERGISE, _runs) for name in live]
    tests += [(name, True, _RING_OUT, _leads) for name in dead]
    best, most = None, 0.0
    for name, ring_out, effort, outcome in tests:
        parts = _parts(explanations, name, outcome)
        told = _bits(parts) / effort
        if told > most + 1e-9:
            settles = all(len(part) == 1 for part in parts)
            best, most = DecidingTest(name, settles, ring_out), told
    return best


def same_whatever(explanations: Sequence[Explanation], name: str) -> bool:
    """Whether energising a terminal shows the same thing by every explanation."""
    return len(_parts(explanations, name, _runs)) == 1


def _runs(one: Explanation, name: str) -> frozenset[str]:
    return one.runs.get(name, one.map.get(name, frozenset()))


def _leads(one: Explanation, name: str) -> frozenset[str]:
    return one.map.get(name, frozenset())


def _parts(
    explanations: Sequence[Explanation], name: str, outcome: Outcome
) -> list[list[Explanation]]:
    """The explanations by what a test would show."""
    parts: defaultdict[frozenset[str], list[Explanation]] = defaultdict(list)
    for one in explanations:
        parts[outcome(one, name)].append(one)
    return list(parts.values())


def _bits(parts: Sequence[Sequence[Explanation]]) -> float:
    """The information in bits that a test is expected to give."""
    chances = [sum(one.chance for one in part) for part in parts]
    total = sum(chances)
    return -sum(one / total * math.log2(one / total) for one in chances if one > 0)
