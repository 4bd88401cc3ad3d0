"""What an ohm reading at the controller says, the power off and the common lifted.

It is judged by the day-1 reading first, then by what coil and wire should read together, and by
the band of usual coils last. All limits are common practice, no source: for a look, not a verdict.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Meaning = Literal["sound", "open", "short", "two coils", "low", "high"]
Basis = Literal["day 1", "coil and wire", "usual coils"]

OPEN_OHM = 1000.0
"""From here up a meter on its low range shows nothing."""
SHORT_OHM = 10.0
USUAL_OHM = (20.0, 60.0)
JOINTS_OHM = 0.5
"""Splices and meter leads."""
_PART, _LEAST, _HIGH_OHM = 0.10, 3.0, 5.0
_HALF = (0.40, 0.66)
"""Two like coils read a little over half of one, the wire being in both readings."""


@dataclass(frozen=True)
class Reading:
    """A judged reading: what it likely means, and what it was held against."""

    ohm: float
    meaning: Meaning
    basis: Basis
    expected_ohm: float | None = None


def expected_ohm(coil_ohm: float, loop_ohm: float) -> float:
    """What one coil behind its wire should read: coil, loop, joints."""
    return coil_ohm + loop_ohm + JOINTS_OHM


def judge(ohm: float, day_1_ohm: float | None = None, expected: float | None = None) -> Reading:
    """Judge a reading. `expected` is from `expected_ohm`."""
    known = day_1_ohm if day_1_ohm is not None else expected
    basis: Basis = "day 1" if day_1_ohm is not None else "coil and wire"
    if known is None or known >= OPEN_OHM or known < SHORT_OHM:
        return Reading(ohm, _by_band(ohm), "usual coils")
    return Reading(ohm, _by_known(ohm, known), basis, known)


def _by_band(ohm: float) -> Meaning:
    low, high = USUAL_OHM
    if ohm >= OPEN_OHM:
        return "open"
    if ohm < SHORT_OHM:
        return "short"
    if ohm < low:
        return "low"
    return "high" if ohm > high else "sound"


def _by_known(ohm: float, known: float) -> Meaning:
    if ohm >= OPEN_OHM:
        return "open"
    if abs(ohm - known) <= max(_PART * known, _LEAST):
        return "sound"
    if ohm < SHORT_OHM:
        return "short"
    if _HALF[0] * known <= ohm <= _HALF[1] * known:
        return "two coils"
    if ohm < known:
        return "low"
    return "high" if ohm > known + _HIGH_OHM or ohm > USUAL_OHM[1] else "sound"
