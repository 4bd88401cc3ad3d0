"""Plants, soils and water allowances: `plants_and_soils.toml` beside this file, as rows.

Each figure has its source there. All of them are stated defaults: a figure that somebody entered
or measured on the property wins.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from importlib import resources
from typing import Any

SOAK_SOURCE = (
    "The trade's table of intake rates and surface accumulation, as read in two teaching programs; "
    "its slopes from memory."
)
MOST_SOURCE = "USDA table of highest application rates by soil, cover and slope"
AVAILABLE_SOURCE = "University of California, Davis, drought table: middle of its range"
UNIFORMITY_SOURCE = "the EPA's budget tool, from memory; homes were measured at 0.40 to 0.48"
ESTABLISHMENT_SOURCE = "Common practice, no source; local rules say how long watering is exempt."
_SURFACE_TO_PCT = (3.0, 6.0, 12.0)
_MOST_TO_PCT = (5.0, 8.0, 12.0)


@dataclass(frozen=True)
class PlantRow:
    """A kind of planting: its factor by month, the part of water it may use, its roots in inches.

    `density`: whether the factor is multiplied by how dense the planting is.
    """

    name: str
    months: tuple[float, ...]
    source: str
    depletion: float
    depletion_source: str
    root_in: float
    density: bool


@dataclass(frozen=True)
class SoilRow:
    """A soil: inches of water in an inch of it, its intake in in/h, what may stand on it in in.

    `surface_in` is by slope; `most` by cover and slope is the highest rate of a sprinkler in in/h.
    """

    name: str
    available_in_in: float
    intake_in_h: float
    surface_in: tuple[float, ...]
    most: Mapping[str, tuple[float, ...]]
    most_mark: str

    def surface_at(self, slope_pct: float) -> float:
        """The inches that may stand on it at a slope."""
        return self.surface_in[_class_of(slope_pct, _SURFACE_TO_PCT)]

    def most_at(self, slope_pct: float, *, bare: bool, compact: bool = False) -> float:
        """The highest rate in in/h that doesn't run off."""
        ground = ("bare" if bare else "covered") + ("_compact" if compact else "")
        return self.most[ground][_class_of(slope_pct, _MOST_TO_PCT)]


@dataclass(frozen=True)
class AllowanceRow:
    """The part of reference ET that an ordinance allows, from a day on."""

    name: str
    factor: float
    since: date
    source: str


@dataclass(frozen=True)
class PhaseRow:
    """How new plants are watered up to a day after planting; the day of planting is day 1."""

    last_day: int
    times_a_day: int
    every_days: int
    factor: float


@dataclass(frozen=True)
class PlantsAndSoils:
    """All rows of the file, by name."""

    plants: Mapping[str, PlantRow]
    density: Mapping[str, float]
    exposure: Mapping[str, float]
    soils: Mapping[str, SoilRow]
    uniformity: Mapping[str, float]
    multipliers: Mapping[str, Mapping[str, str]]
    allowances: Mapping[str, AllowanceRow]
    establishment: Mapping[str, tuple[PhaseRow, ...]]


@lru_cache
def plants_and_soils() -> PlantsAndSoils:
    """The figures that ship with fieldbook."""
    text = resources.files("fieldbook.trade").joinpath("plants_and_soils.toml").read_text("utf-8")
    data = tomllib.loads(text)
    return PlantsAndSoils(
        plants={name: _plant(name, row) for name, row in data["plant"].items()},
        density=data["density"],
        exposure=data["exposure"],
        soils={name: _soil(name, row, data["most"]) for name, row in data["soil"].items()},
        uniformity=data["uniformity"],
        multipliers=data["multiplier"],
        allowances={row["name"]: AllowanceRow(**row) for row in data["allowance"]},
        establishment={
            row["kind"]: tuple(PhaseRow(**phase) for phase in row["phases"])
            for row in data["establishment"]
        },
    )


def _plant(name: str, row: Mapping[str, Any]) -> PlantRow:
    months = row.get("months") or [row["factor"]] * 12
    return PlantRow(
        name,
        tuple(float(factor) for factor in months),
        row["source"],
        row["depletion"],
        row["depletion_source"],
        float(row["root_in"]),
        row["density"],
    )


def _soil(name: str, row: Mapping[str, Any], most: Mapping[str, Mapping[str, Any]]) -> SoilRow:
    low, high = row["available_in_ft"]
    highest = most[row["most"]]
    rates = {ground: tuple(rate) for ground, rate in highest.items() if ground != "mark"}
    return SoilRow(
        name,
        (low + high) / 2.0 / 12.0,
        row["intake_in_h"],
        tuple(row["surface_in"]),
        rates,
        highest["mark"],
    )


def _class_of(slope_pct: float, limits: Sequence[float]) -> int:
    """Which of the classes of slope this one is in, from 0."""
    return sum(slope_pct > limit for limit in limits)


PLANTS = tuple(plants_and_soils().plants)
"""The kinds of planting, as a cell offers them."""
DENSITIES = tuple(plants_and_soils().density)
EXPOSURES = tuple(plants_and_soils().exposure)
NEW_PLANTS = tuple(plants_and_soils().establishment)
MULTIPLIERS = tuple(plants_and_soils().multipliers)
ALLOWANCES = tuple(plants_and_soils().allowances)
