"""Friction, velocity and water hammer in a round pipe running full.

Flows are in gpm, bores (inside diameters) in inches, lengths in ft, pressures and losses in psi,
velocities in ft/s. The Hazen-Williams constant stands here and nowhere else; its other published
forms, in other units, are tests.
"""

from __future__ import annotations

import math

from fieldbook.units import PSI_PER_FT

HAZEN_WILLIAMS = 452.0
"""psi per 100 ft for a flow in gpm and a bore in inches (NFPA 13 prints 4.52 psi per foot)."""
FLOW_EXPONENT = 1.852
DIAMETER_EXPONENT = 4.8704
VELOCITY = 0.408498
"""ft/s for a flow in gpm and a bore in inches: 231 cubic inches a gallon over the bore's area."""

GRAVITY_FT_S2 = 32.174
_DENSITY_KG_M3 = 999.0
# Between these Reynolds numbers the flow is neither laminar nor fully turbulent.
_LAMINAR, _TURBULENT = 2000.0, 4000.0


def hazen_williams_psi(flow_gpm: float, bore_in: float, c: float, length_ft: float) -> float:
    """Loss in psi over `length_ft` of pipe: 452 q^1.852 / (C^1.852 d^4.8704) psi per 100 ft.

    `c` is the Hazen-Williams coefficient. Raises ValueError for a bore or C that is not above
    zero, or a negative flow or length.
    """
    _check(flow_gpm, bore_in, length_ft)
    if c <= 0:
        raise ValueError("C must be above zero.")
    per_100_ft = float(
        HAZEN_WILLIAMS * flow_gpm**FLOW_EXPONENT / (c**FLOW_EXPONENT * bore_in**DIAMETER_EXPONENT)
    )
    return per_100_ft * length_ft / 100.0


def viscosity_ft2_s(water_deg_f: float) -> float:
    """Kinematic viscosity of water in ft2/s from 32 to 212 F; 1.12 mPa s at 60 F.

    Correlation of Kestin, Sokolov and Wakeham (1978), from memory, on 1.002 mPa s at 20 C.
    Raises ValueError outside that range, where water is ice or steam.
    """
    if not 32.0 <= water_deg_f <= 212.0:
        raise ValueError("Water is liquid from 32 to 212 F.")
    below = 20.0 - (water_deg_f - 32.0) / 1.8
    power = below / (116.0 - below) * (1.2364 - 1.37e-3 * below + 5.7e-6 * below**2)
    return float(1.002e-3 * 10.0**power / _DENSITY_KG_M3 / 0.3048**2)


def darcy_weisbach(
    flow_gpm: float,
    bore_in: float,
    roughness_ft: float,
    length_ft: float,
    viscosity: float | None = None,
) -> tuple[float, float]:
    """Darcy-Weisbach loss in psi over `length_ft`, and its slope in psi per gpm.

    `viscosity` is kinematic, in ft2/s; that of 60 F water if not given. The slope is what the
    solver linearises with. Raises ValueError as `hazen_williams_psi` does.
    """
    _check(flow_gpm, bore_in, length_ft)
    nu = viscosity_ft2_s(60.0) if viscosity is None else viscosity
    bore_ft = bore_in / 12.0
    per_gpm = velocity_ft_s(1.0, bore_in)
    scale = PSI_PER_FT * length_ft / bore_ft / (2.0 * GRAVITY_FT_S2) * per_gpm**2
    reynolds = flow_gpm * per_gpm * bore_ft / nu
    if reynolds <= _LAMINAR:
        # Written out, so that no flow at all does not divide by a Reynolds number of zero.
        slope = scale * 64.0 * nu / (per_gpm * bore_ft)
        return slope * flow_gpm, slope
    factor, factor_slope = friction_factor(reynolds, roughness_ft / bore_ft)
    loss = scale * factor * flow_gpm**2
    return loss, scale * flow_gpm * (2.0 * factor + reynolds * factor_slope)


def friction_factor(reynolds: float, relative_roughness: float) -> tuple[float, float]:
    """The Darcy friction factor, and its slope with the Reynolds number.

    64/Re up to Re 2,000, Colebrook from 4,000, a straight line between them.
    """
    if reynolds <= _LAMINAR:
        return 64.0 / reynolds, -64.0 / reynolds**2
    if reynolds < _TURBULENT:
        low, (high, _) = 64.0 / _LAMINAR, _colebrook(_TURBULENT, relative_roughness)
        slope = (high - low) / (_TURBULENT - _LAMINAR)
        return low + slope * (reynolds - _LAMINAR), slope
    return _colebrook(reynolds, relative_roughness)


def _colebrook(reynolds: float, relative_roughness: float) -> tuple[float, float]:
    """Colebrook's factor by fixed-point iteration, and its slope by implicit differentiation."""
    # `root` is 1 / sqrt(factor); 8 is a smooth pipe's at Re 10^5, a good start everywhere here.
    root, rough, smooth = 8.0, relative_roughness / 3.7, 2.51 / reynolds
    for _ in range(60):
        closer = -2.0 * math.log10(rough + smooth * root)
        if abs(closer - root) < 1e-13:
            break
        root = closer
    pull = 2.0 / (math.log(10.0) * (rough + smooth * root)) * smooth
    root_slope = pull * root / reynolds / (1.0 + pull)
    return 1.0 / root**2, -2.0 * root_slope / root**3


def velocity_ft_s(flow_gpm: float, bore_in: float) -> float:
    """Mean velocity in ft/s in a bore of `bore_in` inches."""
    return VELOCITY * flow_gpm / bore_in**2


def flow_at_velocity_gpm(velocity_limit_ft_s: float, bore_in: float) -> float:
    """The flow in gpm that reaches `velocity_limit_ft_s` in a bore of `bore_in` inches."""
    return velocity_limit_ft_s * bore_in**2 / VELOCITY


def _check(flow_gpm: float, bore_in: float, length_ft: float) -> None:
    """Refuse figures that no pipe has."""
    if bore_in <= 0:
        raise ValueError("Inside diameter must be above zero.")
    if flow_gpm < 0 or length_ft < 0:
        raise ValueError("Flow and length must not be negative.")


# Bulk modulus of water over the modulus of elasticity of PVC (400,000 psi, from memory).
_K_OVER_E = 300_000.0 / 400_000.0
# Speed of a pressure wave in water that no pipe wall slows, and water's density in psi.
_FREE_WAVE_FT_S = 4660.0
_PSI_PER_FT2_S2 = 0.01347


def wave_ft_s(dimension_ratio: float) -> float:
    """Speed of a pressure wave in PVC pipe: 4660 / sqrt(1 + (K / E) (DR - 2)) ft/s.

    `dimension_ratio` is outside diameter over wall. Raises ValueError for one that no pipe has.
    """
    if dimension_ratio <= 2.0:
        raise ValueError("A pipe's outside diameter is more than twice its wall.")
    return float(_FREE_WAVE_FT_S / (1.0 + _K_OVER_E * (dimension_ratio - 2.0)) ** 0.5)


def surge_psi(stopped_ft_s: float, dimension_ratio: float) -> float:
    """Psi added in PVC pipe when water at `stopped_ft_s` stops at once (Joukowsky: rho a dv)."""
    return _PSI_PER_FT2_S2 * wave_ft_s(dimension_ratio) * stopped_ft_s
