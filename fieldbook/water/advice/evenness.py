"""How evenly the heads of a zone water, from their solved flows alone, and what that costs."""

from __future__ import annotations

from collections.abc import Sequence


def uniformity(parts: Sequence[float]) -> float | None:
    """Low-quarter uniformity: the mean of the lowest quarter over the mean of all.

    `parts` are each head's flow as a part of its nozzle's rated flow, so that nozzles of other
    arcs compare. Of fewer than four heads the lowest counts as the quarter. None without a flow.
    """
    if not parts or sum(parts) <= 0.0:
        return None
    lowest = sorted(parts)[: max(len(parts) // 4, 1)]
    return float(sum(lowest) / len(lowest) / (sum(parts) / len(parts)))


def run_time_part(low_quarter: float) -> float:
    """How much longer a zone runs so that its lowest quarter gets the mean: 0.06 is 6 %.

    The lowest quarter gets `low_quarter` of the mean, so the time is 1 / `low_quarter` as long.
    Raises ValueError for a uniformity that is not above zero.
    """
    if low_quarter <= 0.0:
        raise ValueError("A uniformity must be above zero.")
    return 1.0 / low_quarter - 1.0
