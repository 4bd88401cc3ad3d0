"""The volume of pipe, the air that empties it and the water that fills it slowly.

Air is counted as free air at sea level: what a compressor draws in, in ft3 or ft3/min (cfm). Water
of a volume V is pushed out by V of air at the pressure p of the line, which is V (p + 14.7) / 14.7
of free air (Boyle's law, the air at the temperature it was drawn in). Higher up the air is thinner
and more of it is needed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

ATMOSPHERE_PSI = 14.7
"""The pressure of the air at sea level in psi."""
GAL_PER_FT3 = 1728.0 / 231.0
"""A US gallon is 231 cubic inches (NIST Special Publication 811, Appendix B)."""
FILL_FT_S = 1.0
"""How fast water may run into empty pipe, in ft/s (from memory, no source was read)."""
_INCHES = 12.0


class PipeLength(NamedTuple):
    """A length of pipe in ft and its bore in inches."""

    bore_in: float
    length_ft: float


def volume_ft3(pipes: Iterable[PipeLength]) -> float:
    """The volume of pipe in ft3."""
    return sum(_area_ft2(pipe.bore_in) * pipe.length_ft for pipe in pipes)


def free_air_ft3(volume: float, psi: float) -> float:
    """The free air in ft3 that fills a volume in ft3 at a gauge pressure."""
    return volume * (psi + ATMOSPHERE_PSI) / ATMOSPHERE_PSI


def seconds_of_air(free_ft3: float, cfm: float) -> float:
    """How long a compressor that gives `cfm` of free air takes to give so much of it."""
    return free_ft3 / cfm * 60.0


def pushing_cfm(flow_gpm: float, psi: float) -> float:
    """The free air in cfm that pushes water out at a flow, against a gauge pressure."""
    return free_air_ft3(flow_gpm / GAL_PER_FT3, psi)


def fill_gpm(bore_in: float, ft_s: float = FILL_FT_S) -> float:
    """The flow in gpm at which water runs into pipe of a bore at a velocity."""
    return _area_ft2(bore_in) * ft_s * 60.0 * GAL_PER_FT3


def fill_seconds(pipes: Iterable[PipeLength], ft_s: float = FILL_FT_S) -> float:
    """How long pipe takes to fill where water is nowhere in it faster than `ft_s`; 0 of none."""
    laid = [pipe for pipe in pipes if pipe.length_ft > 0.0]
    if not laid:
        return 0.0
    narrowest = min(pipe.bore_in for pipe in laid)
    return volume_ft3(laid) / (_area_ft2(narrowest) * ft_s)


def _area_ft2(bore_in: float) -> float:
    return math.pi / 4.0 * (bore_in / _INCHES) ** 2
