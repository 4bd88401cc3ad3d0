"""What cans caught as a depth of water, and the rate at which it fell."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

_ML_PER_IN3 = 16.387064
"""25.4 mm in an inch (NIST Special Publication 811, Appendix B)."""


def depth_in(ml: float, throat_in: float) -> float:
    """The depth in inches of what a can caught through a throat of this diameter.

    Raises ValueError unless the throat is above zero.
    """
    if throat_in <= 0.0:
        raise ValueError("A can's throat must be above zero.")
    return ml / _ML_PER_IN3 / (pi / 4.0 * throat_in**2)


def rate_in_h(mean_depth_in: float, minutes: float) -> float:
    """The precipitation rate in inches an hour. Raises ValueError unless time has passed."""
    if minutes <= 0.0:
        raise ValueError("Time must have passed.")
    return mean_depth_in * 60.0 / minutes


def read_error_part(caught: Sequence[float], step: float) -> float | None:
    """How far the mean may be off, as a part of it, where each can is read to `step`.

    Half a step, since a ruler that starts high starts high in every can. None without a catch.
    """
    total = sum(caught)
    return step / 2.0 / (total / len(caught)) if total > 0.0 else None
