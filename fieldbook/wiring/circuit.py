"""The electrical circuit of a valve: resistance, voltage at the coil, longest run, load.

Lengths are one way in ft, as laid (trench, risers and box loops). Currents are those rated for
the coils in A and never volts over DC ohms, since at 60 Hz a coil's impedance is far above its
resistance. The wire's drop is subtracted in full, as if it were in phase with the coil's voltage,
which is on the safe side for an inductive coil.

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
"""By AWG size, the resistance of one conductor of solid bare copper at 20 C (68 F)."""
THICKEST_FIRST = tuple(OHM_PER_1000_FT)
USUAL_SOIL_DEG_F = 68.0
_PER_DEG_C = 0.00393


def ohm_per_ft(gauge: str, deg_f: float = USUAL_SOIL_DEG_F) -> float:
    """Ohm per foot of one conductor. Raises KeyError for an AWG size that is not listed."""
    return OHM_PER_1000_FT[gauge] / 1000.0 * (1.0 + _PER_DEG_C * (deg_f - 68.0) / 1.8)


_SOURCE_V = 24.0
CLASS_2_VA = 100.0
"""Nameplate limit in VA of a Class 2 source (NEC 725; chapter 9, table 11(A))."""


@dataclass(frozen=True)
class Currents:
    """Coil currents in A and voltages in V (defaults: common practice, no source).

    `master_a` is a master valve's or pump relay's, which flows in the common while a zone runs.
    `pull_in_v` is what a coil needs to open its valve.
    """

    inrush_a: float = 0.40
    holding_a: float = 0.25
    master_a: float = 0.0
    output_v: float = 24.0
    pull_in_v: float = 20.0

    @property
    def allowed_drop_v(self) -> float:
        """The drop that still leaves the coil what it needs to pull in."""
        return self.output_v - self.pull_in_v


@dataclass(frozen=True)
class Run:
    """The wire of one valve: its one-way length in ft, and the AWG sizes of both conductors."""

    length_ft: float
    gauge: str
    common_gauge: str
    deg_f: float = USUAL_SOIL_DEG_F

    @property
    def loop_ohm(self) -> float:
        """Resistance in ohm, out on one conductor and back on the other."""
        return self.length_ft * (
            ohm_per_ft(self.gauge, self.deg_f) + ohm_per_ft(self.common_gauge, self.deg_f)
        )

    def drop_v(self, zone_a: float, master_a: float) -> float:
        """Volts lost: the zone's current flows in both conductors, the master's in the common."""
        hot = ohm_per_ft(self.gauge, self.deg_f) * zone_a
        common = ohm_per_ft(self.common_gauge, self.deg_f) * (zone_a + master_a)
        return self.length_ft * (hot + common)


def coil_v(run: Run, currents: Currents) -> float:
    """Volts at the coil as it pulls in."""
    return currents.output_v - run.drop_v(currents.inrush_a, currents.master_a)


def longest_ft(
    gauge: str, common_gauge: str, currents: Currents, deg_f: float = USUAL_SOIL_DEG_F
) -> float:
    """The longest one-way run in ft that still pulls the coil in; infinite without current."""
    one_foot = Run(1.0, gauge, common_gauge, deg_f)
    drop_v = one_foot.drop_v(currents.inrush_a, currents.master_a)
    return currents.allowed_drop_v / drop_v if drop_v > 0 else math.inf


def smallest_gauge(
    length_ft: float, currents: Currents, deg_f: float = USUAL_SOIL_DEG_F
) -> str | None:
    """The thinnest listed AWG size, the same in both conductors, that still pulls the coil in.

    None if no size is thick enough.
    """
    for gauge in reversed(THICKEST_FIRST):
        if longest_ft(gauge, gauge, currents, deg_f) >= length_ft:
            return gauge
    return None


def load_va(currents: Currents, zones: int) -> float:
    """VA that a 24 V source gives as the last of `zones` coils pulls in, all others held.

    `zones` is at least 1.
    """
    amps = (zones - 1) * currents.holding_a + currents.inrush_a + currents.master_a
    return _SOURCE_V * amps


def to_short_ft(reading_ohm: float, gauge: str, deg_f: float = USUAL_SOIL_DEG_F) -> float:
    """One-way ft to where two conductors of an AWG size touch, from the ohm reading of the loop."""
    return reading_ohm / (2.0 * ohm_per_ft(gauge, deg_f))
