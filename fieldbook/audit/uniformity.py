"""How evenly cans were filled: low quarter, low half, Christiansen's coefficient, driest can."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from fieldbook.audit.quarters import USUAL_RULE, lowest_mean, part_of


@dataclass(frozen=True)
class Evenness:
    """How evenly cans were filled; uniformities are parts of one (0.65 is 65 %).

    mean, lowest, highest: in the unit of the cans. low_quarter: the mean of the driest quarter over
    the mean, from `quarter_cans` cans counted by `rule`. low_half: likewise of the drier half.
    christiansen: one less the mean deviation over the mean. most_scheduling: the mean over the
    lowest can, no scheduling coefficient is higher; None where a can stayed dry.
    """

    cans: int
    mean: float
    lowest: float
    highest: float
    rule: str
    quarter_cans: float
    low_quarter: float
    half_cans: float
    low_half: float
    christiansen: float
    most_scheduling: float | None


def evenness(caught: Sequence[float], rule: str = USUAL_RULE) -> Evenness | None:
    """How evenly cans were filled, in any unit, as mL: the diameter counts for the rate alone.

    None without a can, or where none caught anything. Raises ValueError for a negative catch, or a
    rule that is not known.
    """
    if any(one < 0.0 for one in caught):
        raise ValueError("A can can't hold less than nothing.")
    if not caught or sum(caught) <= 0.0:
        return None
    count, mean = len(caught), sum(caught) / len(caught)
    quarter, half = part_of(count, 4, rule), part_of(count, 2, rule)
    off = sum(abs(one - mean) for one in caught) / count
    lowest = min(caught)
    return Evenness(
        cans=count,
        mean=mean,
        lowest=lowest,
        highest=max(caught),
        rule=rule,
        quarter_cans=quarter,
        low_quarter=lowest_mean(caught, quarter) / mean,
        half_cans=half,
        low_half=lowest_mean(caught, half) / mean,
        christiansen=1.0 - off / mean,
        most_scheduling=mean / lowest if lowest > 0.0 else None,
    )


def percent(part: float) -> int:
    """A part of one in whole percent, half up, as audits print it: 0.785 is 79."""
    # Rounded first: 0.785 * 100 is 78.49999999999999 in binary.
    return floor(round(part * 100.0, 6) + 0.5)
