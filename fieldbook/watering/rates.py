"""How fast a zone waters, in inches an hour: from its flow and area, its spacing, its emitters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

IN_H_PER_GPM_FT2 = 96.25
"""Inches an hour of 1 gpm on 1 ft2: 60 min x 231 in3 over 144 in2. Tables print 96.3."""
GAL_PER_IN_FT2 = 144.0 / 231.0
"""Gallons in one inch of water on 1 ft2, 0.6234. California's ordinance prints 0.62."""
_TRIANGLE = math.sqrt(3.0) / 2.0


def area_rate(gpm: float, area_ft2: float) -> float:
    """The rate of a flow that spreads over an area. Raises ValueError for no area."""
    if area_ft2 <= 0.0:
        raise ValueError("An area must be above zero.")
    return IN_H_PER_GPM_FT2 * gpm / area_ft2


def square_rate(full_circle_gpm: float, between_ft: float, rows_ft: float | None = None) -> float:
    """The rate of full circles on a square, or on a rectangle whose rows are `rows_ft` apart.

    `full_circle_gpm` is the flow of a head that waters a full circle.
    """
    return area_rate(full_circle_gpm, between_ft * (between_ft if rows_ft is None else rows_ft))


def triangle_rate(full_circle_gpm: float, between_ft: float) -> float:
    """The rate of full circles on a triangle of equal sides."""
    return area_rate(full_circle_gpm, between_ft * between_ft * _TRIANGLE)


def grid_rate(emitter_gph: float, rows_in: float, emitters_in: float) -> float:
    """The rate of dripline: emitters `emitters_in` apart in rows `rows_in` apart."""
    return area_rate(emitter_gph / 60.0, rows_in * emitters_in / 144.0)


def plant_gph(emitters: int, emitter_gph: float) -> float:
    """Gallons an hour that one plant gets from its emitters."""
    return emitters * emitter_gph


@dataclass(frozen=True)
class Sprinkler:
    """A sprinkler head: its flow in gpm and the part of a circle that it waters."""

    name: str
    gpm: float
    arc_deg: float
    radius_ft: float

    @property
    def own_rate(self) -> float:
        """The rate on the ground that it alone waters, in inches an hour."""
        return area_rate(self.gpm, math.pi * self.radius_ft**2 * self.arc_deg / 360.0)


@dataclass(frozen=True)
class Matched:
    """How well the rates of a zone's heads match: the slowest, the fastest, their ratio."""

    slowest: Sprinkler
    fastest: Sprinkler

    @property
    def ratio(self) -> float:
        """The fastest rate over the slowest; 1 where all are alike."""
        return self.fastest.own_rate / self.slowest.own_rate


def matched(heads: Sequence[Sprinkler]) -> Matched | None:
    """How the rates of these heads compare; None of fewer than two, or of a dry one."""
    if len(heads) < 2 or any(head.gpm <= 0.0 for head in heads):
        return None
    by_rate = sorted(heads, key=lambda head: head.own_rate)
    return Matched(by_rate[0], by_rate[-1])
