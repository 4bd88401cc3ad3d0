"""What each link loses, as numbers that the solver can evaluate fast; checked once, here.

The loss of a link in psi at q gpm is r |q|^1.852 + k q |q|, plus a curve where there is one: a
table, or Darcy-Weisbach.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from fieldbook.units import PSI_PER_FT
from fieldbook.water.friction import (
    FLOW_EXPONENT,
    GRAVITY_FT_S2,
    VELOCITY,
    darcy_weisbach,
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

# No pipe or valve is beyond these, and the powers taken of its figures would overflow.
_LEAST_BORE_IN, _LONGEST_FT, _MOST = 0.001, 1e9, 1e6
VELOCITY_HEAD_PSI = PSI_PER_FT / (2.0 * GRAVITY_FT_S2)
"""psi of velocity head at 1 ft/s; it goes with the square of the velocity."""
Curve = Callable[[float], tuple[float, float]]
"""From flow in gpm to loss in psi and its slope in psi per gpm."""


class Loss(NamedTuple):
    """`power` is r in r |q|^1.852, `square` is k in k q |q|; the `curve`, if any, is added."""

    power: float = 0.0
    square: float = 0.0
    curve: Curve | None = None


def loss_and_slope(
    power: float, square: float, curve: Curve | None, flow: float
) -> tuple[float, float]:
    """A link's loss in psi and its slope in psi per gpm, at a flow in gpm of either sign."""
    size = abs(flow)
    psi = power * float(size**FLOW_EXPONENT)
    slope = FLOW_EXPONENT * psi / size if size else 0.0
    psi += square * size * size
    slope += 2.0 * square * size
    if flow < 0.0:
        psi = -psi
    if curve is not None:
        more, steeper = curve(flow)
        psi, slope = psi + more, slope + steeper
    return psi, slope


def loss_of(link: Link, network: Network) -> Loss:
    """The loss of a link. Raises NetworkError, naming the link, for impossible figures."""
    try:
        return _loss(link.kind, network)
    except ValueError as error:
        text = str(error)
        raise NetworkError(f"Link {link.name}: {text[:1].lower()}{text[1:]}") from error


def supply_loss(supply: Supply) -> Loss:
    """The pressure that the supply itself loses with flow.

    Raises NetworkError for impossible figures, or a flow test in which nothing dropped.
    """
    static, residual, tested = supply.static_psi, supply.residual_psi, supply.test_gpm
    if not 0.0 <= static <= _MOST:
        raise NetworkError("The supply's static pressure must be a number not below zero.")
    if residual is None and tested is None:
        return Loss()
    if residual is None or tested is None:
        raise NetworkError("A flow test needs both its residual pressure and its flow.")
    if not (0.0 <= residual < math.inf and 0.0 < tested < math.inf):
        raise NetworkError("A flow test needs a residual not below zero, and a flow above zero.")
    if residual >= static:
        raise NetworkError(
            f"The flow test's residual {residual:g} psi is not below the static {static:g} psi: "
            "test again with more water running."
        )
    exponent, drop_psi = supply.exponent, static - residual
    if not 1.0 <= exponent <= 3.0:
        raise NetworkError("The supply's exponent must be from 1 to 3.")
    if exponent == FLOW_EXPONENT:
        return Loss(power=float(drop_psi / tested**FLOW_EXPONENT))
    return Loss(curve=_power_curve(drop_psi, tested, exponent))


def _power_curve(drop_psi: float, tested_gpm: float, exponent: float) -> Curve:
    """The supply's curve for an exponent other than the one that `Loss.power` has."""

    def curve(gpm: float) -> tuple[float, float]:
        if gpm <= 0.0:
            return 0.0, 0.0
        loss = float(drop_psi * (gpm / tested_gpm) ** exponent)
        return loss, exponent * loss / gpm

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


# The pipes of a zone are much alike, and what-if solves change few of them.
@lru_cache(maxsize=2000)
def _pipe(pipe: Pipe, darcy_deg_f: float | None) -> Loss:
    """The loss of a pipe: by Darcy-Weisbach for water of a temperature, else Hazen-Williams."""
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


# A network has many pipes and few sizes.
@lru_cache(maxsize=1000)
def _per_ft(bore_in: float, c: float) -> float:
    """Hazen-Williams loss in psi per foot at 1 gpm."""
    return hazen_williams_psi(1.0, bore_in, c, 1.0)


def _darcy_curve(pipe: Pipe, length_ft: float, water_deg_f: float) -> Curve | None:
    if length_ft == 0.0:
        return None
    viscosity = viscosity_ft2_s(water_deg_f)

    def curve(gpm: float) -> tuple[float, float]:
        loss, slope = darcy_weisbach(
            abs(gpm), pipe.bore_in, pipe.roughness_ft, length_ft, viscosity
        )
        return (loss if gpm >= 0 else -loss), slope

    return curve


def table_curve(points: tuple[tuple[float, float], ...]) -> Curve:
    """The loss between tabulated (gpm, psi) points. Raises ValueError for an impossible one.

    The loss may fall once, as the springs of a check valve open, and rise from there; one that
    rises and falls again is refused.
    """
    _check_table(points)
    flows, losses = [gpm for gpm, _ in points], [psi for _, psi in points]
    slopes = [(psi2 - psi1) / (gpm2 - gpm1) for (gpm1, psi1), (gpm2, psi2) in pairwise(points)]
    # A loss that still falls at its last point stays level beyond it: it must not go below zero.
    beyond = max(slopes[-1], 0.0) if slopes else 0.0

    def curve(gpm: float) -> tuple[float, float]:
        after = bisect_right(flows, gpm)
        if after == 0:
            return losses[0], 0.0
        slope = slopes[after - 1] if after < len(flows) else beyond
        return losses[after - 1] + slope * (gpm - flows[after - 1]), slope

    return curve


def _check_table(points: tuple[tuple[float, float], ...]) -> None:
    if not points:
        raise ValueError("Its table has no points.")
    figures = [figure for point in points for figure in point]
    if not all(math.isfinite(figure) and figure >= 0 for figure in figures):
        raise ValueError("Its table has a flow or a loss that is not a number or is below zero.")
    risen = False
    for (gpm1, psi1), (gpm2, psi2) in pairwise(points):
        if gpm2 <= gpm1:
            raise ValueError(f"Its table's flows must rise, but {gpm2:g} gpm follows {gpm1:g} gpm.")
        if psi2 < psi1 and risen:
            raise ValueError(
                f"Its table is a saw-tooth: the loss rises and falls again at {gpm2:g} gpm."
            )
        risen = risen or psi2 > psi1
