"""What plants use: a landscape coefficient is a plant factor by density by microclimate.

KL = ks x kd x kmc (University of California and Department of Water Resources guide, 2000). A
factor is a start: one grass measured 1.78 mm a day in Florida and 4.83 in Colorado.
"""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.trade.plants_and_soils import plants_and_soils
from fieldbook.watering.figure import Figure


def landscape_coefficient(species: float, density: float = 1.0, microclimate: float = 1.0) -> float:
    """KL, the part of reference ET that a planting uses."""
    return species * density * microclimate


@dataclass(frozen=True)
class PlantWater:
    """What a planting uses: the part of reference ET by month, and how that came about."""

    months: tuple[float, ...]
    words: str
    is_default: bool

    def factor(self, month: int) -> float:
        """The part of reference ET in a month, 1 to 12."""
        return self.months[month - 1]


def plant_water(plant: str, density: str | None = None, exposure: str | None = None) -> PlantWater:
    """What a listed kind of planting uses. Raises KeyError for one that is not listed.

    density and exposure are names of `plants_and_soils.toml`; None is average. A lawn has no
    density.
    """
    listed = plants_and_soils()
    row = listed.plants[plant]
    dense = listed.density[density or "average"] if row.density else 1.0
    open_to = listed.exposure[exposure or "average"]
    months = tuple(landscape_coefficient(ks, dense, open_to) for ks in row.months)
    words = f"{plant} ({row.source})"
    if dense != 1.0:
        words += f", {density} x {dense:g}"
    if open_to != 1.0:
        words += f", {exposure} x {open_to:g}"
    return PlantWater(months, words, is_default=True)


def entered_plant_water(factor: Figure) -> PlantWater:
    """What a planting uses by a factor that was entered for it."""
    return PlantWater((factor.value,) * 12, factor.words, factor.is_default)
