"""Water hammer: the pressure that a closing valve adds (Joukowsky).

Speeds in ft/s, pressures in psi.
"""

from __future__ import annotations

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
