"""Resistance of solid copper wire by AWG size and temperature.

20 C column: copper wire tables as reprinted from Floyd, “Electric Circuit Fundamentals”, 2nd ed.,
in a university physics reference (origin NBS Handbook 100, from memory). Temperature: R = R20 (1 +
0.00393 (T - 20)) (from memory), which agrees with NEC chapter 9, table 8 at 75 C.
"""

from __future__ import annotations

from collections.abc import Mapping

OHM_PER_1000_FT: Mapping[str, float] = {
    "10": 0.999,
    "12": 1.588,
    "14": 2.525,
    "16": 4.016,
    "18": 6.385,
    "20": 10.15,
    "22": 16.14,
}
"""One conductor, solid bare copper at 20 C (68 F), by AWG size."""
THICKEST_FIRST = tuple(OHM_PER_1000_FT)
USUAL_SOIL_DEG_F = 68.0
_PER_DEG_C = 0.00393


def ohm_per_ft(gauge: str, deg_f: float = USUAL_SOIL_DEG_F) -> float:
    """Resistance of a foot of one conductor. Raises KeyError for a size that is not listed."""
    return OHM_PER_1000_FT[gauge] / 1000.0 * (1.0 + _PER_DEG_C * (deg_f - 68.0) / 1.8)


def diameter_mil(gauge: str) -> float:
    """Diameter in thousandths of an inch: 5 x 92^((36 - n) / 39)."""
    return float(5.0 * 92.0 ** ((36 - int(gauge)) / 39.0))
