"""How many of the driest cans make a quarter, where their number is not divisible by four.

No published rule was found. Four are in use and move the low-quarter uniformity by up to nine
points, so the rule is chosen, kept with the audit, and printed with the count that it gave.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor

QUARTER_RULES = ("round", "floor", "ceiling", "weighted")
"""Weighted takes a part of the last can: of 22 cans five and a half."""
USUAL_RULE = "round"


def part_of(count: int, parts: int, rule: str = USUAL_RULE) -> float:
    """How many of `count` cans are one part in `parts`; at least one can, and half goes up.

    A whole number, but with the weighted rule. Raises ValueError for a rule that is not known.
    """
    exact = count / parts
    if rule not in QUARTER_RULES:
        raise ValueError(f"The rule is one of {', '.join(QUARTER_RULES)}.")
    if rule == "weighted":
        return max(exact, 1.0)
    # Python rounds 5.5 and 6.5 both to 6; here half always goes up.
    whole = {"round": floor(exact + 0.5), "floor": floor(exact), "ceiling": ceil(exact)}[rule]
    return float(max(whole, 1))


def lowest_mean(caught: Sequence[float], cans: float) -> float:
    """The mean of the lowest so many cans; of a part of a can that part counts."""
    ordered = sorted(caught)
    whole = floor(cans)
    total = sum(ordered[:whole])
    if whole < len(ordered):
        total += (cans - whole) * ordered[whole]
    return total / cans
