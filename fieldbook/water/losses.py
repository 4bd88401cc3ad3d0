"""What each link loses, as numbers the solver can run: checked once, then evaluated fast.

A loss is r |q|^1.852 + k q |q|, or a table, or Darcy-Weisbach with its fittings' k q |q|.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from fieldbook.water.friction import (
    FLOW_EXPONENT,
    PSI_PER_FT,
    VELOCITY,
    darcy_weisbach_slope,
    hazen_williams_psi,
    viscosity_ft2_s,
)
from fieldbook.water.network import (
    Device,
    Kind,
    Link,
    Network,
    NetworkError,
    Pipe,
    Regulator,
    Supply,
    Valve,
)

_LEAST_BORE_IN, _LONGEST_FT, _MOST = 0.001, 1e9, 1e6
"""Beyond these nothing is a pipe or a valve, and powers of it would overflow."""
VELOCITY_HEAD_PSI = PSI_PER_FT / (2.0 * 32.174)
"""psi in (ft/s)^2 / 2g of velocity head."""
Curve = Callable[[float], tuple[float, float]]
"""From flow in gpm to loss in psi and its slope in psi per gpm."""


class Loss(NamedTuple):
    """`power` is r in r |q|^1.852, `square` is k in k q |q|; `curve`, if any, is added to both."""

    power: float = 0.0
    square: float = 0.0
    curve: Curve | None = None


def loss_of(link: Link, network: Network) -> Loss:
    """The loss of a link. Raises NetworkError naming it."""
    try:
        return _loss(link.kind, network)
    except ValueError as why:
        said = str(why)
        raise NetworkError(f"Link {link.name}: {said[:1].lower()}{said[1:]}") from why


def supply_loss(supply: Supply) -> Loss:
    """What the supply itself loses with flow. Raises NetworkError for a test that says nothing."""
    static, residual, tested = supply.static_psi, supply.residual_psi, supply.test_gpm
    if not 0.0 <= static <= _MOST:
        raise NetworkError("The supply's static pressure must be a number not below zero.")
    if residual is None and tested is None:
        return Loss()
    if residual is None or tested is None:
        raise NetworkError("A flow test needs both its residual pressure and its flow.")
    if not (math.isfinite(residual) and math.isfinite(tested) and tested > 0):
        raise NetworkError("The supply's flow test needs a pressure, and a flow above zero.")
    if residual >= static:
        raise NetworkError(
            f"The supply's residual {residual:g} psi is not below its static {static:g} psi: "
            "a test in which nothing dropped says nothing."
        )
    exponent, drop = supply.exponent, static - residual
    if not 1.0 <= exponent <= 3.0:
        raise NetworkError("The supply's exponent must be from 1 to 3.")
    if exponent == FLOW_EXPONENT:
        return Loss(power=float(drop / tested**FLOW_EXPONENT))
    return Loss(curve=_power_curve(drop, tested, exponent))


def _power_curve(drop: float, tested: float, exponent: float) -> Curve:
    def curve(q: float) -> tuple[float, float]:
        if q <= 0.0:
            return 0.0, 0.0
        loss = float(drop * (q / tested) ** exponent)
        return loss, exponent * loss / q

    return curve


def _loss(kind: Kind, network: Network) -> Loss:
    if isinstance(kind, Pipe):
        darcy = network.law == "darcy-weisbach"
        return _pipe(kind, network.water_deg_f if darcy else None)
    if isinstance(kind, Device):
        return Loss(curve=table_curve(kind.points))
    if isinstance(kind, Valve):
        if not 1.0 / _MOST <= kind.cv <= _MOST:
            raise ValueError("Its Cv must be above zero, and below a million.")
        return Loss(square=1.0 / kind.cv**2)
    _check_set(kind)
    return Loss()


def _check_set(kind: Regulator) -> None:
    if not (math.isfinite(kind.set_psi) and kind.set_psi > 0):
        raise ValueError("Its set pressure must be above zero.")


@lru_cache(maxsize=2000)
def _pipe(pipe: Pipe, darcy_deg_f: float | None) -> Loss:
    """The loss of a pipe, a zone's pipes being much alike; by Darcy-Weisbach for a temperature."""
    if not (
        0.0 <= pipe.length_ft <= _LONGEST_FT
        and 0.0 <= pipe.fittings_ft <= _LONGEST_FT
        and 0.0 <= pipe.fittings_k <= _MOST
        and 0.0 <= pipe.fittings_part <= _MOST
    ):
        raise ValueError("Its length and fittings must be numbers not below zero.")
    if not (_LEAST_BORE_IN <= pipe.bore_in <= _MOST and _LEAST_BORE_IN <= pipe.c <= _MOST):
        raise ValueError("Its bore and C must be above zero, and no larger than a pipe's.")
    square = 0.0
    if pipe.fittings_k:
        square = pipe.fittings_k * VELOCITY_HEAD_PSI * (VELOCITY / pipe.bore_in**2) ** 2
    length_ft = pipe.length_ft * (1.0 + pipe.fittings_part) + pipe.fittings_ft
    if darcy_deg_f is not None:
        return Loss(square=square, curve=_darcy_curve(pipe, length_ft, darcy_deg_f))
    return Loss(_per_ft(pipe.bore_in, pipe.c) * length_ft, square)


@lru_cache(maxsize=1000)
def _per_ft(bore_in: float, c: float) -> float:
    """Loss in psi per foot at 1 gpm; a network has few sizes and many pipes."""
    return hazen_williams_psi(1.0, bore_in, c, 1.0)


def _darcy_curve(pipe: Pipe, length_ft: float, water_deg_f: float) -> Curve | None:
    if length_ft == 0.0:
        return None
    viscosity = viscosity_ft2_s(water_deg_f)

    def curve(q: float) -> tuple[float, float]:
        loss, slope = darcy_weisbach_slope(
            abs(q), pipe.bore_in, pipe.roughness_ft, length_ft, viscosity
        )
        return (loss if q >= 0 else -loss), slope

    return curve


def table_curve(points: tuple[tuple[float, float], ...]) -> Curve:
    """A tabulated loss. It may fall as springs open and then rise; a saw-tooth is refused."""
    _check_table(points)
    flows, losses = [q for q, _ in points], [h for _, h in points]
    slopes = [(h2 - h1) / (q2 - q1) for (q1, h1), (q2, h2) in pairwise(points)]
    beyond = max(slopes[-1], 0.0) if slopes else 0.0

    def curve(q: float) -> tuple[float, float]:
        at = bisect_right(flows, q)
        if at == 0:
            return losses[0], 0.0
        slope = slopes[at - 1] if at < len(flows) else beyond
        return losses[at - 1] + slope * (q - flows[at - 1]), slope

    return curve


def _check_table(points: tuple[tuple[float, float], ...]) -> None:
    if not points:
        raise ValueError("Its table has no points.")
    if not all(math.isfinite(q) and math.isfinite(h) and q >= 0 and h >= 0 for q, h in points):
        raise ValueError("Its table holds a flow or a loss that is no number or below zero.")
    risen = False
    for (q1, h1), (q2, h2) in pairwise(points):
        if q2 <= q1:
            raise ValueError(f"Its table's flows must rise, but {q2:g} gpm follows {q1:g} gpm.")
        if h2 < h1 and risen:
            raise ValueError(
                f"Its table is a saw-tooth: the loss rises and falls again at {q2:g} gpm."
            )
        risen = risen or h2 > h1
