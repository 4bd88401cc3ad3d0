"""Friction, velocity and water hammer (Joukowsky) in a pipe running full.

Flow is in gpm, inside diameter in inches, length in feet, loss in psi, velocity in ft/s. One
Hazen-Williams form, with Darcy-Weisbach beside it: the constant stands here and
nowhere else; every other published spelling is a test.
"""

from __future__ import annotations

import math

HAZEN_WILLIAMS = 452.0
"""psi per 100 ft for q in gpm and d in inches (4.52 psi per foot in the NFPA 13 form)."""
FLOW_EXPONENT = 1.852
DIAMETER_EXPONENT = 4.8704
VELOCITY = 0.408498
"""ft/s for q in gpm and d in inches: 231 in3 per gallon over the area of the bore."""
PSI_PER_FT = 0.433
"""psi in one foot of water (International Plumbing Code, Appendix E, E103.2.2)."""

_GRAVITY_FT_S2 = 32.174
_DENSITY_KG_M3 = 999.0
_LAMINAR, _TURBULENT = 2000.0, 4000.0


def hazen_williams_psi(flow_gpm: float, bore_in: float, c: float, length_ft: float) -> float:
    """Loss in psi over `length_ft` of pipe; zero flow loses nothing.

    Raises ValueError for a bore or C that is not above zero, or a negative flow or length.
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
    Raises ValueError for ice or steam.
    """
    if not 32.0 <= water_deg_f <= 212.0:
        raise ValueError("Water is liquid from 32 to 212 F.")
    below = 20.0 - (water_deg_f - 32.0) / 1.8
    power = below / (116.0 - below) * (1.2364 - 1.37e-3 * below + 5.7e-6 * below**2)
    return float(1.002e-3 * 10.0**power / _DENSITY_KG_M3 / 0.3048**2)


def darcy_weisbach_psi(
    flow_gpm: float,
    bore_in: float,
    roughness_ft: float,
    length_ft: float,
    viscosity: float | None = None,
) -> float:
    """Loss in psi by Darcy-Weisbach; `viscosity` in ft2/s, of 60 F water if not given."""
    return darcy_weisbach_slope(flow_gpm, bore_in, roughness_ft, length_ft, viscosity)[0]


def darcy_weisbach_slope(
    flow_gpm: float,
    bore_in: float,
    roughness_ft: float,
    length_ft: float,
    viscosity: float | None = None,
) -> tuple[float, float]:
    """Loss in psi, and its slope in psi per gpm.

    Raises ValueError as `hazen_williams_psi` does.
    """
    _check(flow_gpm, bore_in, length_ft)
    nu = viscosity_ft2_s(60.0) if viscosity is None else viscosity
    bore_ft = bore_in / 12.0
    per_gpm = velocity_ft_s(1.0, bore_in)
    scale = PSI_PER_FT * length_ft / bore_ft / (2.0 * _GRAVITY_FT_S2) * per_gpm**2
    reynolds = flow_gpm * per_gpm * bore_ft / nu
    if reynolds <= _LAMINAR:
        slope = scale * 64.0 * nu / (per_gpm * bore_ft)
        return slope * flow_gpm, slope
    factor, factor_slope = _factor(reynolds, roughness_ft / bore_ft)
    loss = scale * factor * flow_gpm**2
    return loss, scale * flow_gpm * (2.0 * factor + reynolds * factor_slope)


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor: 64/Re to Re 2,000, Colebrook from 4,000, straight between."""
    return _factor(reynolds, relative_roughness)[0]


def _factor(reynolds: float, relative_roughness: float) -> tuple[float, float]:
    """The friction factor, and its slope with the Reynolds number."""
    if reynolds <= _LAMINAR:
        return 64.0 / reynolds, -64.0 / reynolds**2
    if reynolds < _TURBULENT:
        low, (high, _) = 64.0 / _LAMINAR, _colebrook(_TURBULENT, relative_roughness)
        slope = (high - low) / (_TURBULENT - _LAMINAR)
        return low + slope * (reynolds - _LAMINAR), slope
    return _colebrook(reynolds, relative_roughness)


def _colebrook(reynolds: float, relative_roughness: float) -> tuple[float, float]:
    """Colebrook's factor by fixed-point iteration, and its slope by implicit differentiation."""
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
    """Refuse what no pipe has."""
    if bore_in <= 0:
        raise ValueError("Inside diameter must be above zero.")
    if flow_gpm < 0 or length_ft < 0:
        raise ValueError("Flow and length must not be negative.")


WATER_PSI = 300_000.0
"""Bulk modulus of water."""
PVC_PSI = 400_000.0
"""Modulus of elasticity of PVC (from memory)."""
_FREE_FT_S = 4660.0
_PSI_PER_FT_S2 = 0.01347


def wave_ft_s(dimension_ratio: float, modulus_psi: float = PVC_PSI) -> float:
    """Speed of a pressure wave in pipe: 4660 / sqrt(1 + (K / E) (DR - 2)), DR outside over wall.

    Raises ValueError for a ratio that no pipe has.
    """
    if dimension_ratio <= 2.0 or modulus_psi <= 0.0:
        raise ValueError("A pipe's outside diameter is more than twice its wall.")
    return float(_FREE_FT_S / (1.0 + WATER_PSI / modulus_psi * (dimension_ratio - 2.0)) ** 0.5)


def surge_psi(stopped_ft_s: float, dimension_ratio: float, modulus_psi: float = PVC_PSI) -> float:
    """Pressure added when water at `stopped_ft_s` stops at once: rho a dv."""
    return _PSI_PER_FT_S2 * wave_ft_s(dimension_ratio, modulus_psi) * stopped_ft_s
