"""What an ohm reading at the controller means, taken with the power off and the common lifted.

A reading is judged by the reading of day 1 if there is one, else by what coil and wire should
read together, else by the band of usual coils. All limits are common practice, no source: they
tell where to look and are no verdict.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Meaning = Literal["sound", "open", "short", "two coils", "low", "high"]
Basis = Literal["day 1", "coil and wire", "usual coils"]

OPEN_OHM = 1000.0
"""From here up a meter on its low range shows over range."""
SHORT_OHM = 10.0
USUAL_OHM = (20.0, 60.0)
LATCHING_SHORT_OHM = 1.0
LATCHING_OHM = (2.0, 20.0)
"""A latching coil of a battery controller reads a few ohms (common practice, no source)."""
LATCHING_NEAR_OHM = 1.0
"""A latching coil's reading within this of the known one is sound: 3 ohm would hide a short."""
JOINTS_OHM = 0.5
"""What splices and meter leads add."""
# A reading is sound within a tenth of the known one, or 3 ohm; over 5 ohm more it is high.
_SOUND_PART, _SOUND_OHM, _HIGH_OHM = 0.10, 3.0, 5.0
# Two like coils side by side read a little over half of one, since both share the wire.
_HALF = (0.40, 0.66)


@dataclass(frozen=True)
class Reading:
    """A judged reading: what it likely means, and what it was judged by."""

    ohm: float
    meaning: Meaning
    basis: Basis
    expected_ohm: float | None = None


def expected_ohm(coil_ohm: float, loop_ohm: float) -> float:
    """What one coil should read at the controller: coil, wire out and back, joints, in ohm."""
    return coil_ohm + loop_ohm + JOINTS_OHM


def judge(
    ohm: float,
    day_1_ohm: float | None = None,
    expected: float | None = None,
    *,
    latching: bool = False,
) -> Reading:
    """Judge a reading in ohm. `expected` is from `expected_ohm`; a latching coil reads a few ohms.

    A day-1 reading, or an expected one, that is itself open or short is no measure to judge by.
    """
    short = LATCHING_SHORT_OHM if latching else SHORT_OHM
    known = day_1_ohm if day_1_ohm is not None else expected
    basis: Basis = "day 1" if day_1_ohm is not None else "coil and wire"
    if known is None or known >= OPEN_OHM or known < short:
        return Reading(ohm, _by_band(ohm, latching=latching), "usual coils")
    near = LATCHING_NEAR_OHM if latching else _SOUND_OHM
    return Reading(ohm, _by_known(ohm, known, short, near), basis, known)


def _by_band(ohm: float, *, latching: bool) -> Meaning:
    low, high = LATCHING_OHM if latching else USUAL_OHM
    if ohm >= OPEN_OHM:
        return "open"
    if ohm < (LATCHING_SHORT_OHM if latching else SHORT_OHM):
        return "short"
    if ohm < low:
        return "low"
    return "high" if ohm > high else "sound"


def _by_known(ohm: float, known: float, short: float, near: float) -> Meaning:
    if ohm >= OPEN_OHM:
        return "open"
    if abs(ohm - known) <= max(_SOUND_PART * known, near):
        return "sound"
    if ohm < short:
        return "short"
    if _HALF[0] * known <= ohm <= _HALF[1] * known:
        return "two coils"
    if ohm < known:
        return "low"
    return "high" if ohm > known + _HIGH_OHM or ohm > USUAL_OHM[1] else "sound"
