"""How long a zone may run before water runs off, and how long it then soaks in.

A soil takes water at its intake rate and holds a little more on its surface: the allowable surface
accumulation. A zone that waters faster fills that in 60 ASA / (PR - IR) minutes, and it has soaked
in after 60 ASA / IR more. Minutes to run-off that the installer timed on the spot win.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fieldbook.trade.plants_and_soils import MOST_SOURCE, SOAK_SOURCE, plants_and_soils

USUAL_SOAK_MIN = 60.0
"""The soak where the soil is not known: 30 to 60 min between cycles, or starts an hour apart, are
published; the longer is the safe one."""


@dataclass(frozen=True)
class Intake:
    """What a soil takes: inches an hour, and inches that may stand on it; over 0."""

    rate_in_h: float
    surface_in: float
    source: str = ""

    def __post_init__(self) -> None:
        """Refuse a soil that takes nothing: water would never soak in."""
        if self.rate_in_h <= 0.0 or self.surface_in <= 0.0:
            raise ValueError("An intake rate and a surface accumulation must be above zero.")

    def limit_min(self, rate_in_h: float) -> float | None:
        """Most minutes of one cycle at this rate; None if the soil takes it all."""
        over = rate_in_h - self.rate_in_h
        return 60.0 * self.surface_in / over if over > 0.0 else None

    @property
    def soak_min(self) -> float:
        """Minutes after which the water on the surface has soaked in."""
        return 60.0 * self.surface_in / self.rate_in_h


def soil_intake(
    soil: str, slope_pct: float = 0.0, *, bare: bool = False, compact: bool = False
) -> Intake:
    """What a listed soil takes at a slope: the lower of two published tables.

    `compact`: over a compacted subsoil. Raises KeyError for a soil that is not listed.
    """
    row = plants_and_soils().soils[soil]
    most = row.most_at(slope_pct, bare=bare, compact=compact)
    source = SOAK_SOURCE
    if most < row.intake_in_h:
        source = f"{MOST_SOURCE} ({row.most_mark}); {SOAK_SOURCE}"
    return Intake(min(row.intake_in_h, most), row.surface_at(slope_pct), source)


@dataclass(frozen=True)
class Cycles:
    """The minutes of a watering, cut into equal cycles with a soak between them.

    limit_min: most minutes of one cycle; None without a limit. soak_min: from the end of a cycle to
    the start of the next; 0 for one cycle.
    """

    count: int
    cycle_min: float
    soak_min: float = 0.0
    limit_min: float | None = None

    @property
    def whole_min(self) -> int:
        """The minutes of one cycle as they are typed: whole, not over the limit, at least 1."""
        near = math.floor(self.cycle_min + 0.5)
        if self.limit_min is not None:
            near = min(near, math.floor(self.limit_min))
        return max(near, 1) if self.cycle_min > 0.0 else 0

    @property
    def elapsed_min(self) -> float:
        """From the start of the first cycle to the end of the last, for this zone alone."""
        return self.count * self.cycle_min + max(self.count - 1, 0) * self.soak_min


def cut_in_cycles(
    run_min: float, rate_in_h: float, intake: Intake | None, runoff_min: float | None = None
) -> Cycles:
    """The cycles of a run of `run_min` minutes at a rate in inches an hour.

    runoff_min: minutes until water ran off, as the installer timed it on the spot; it wins over the
    soil's table. Without either there is one cycle.
    """
    if run_min <= 0.0:
        return Cycles(0, 0.0)
    limit = intake.limit_min(rate_in_h) if intake is not None else None
    soak = intake.soak_min if intake is not None else USUAL_SOAK_MIN
    if runoff_min is not None and runoff_min > 0.0:
        limit = runoff_min
    if limit is None or run_min <= limit:
        return Cycles(1, run_min, 0.0, limit)
    # A run that is only a rounding error over its limit needs no cycle more.
    count = math.ceil(run_min / limit - 1e-9)
    return Cycles(count, run_min / count, soak, limit)
