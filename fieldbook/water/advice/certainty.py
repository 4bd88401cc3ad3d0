"""How surely a zone works: a band on its worst head, and the street pressure it holds down to.

Each doubt is solved for by itself, up and down, and the doubts are independent, so that their
effects add as squares. Pressures are in psi, flows in gpm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.network import Network, NetworkError, Supply
from fieldbook.water.solution import Solution
from fieldbook.water.solver import solve
from fieldbook.water.what_if import WhatIf

DoubtName = Literal["static gauge", "residual gauge", "tested flow", "hour", "law", "bore"]
Least = Callable[[Solution], float]
"""The least margin in psi of any head of a solution."""
_LEAST_DROP_PSI = 0.01
_CLOSE_PSI = 0.01
_FURTHEST_PSI = 200.0


@dataclass(frozen=True)
class Doubts:
    """How far figures may be off, at 95 %.

    gauge_psi: one reading of a gauge. test_flow_part: the flow of a test, as a part of it.
    hour_psi: the street's pressure at another hour. others: the network with another friction law
    or bore, by the name of the doubt.
    """

    gauge_psi: float
    test_flow_part: float
    hour_psi: float
    others: Mapping[DoubtName, Network]


@dataclass(frozen=True)
class Doubt:
    """By how many psi one doubt lowers and raises the least margin; neither is negative."""

    name: DoubtName
    down_psi: float
    up_psi: float


@dataclass(frozen=True)
class Band:
    """The least margin of any head, and between what it lies, all in psi."""

    margin_psi: float
    low_psi: float
    high_psi: float
    doubts: tuple[Doubt, ...]

    @property
    def by_test_psi(self) -> float:
        """What the flow test alone takes off: the gauge while water ran, and the tested flow."""
        names = ("residual gauge", "tested flow")
        return _together(one.down_psi for one in self.doubts if one.name in names)


def band_of(network: Network, least: Least, doubts: Doubts) -> Band:
    """The band on the least margin. Raises NetworkError as `solve` does."""
    whatif = WhatIf(network)
    margin = least(whatif.now)
    found = []
    for name, supplies in _supplies(network.supply, doubts).items():
        margins = [least(whatif.solve(supply=supply)) for supply in supplies]
        found.append(_doubt(name, margin, margins))
    for name, other in doubts.others.items():
        found.append(_doubt(name, margin, [least(solve(other))]))
    down = _together(one.down_psi for one in found)
    up = _together(one.up_psi for one in found)
    return Band(margin, margin - down, margin + up, tuple(found))


def _doubt(name: DoubtName, margin: float, margins: list[float]) -> Doubt:
    return Doubt(name, max(0.0, margin - min(margins)), max(0.0, max(margins) - margin))


def _together(parts: Iterable[float]) -> float:
    return float(sum(part**2 for part in parts) ** 0.5)


def _supplies(supply: Supply, doubts: Doubts) -> dict[DoubtName, list[Supply]]:
    """The supply with each of its figures off by its doubt, down and up."""
    gauge, hour = doubts.gauge_psi, doubts.hour_psi
    static, residual, tested = supply.static_psi, supply.residual_psi, supply.test_gpm
    found: dict[DoubtName, list[Supply]] = {
        "hour": [shifted(supply, -hour), shifted(supply, hour)],
    }
    if residual is None or tested is None:
        found["static gauge"] = [shifted(supply, -gauge), shifted(supply, gauge)]
        return found
    most = static - _LEAST_DROP_PSI
    found["static gauge"] = [
        supply._replace(static_psi=max(static - gauge, residual + _LEAST_DROP_PSI)),
        supply._replace(static_psi=static + gauge),
    ]
    found["residual gauge"] = [
        supply._replace(residual_psi=max(residual - gauge, 0.0)),
        supply._replace(residual_psi=min(residual + gauge, most)),
    ]
    off = doubts.test_flow_part
    found["tested flow"] = [
        supply._replace(test_gpm=tested * (1.0 - off)),
        supply._replace(test_gpm=tested * (1.0 + off)),
    ]
    return found


def shifted(supply: Supply, by_psi: float) -> Supply:
    """The supply with its whole curve so much higher; a curve below zero starts at zero."""
    static = max(supply.static_psi + by_psi, _LEAST_DROP_PSI)
    if supply.residual_psi is None or supply.test_gpm is None:
        return supply._replace(static_psi=static)
    # The same curve, written with another point of it: the shifted residual could be below zero.
    drop = static / 2.0
    part = drop / (supply.static_psi - supply.residual_psi)
    tested = float(supply.test_gpm * part ** (1.0 / supply.exponent))
    return supply._replace(static_psi=static, residual_psi=static - drop, test_gpm=tested)


def least_static_psi(network: Network, least: Least) -> float | None:
    """The lowest static pressure at which every head has what it needs, the test's drop kept.

    Above the present static where a head is short now. None where no pressure within 200 psi of
    it is enough. Raises NetworkError as `solve` does.
    """
    whatif = WhatIf(network)
    static = network.supply.static_psi

    def enough(psi: float) -> bool:
        try:
            return least(whatif.solve(supply=shifted(network.supply, psi - static))) >= 0.0
        except NetworkError:
            return False

    low, high = (0.0, static) if least(whatif.now) >= 0.0 else (static, static + _FURTHEST_PSI)
    if not enough(high):
        return None
    while high - low > _CLOSE_PSI:
        middle = (low + high) / 2.0
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def halving_test_gpm(test_gpm: float) -> float:
    """The flow of a test that halves what the same reading error does at the zone's flow.

    The error counts by (zone's flow / tested flow)^1.852.
    """
    return float(test_gpm * 2.0 ** (1.0 / FLOW_EXPONENT))
