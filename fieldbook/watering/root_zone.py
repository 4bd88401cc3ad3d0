"""The water that the roots can reach: how much is held, how much may be used, and for how long."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

LONGEST_DAYS = 30
"""Most days between waterings that a schedule has: an interval of a controller."""


def held_in(available_in_in: float, root_in: float) -> float:
    """Inches of water that the roots can reach: TAW (FAO-56, equation 82).

    available_in_in: inches of water in an inch of soil.
    """
    return available_in_in * root_in


def usable_in(available_in_in: float, root_in: float, depletion: float) -> float:
    """Inches that may be used before the next watering: RAW (FAO-56, equation 83)."""
    return depletion * held_in(available_in_in, root_in)


def days_between(usable: float, need_in_day: float) -> int:
    """Whole days from a watering to the next; 0 where nothing is needed, else 1 to 30."""
    if need_in_day <= 0.0:
        return 0
    # A third of 0.6 in is a rounding error under 0.2 in: without the margin it would be 2 days.
    days = math.floor(usable / need_in_day + 1e-9)
    return min(max(days, 1), LONGEST_DAYS)


@dataclass(frozen=True)
class BalanceDay:
    """One day of a water balance, in inches: the deficit at its end, and what was applied first."""

    day: int
    applied_in: float
    deficit_in: float


def balance(
    usable: float, needs_in: Sequence[float], rains_in: Sequence[float]
) -> tuple[BalanceDay, ...]:
    """The deficit day by day, from a soil that is full; days are counted from 1.

    A day on which the deficit would pass `usable` is watered first, with what is missing. Rain
    fills the soil up to full and no more.
    """
    found, deficit = [], 0.0
    for number, (need, rain) in enumerate(zip(needs_in, rains_in, strict=True), start=1):
        applied = 0.0
        if deficit + need - rain > usable + 1e-9:
            applied, deficit = deficit, 0.0
        deficit = max(deficit + need - rain, 0.0)
        found.append(BalanceDay(number, applied, deficit))
    return tuple(found)
