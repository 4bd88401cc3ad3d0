"""Water budgets: the most a landscape may use, and what its zones need beside it.

California's Model Water Efficient Landscape Ordinance (23 CCR 490) limits the year, the EPA's
budget for new homes the peak month. The part of ET that is allowed changes with the edition: it is
dated data in `fieldbook.trade.plants_and_soils`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldbook.watering.rates import GAL_PER_IN_FT2

ORDINANCE_GAL = 0.62
"""Gallons in an inch on 1 ft2 as the ordinance prints it; the exact figure is 0.6234."""
EPA_PART = 0.70
"""The part of the peak month's ET that the EPA's budget allows."""
EPA_RAIN_PART = 0.25
"""The part of the peak month's rain that the EPA's budget counts, from memory."""
MOST_RAIN_PART = 0.25
"""The most of a year's rain that the ordinance counts, where the city allows it."""


def ordinance_gal(
    et_in_year: float,
    factor: float,
    area_ft2: float,
    special_ft2: float = 0.0,
    rain_in: float = 0.0,
) -> float:
    """The most gallons a year (MAWA), never below 0.

    `area_ft2` is all that is irrigated and includes `special_ft2`, which is allowed all of ET.
    `rain_in` is the year's rain that counts: at most a quarter of it.
    """
    special = min(special_ft2, area_ft2)
    allowed_ft2 = factor * area_ft2 + (1.0 - factor) * special
    return max(et_in_year - rain_in, 0.0) * ORDINANCE_GAL * allowed_ft2


def ordinance_use_gal(
    et_in_year: float, plant_factor: float, even: float, area_ft2: float
) -> float:
    """The gallons a year that one planting uses by the ordinance's worksheet (ETWU).

    `even` is the irrigation efficiency. The worksheet rounds the factor over the efficiency
    to three places; so does this.
    """
    return et_in_year * ORDINANCE_GAL * round(plant_factor / even, 3) * area_ft2


@dataclass(frozen=True)
class Planting:
    """Ground that is watered alike: ft2, landscape coefficient, low-quarter uniformity."""

    area_ft2: float
    factor: float
    uniformity: float


@dataclass(frozen=True)
class PeakBudget:
    """The EPA's budget of the peak month in gallons: what is allowed, what each planting needs."""

    allowed_gal: float
    needs_gal: tuple[float, ...]

    @property
    def need_gal(self) -> float:
        """What all plantings need together."""
        return sum(self.needs_gal)

    @property
    def passes(self) -> bool:
        """Whether the need is within the allowance."""
        return self.need_gal <= self.allowed_gal


def peak_budget(
    et_in: float, rain_in: float, area_ft2: float, plantings: Sequence[Planting]
) -> PeakBudget:
    """The EPA's budget for a month with this ET and rain in inches.

    `area_ft2` is the whole landscape, watered or not.
    """
    allowed = EPA_PART * et_in * area_ft2 * GAL_PER_IN_FT2
    needs = tuple(
        max(et_in * one.factor - EPA_RAIN_PART * rain_in, 0.0)
        * one.area_ft2
        * GAL_PER_IN_FT2
        / one.uniformity
        for one in plantings
    )
    return PeakBudget(allowed, needs)
