"""What each link loses, as numbers that the solver can evaluate fast; checked once, here.

The loss of a link in psi at q gpm is r |q|^1.852 + k q |q|, plus a curve where there is one: a
table, or Darcy-Weisbach.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
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
# The weight of the air, from memory: no pump lifts water from deeper than this.
_DEEPEST_SUCTION_PSI = -14.7
# Water that a trial step sends backwards through a table rises so steeply, in psi per gpm. No
# solution has such flow: `solver` shuts the part instead.
_BACKWARDS = 1.0
VELOCITY_HEAD_PSI = PSI_PER_FT / (2.0 * GRAVITY_FT_S2)
"""psi of velocity head at 1 ft/s; it goes with the square of the velocity."""
Curve = Callable[[float], tuple[float, float]]
"""From flow in gpm to loss in psi and its slope in psi per gpm."""
Points = tuple[tuple[float, float], ...]
"""A table: (gpm, psi) of each point, the flows rising."""


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
        raise NetworkError(_named(f"Link {link.name}", error)) from error


class BranchLosses(NamedTuple):
    """The losses of the supply and of links, as parallel lists with the fields of `Loss`.

    `set_psi`: the set pressure of every regulator, by its place in the lists.
    """

    power: list[float]
    square: list[float]
    curve: list[Curve | None]
    set_psi: dict[int, float]


def branch_losses(network: Network, links: Sequence[Link]) -> BranchLosses:
    """The losses of a network's supply and of these links. Raises NetworkError as `loss_of` does.

    A bare pipe is worked out on the spot, because a network has hundreds and a call costs more.
    """
    first = supply_loss(network.supply)
    power, square, curve = [first.power], [first.square], [first.curve]
    set_psi: dict[int, float] = {}
    plain = network.law == "hazen-williams"
    for link in links:
        kind = link.kind
        if plain and isinstance(kind, Pipe):
            length_ft, bore_in, c, _, fittings_ft, fittings_k, part = kind
            per_ft = _per_ft(bore_in, c)
            if (
                per_ft
                and 0.0 <= length_ft <= _LONGEST_FT
                and not (fittings_ft or fittings_k or part)
            ):
                power.append(per_ft * length_ft)
                square.append(0.0)
                curve.append(None)
                continue
        elif isinstance(kind, Regulator):
            set_psi[len(power)] = kind.set_psi
        loss = loss_of(link, network)
        power.append(loss.power)
        square.append(loss.square)
        curve.append(loss.curve)
    return BranchLosses(power, square, curve, set_psi)


def _named(part: str, error: ValueError) -> str:
    """The sentence of an error with the part that it speaks of before it."""
    text = str(error)
    return f"{part}: {text[:1].lower()}{text[1:]}"


def supply_psi(supply: Supply) -> float:
    """The pressure in psi at the source while no water runs: the pump's shut-off included."""
    return supply.static_psi + (supply.pump[0][1] if supply.pump else 0.0)


def pump_most_gpm(supply: Supply) -> float:
    """The last flow in gpm of the pump's curve; infinite without a pump."""
    return supply.pump[-1][0] if supply.pump else math.inf


def supply_loss(supply: Supply) -> Loss:
    """The pressure that the supply itself loses with flow.

    Raises NetworkError for impossible figures, or a flow test in which nothing dropped.
    """
    if not supply.pump:
        return _street_loss(supply, 0.0)
    loss = _street_loss(supply, _DEEPEST_SUCTION_PSI)
    try:
        pump = _pump_curve(supply.pump)
    except ValueError as error:
        raise NetworkError(_named("The supply's pump", error)) from error
    street = loss.curve
    if street is None:
        return loss._replace(curve=pump)

    def both(gpm: float) -> tuple[float, float]:
        (psi, slope), (more, steeper) = street(gpm), pump(gpm)
        return psi + more, slope + steeper

    return loss._replace(curve=both)


def _pump_curve(points: Points) -> Curve:
    """What a pump adds less than at shut-off, as a loss. Raises ValueError for one that rises."""
    _check_points("curve", points)
    if points[0][0]:
        raise ValueError("Its curve must begin with the shut-off pressure, at no flow.")
    for (_, psi1), (gpm2, psi2) in pairwise(points):
        if psi2 > psi1:
            raise ValueError(f"Its pressure must not rise with flow, but does at {gpm2:g} gpm.")
    shut_off_psi = points[0][1]
    return _straight_between(tuple((gpm, shut_off_psi - psi) for gpm, psi in points))


def _street_loss(supply: Supply, least_psi: float) -> Loss:
    """The supply's loss by its flow test, for a static pressure of at least `least_psi`."""
    static, residual, tested = supply.static_psi, supply.residual_psi, supply.test_gpm
    if not least_psi <= static <= _MOST:
        least = f"{least_psi:g} psi" if least_psi else "zero"
        raise NetworkError(f"The supply's static pressure must be a number not below {least}.")
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


def _pipe(pipe: Pipe, darcy_deg_f: float | None) -> Loss:
    """The loss of a pipe: by Darcy-Weisbach for water of a temperature, else Hazen-Williams."""
    length_ft, bore_in, c, _, fittings_ft, fittings_k, fittings_part = pipe
    if not (
        0.0 <= length_ft <= _LONGEST_FT
        and 0.0 <= fittings_ft <= _LONGEST_FT
        and 0.0 <= fittings_k <= _MOST
        and 0.0 <= fittings_part <= _MOST
    ):
        raise ValueError("Its length and fittings must be numbers not below zero.")
    per_ft = _per_ft(bore_in, c)
    if not per_ft:
        raise ValueError("Its bore and C must be above zero, and no larger than a pipe's.")
    square = 0.0
    if fittings_k:
        square = fittings_k * VELOCITY_HEAD_PSI * (VELOCITY / bore_in**2) ** 2
    length_ft = length_ft * (1.0 + fittings_part) + fittings_ft
    if darcy_deg_f is not None:
        return Loss(square=square, curve=_darcy_curve(pipe, length_ft, darcy_deg_f))
    return Loss(per_ft * length_ft, square)


# A network has many pipes and few sizes, so this is worked out once for each size.
@lru_cache(maxsize=1000)
def _per_ft(bore_in: float, c: float) -> float:
    """Hazen-Williams loss in psi per foot at 1 gpm; 0 for a bore or C that no pipe has."""
    if not (_LEAST_BORE_IN <= bore_in <= _MOST and _LEAST_BORE_IN <= c <= _MOST):
        return 0.0
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


def table_curve(points: Points) -> Curve:
    """The loss between tabulated (gpm, psi) points. Raises ValueError for an impossible one.

    The loss may fall once, as the springs of a check valve open, and rise from there; one that
    rises and falls again is refused.
    """
    _check_points("table", points)
    risen = False
    for (_, psi1), (gpm2, psi2) in pairwise(points):
        if psi2 < psi1 and risen:
            raise ValueError(
                f"Its table is a saw-tooth: the loss rises and falls again at {gpm2:g} gpm."
            )
        risen = risen or psi2 > psi1
    return _straight_between(points)


def turned(curve: Curve) -> Curve:
    """The curve of a link whose end is taken for its start."""

    def other_way(gpm: float) -> tuple[float, float]:
        psi, slope = curve(-gpm)
        return -psi, slope

    return other_way


def _straight_between(points: Points) -> Curve:
    """The curve that is level up to its first point, and straight between points and beyond."""
    flows, losses = [gpm for gpm, _ in points], [psi for _, psi in points]
    slopes = [(psi2 - psi1) / (gpm2 - gpm1) for (gpm1, psi1), (gpm2, psi2) in pairwise(points)]
    # A loss that still falls at its last point stays level beyond it: it must not go below zero.
    beyond = max(slopes[-1], 0.0) if slopes else 0.0

    def curve(gpm: float) -> tuple[float, float]:
        if gpm < 0.0:
            return losses[0] + _BACKWARDS * gpm, _BACKWARDS
        after = bisect_right(flows, gpm)
        if after == 0:
            return losses[0], 0.0
        slope = slopes[after - 1] if after < len(flows) else beyond
        return losses[after - 1] + slope * (gpm - flows[after - 1]), slope

    return curve


def _check_points(what: str, points: Points) -> None:
    """Refuse a table, or a pump's curve, that has no points or impossible ones."""
    if not points:
        raise ValueError(f"Its {what} has no points.")
    figures = [figure for point in points for figure in point]
    if not all(math.isfinite(figure) and figure >= 0 for figure in figures):
        raise ValueError(f"Its {what} has a figure that is not a number or is below zero.")
    for (gpm1, _), (gpm2, _) in pairwise(points):
        if gpm2 <= gpm1:
            raise ValueError(
                f"Its {what}'s flows must rise, but {gpm2:g} gpm follows {gpm1:g} gpm."
            )
