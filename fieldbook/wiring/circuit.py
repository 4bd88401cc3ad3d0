"""The electrical circuit of a valve: resistance, voltage at the coil, longest run, load.

Lengths are one way in ft, as laid (trench, risers and box loops). Currents are those of the coils
in A; they are never computed as volts over DC ohms, since at 60 Hz a coil's impedance is far above
its resistance. The drop is subtracted as it stands, which is on the safe side for an inductive
coil.

Resistance of solid copper wire: the 20 C column of copper wire tables as reprinted from Floyd,
"Electric Circuit Fundamentals", 2nd ed., in a university physics reference (origin NBS Handbook
100, from memory). Temperature: R = R20 (1 + 0.00393 (T - 20)) (from memory), which agrees with NEC
chapter 9, table 8 at 75 C.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

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


CLASS_2_VA = 100.0
"""Nameplate limit of a Class 2 source (NEC 725; chapter 9, table 11(A))."""


@dataclass(frozen=True)
class Currents:
    """Coil currents in A and voltages in V (defaults: common practice, no source).

    `master_a` flows in the common too while a zone runs: a master valve or pump relay.
    """

    inrush_a: float = 0.40
    holding_a: float = 0.25
    master_a: float = 0.0
    output_v: float = 24.0
    pull_in_v: float = 20.0

    @property
    def allowed_v(self) -> float:
        """The drop that still leaves the coil what it needs to pull in."""
        return self.output_v - self.pull_in_v


@dataclass(frozen=True)
class Run:
    """The wire of one valve: one-way length in ft, the gauges of its two conductors."""

    length_ft: float
    gauge: str
    common_gauge: str
    deg_f: float = USUAL_SOIL_DEG_F

    @property
    def loop_ohm(self) -> float:
        """Out on one conductor and back on the other."""
        return self.length_ft * (
            ohm_per_ft(self.gauge, self.deg_f) + ohm_per_ft(self.common_gauge, self.deg_f)
        )

    def drop_v(self, zone_a: float, master_a: float = 0.0) -> float:
        """Voltage lost: the zone's current in both conductors, the master's in the common."""
        hot = ohm_per_ft(self.gauge, self.deg_f) * zone_a
        common = ohm_per_ft(self.common_gauge, self.deg_f) * (zone_a + master_a)
        return self.length_ft * (hot + common)


def coil_v(run: Run, currents: Currents, *, coils: int = 1, holding: bool = False) -> float:
    """Voltage at the coil as it pulls in, or while it holds; `coils` are on one station wire."""
    zone_a = coils * (currents.holding_a if holding else currents.inrush_a)
    return currents.output_v - run.drop_v(zone_a, currents.master_a)


def longest_ft(
    gauge: str,
    common_gauge: str,
    currents: Currents,
    *,
    coils: int = 1,
    deg_f: float = USUAL_SOIL_DEG_F,
) -> float:
    """The longest one-way run that still pulls the coil in."""
    a_foot = Run(1.0, gauge, common_gauge, deg_f).drop_v(
        coils * currents.inrush_a, currents.master_a
    )
    return currents.allowed_v / a_foot if a_foot > 0 else math.inf


def smallest_gauge(
    length_ft: float, currents: Currents, *, coils: int = 1, deg_f: float = USUAL_SOIL_DEG_F
) -> str | None:
    """The thinnest AWG size, the same in both conductors, that pulls in; None if none listed."""
    for gauge in reversed(THICKEST_FIRST):
        if longest_ft(gauge, gauge, currents, coils=coils, deg_f=deg_f) >= length_ft:
            return gauge
    return None


def load_va(currents: Currents, zones: int, held_v: float = 24.0) -> float:
    """What the source gives as the last of so many zones pulls in, the others and master holding.

    At its nominal `held_v`.
    """
    if zones < 1:
        return held_v * currents.master_a
    amps = (zones - 1) * currents.holding_a + currents.inrush_a + currents.master_a
    return held_v * amps


def to_short_ft(reading_ohm: float, gauge: str, deg_f: float = USUAL_SOIL_DEG_F) -> float:
    """One-way distance to where two conductors of a gauge touch, from the loop's reading."""
    return reading_ohm / (2.0 * ohm_per_ft(gauge, deg_f))


def parallel_ohm(*coils: float) -> float:
    """What coils on one station wire read together. Raises ValueError for a coil of no ohms."""
    if not coils or min(coils) <= 0:
        raise ValueError("A coil has a resistance above zero.")
    return 1.0 / sum(1.0 / one for one in coils)
