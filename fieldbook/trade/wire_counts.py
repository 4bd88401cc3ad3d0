"""How many conductors a job needs, and the cable that holds them. Common practice, no source."""

from __future__ import annotations

from collections.abc import Sequence

CABLE_COUNTS = (2, 3, 5, 7, 9, 10, 13)
"""Conductor counts that multi-conductor cable is sold in."""
_FEW_ZONES = 6


def conductors_needed(valves: int, commons: int = 1, masters: int = 0, sensors: int = 0) -> int:
    """One for each valve and common, one for a master valve or pump relay, two a wired sensor."""
    return valves + commons + masters + 2 * sensors


def spares_advised(valves: int) -> int:
    """One spare for up to six zones, two for more."""
    return 1 if valves <= _FEW_ZONES else 2


def cable_to_buy(conductors: int) -> Sequence[int]:
    """The smallest cables that hold `conductors` together, the largest first.

    One cable where one is made large enough; otherwise full large cables and one for the rest.
    """
    largest = CABLE_COUNTS[-1]
    full, rest = divmod(max(conductors, 0), largest)
    cables = [largest] * full
    if rest:
        cables.append(next(count for count in CABLE_COUNTS if count >= rest))
    return tuple(cables)
