"""What the supply can give: the flow that each rule allows, and which of them governs.

Flows are in gpm, pressures in psi, bores in inches.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fieldbook.trade.rules.design_limits import FLOW_TEST_DROP, METER_LOSS_PART, METER_SAFE_PART
from fieldbook.water.friction import FLOW_EXPONENT, flow_at_velocity_gpm

RuleName = Literal["source", "meter flow", "meter loss", "service line", "flow test"]


@dataclass(frozen=True)
class Street:
    """What is known of the supply; None where a figure is not known."""

    static_psi: float | None = None
    meter_safe_gpm: float | None = None
    meter_loss_at_safe_psi: float | None = None
    service_bore_in: float | None = None
    service_velocity_ft_s: float = 5.0
    test_residual_psi: float | None = None
    test_flow_gpm: float | None = None
    source_gpm: float | None = None


@dataclass(frozen=True)
class Limit:
    """One rule, and the flow in gpm that it allows."""

    rule: RuleName
    flow_gpm: float


def limits(street: Street, needed_psi: float | None = None) -> tuple[Limit, ...]:
    """Every rule whose figures are known, in the order that the water meets them.

    `needed_psi` is the pressure that is needed at the gauge of the flow test; without it the
    test's rule is left out.
    """
    found: list[Limit] = []
    if street.source_gpm is not None:
        found.append(Limit("source", street.source_gpm))
    safe, static = street.meter_safe_gpm, street.static_psi
    if safe is not None:
        found.append(Limit("meter flow", METER_SAFE_PART.value * safe))
        if static is not None and street.meter_loss_at_safe_psi:
            allowed_psi = METER_LOSS_PART.value * static
            flow = meter_flow_gpm(allowed_psi, safe, street.meter_loss_at_safe_psi)
            found.append(Limit("meter loss", flow))
    if street.service_bore_in is not None:
        flow = flow_at_velocity_gpm(street.service_velocity_ft_s, street.service_bore_in)
        found.append(Limit("service line", flow))
    residual, tested = street.test_residual_psi, street.test_flow_gpm
    if static is None or residual is None or tested is None or needed_psi is None:
        return tuple(found)
    if residual < static:
        flow = flow_at_psi_gpm(static, residual, tested, min(needed_psi, static))
        found.append(Limit("flow test", flow))
    return tuple(found)


def available_flow(street: Street, needed_psi: float | None = None) -> Limit | None:
    """The rule that governs, which allows the least flow; None while no figure is known."""
    return min(limits(street, needed_psi), key=lambda limit: limit.flow_gpm, default=None)


def flow_at_psi_gpm(
    static_psi: float, residual_psi: float, test_gpm: float, at_psi: float
) -> float:
    """The flow that leaves `at_psi`: Q2 = Q1 ((Ps - P2) / (Ps - P1))^0.54 (NFPA 291, chapter 4).

    The exponent is 1/1.852, so that the solver's supply loses exactly the rest at that flow.
    Raises ValueError unless 0 <= residual < static, the tested flow is above zero, and `at_psi`
    is not above static.
    """
    if not 0 <= residual_psi < static_psi:
        raise ValueError("A flow test's residual must be below static.")
    if test_gpm <= 0:
        raise ValueError("A flow test needs a flow above zero.")
    if at_psi > static_psi:
        raise ValueError("A flowing pressure can't be above static.")
    part = (static_psi - at_psi) / (static_psi - residual_psi)
    return float(test_gpm * part ** (1.0 / FLOW_EXPONENT))


def drops_enough(static_psi: float, residual_psi: float) -> bool:
    """Whether a flow test dropped the pressure by the 10 % of static that makes it usable.

    NFPA 291, 4.4.6.
    """
    return static_psi - residual_psi >= FLOW_TEST_DROP.value * static_psi


def bucket_gpm(gallons: float, seconds: float) -> float:
    """The flow in gpm that fills a bucket: 60 x gallons / seconds.

    Raises ValueError for a negative volume or a time that is not above zero.
    """
    if seconds <= 0 or gallons < 0:
        raise ValueError("A bucket needs a time above zero.")
    return 60.0 * gallons / seconds


def meter_flow_gpm(loss_psi: float, safe_gpm: float, loss_at_safe_psi: float) -> float:
    """The flow at which a displacement meter loses `loss_psi`, by the square law."""
    return float(safe_gpm * (loss_psi / loss_at_safe_psi) ** 0.5)
