"""Friction in a pipe running full: one Hazen-Williams form, Darcy-Weisbach beside it, velocity.

Flow is in gpm, inside diameter in inches, length in feet, loss in psi. The Hazen-Williams
constant stands here and nowhere else; every other published spelling is a test.
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

_FT2_S_AT_60_F = 1.2067e-5
"""Kinematic viscosity at 60 F, from 1.12 mPa s and 999.0 kg/m3."""
_GRAVITY_FT_S2 = 32.174


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


def darcy_weisbach_psi(
    flow_gpm: float,
    bore_in: float,
    roughness_ft: float,
    length_ft: float,
    viscosity_ft2_s: float = _FT2_S_AT_60_F,
) -> float:
    """Loss in psi by Darcy-Weisbach with the Colebrook friction factor (laminar below Re 2,100)."""
    _check(flow_gpm, bore_in, length_ft)
    if flow_gpm == 0.0:
        return 0.0
    speed = velocity_ft_s(flow_gpm, bore_in)
    bore_ft = bore_in / 12.0
    factor = friction_factor(speed * bore_ft / viscosity_ft2_s, roughness_ft / bore_ft)
    head_ft = factor * length_ft / bore_ft * speed**2 / (2.0 * _GRAVITY_FT_S2)
    return head_ft * PSI_PER_FT


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor: 64/Re when laminar, else Colebrook by fixed-point iteration."""
    if reynolds < 2100.0:
        return 64.0 / reynolds
    root = 8.0
    for _ in range(50):
        term = relative_roughness / 3.7 + 2.51 * root / reynolds
        closer = -2.0 * math.log10(term)
        if abs(closer - root) < 1e-12:
            break
        root = closer
    return 1.0 / root**2


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
