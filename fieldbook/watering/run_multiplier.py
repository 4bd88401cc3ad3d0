"""How much longer a zone runs because it waters unevenly: the run-time multiplier.

Five ways are in use and they differ by half; which one is used is kept and shown. Their words and
sources are the multipliers of `plants_and_soils.toml`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from fieldbook.watering.figure import Figure

Way = Literal["none", "low quarter", "softened", "low half", "coefficient"]
WAYS: tuple[Way, ...] = get_args(Way)
LEAST_WORTH_IT = 0.55
"""Below this low-quarter uniformity a zone is mended, not run longer (common practice)."""


@dataclass(frozen=True)
class Evenness:
    """What is known of how evenly a zone waters: parts of 1, and the coefficient, 1 or more."""

    low_quarter: Figure
    low_half: Figure | None = None
    coefficient: Figure | None = None


def way_named(text: str | None) -> Way | None:
    """The way of this name; None for one that is not known, or none."""
    return next((way for way in WAYS if way == text), None)


def multiplier(evenness: Evenness, way: Way | None = None) -> tuple[Way, float]:
    """The way that is used and its multiplier, at least 1.

    For None it is the low half where cans gave it, else the softened one. A way whose figure is
    not known falls back to the softened one, which the answer names.
    """
    if way is None:
        way = "low half" if evenness.low_half is not None else "softened"
    if way == "none":
        return way, 1.0
    if way == "coefficient" and evenness.coefficient is not None:
        return way, max(evenness.coefficient.value, 1.0)
    parts = {"low quarter": evenness.low_quarter, "low half": evenness.low_half}
    part = parts.get(way)
    # Cans that stayed dry give a part of 0, by which nothing can be divided.
    if part is not None and part.value > 0.0:
        return way, max(1.0 / part.value, 1.0)
    return "softened", max(1.0 / (0.4 + 0.6 * evenness.low_quarter.value), 1.0)
