"""Pipe by class and nominal size: outside diameter, wall, bore, roughness, pressure rating.

Diameters and walls are in inches. Bores are outside diameter less twice the *minimum* wall, which
is what published friction charts use; pipe as made is thicker, and `mean_wall_bore_in` gives the
bore at the mean wall.

Sources: ASTM D1785 (PVC Schedule 40 and 80), ASTM D2241 (PVC SDR), ASTM D2239 (polyethylene,
inside diameter controlled; from memory), ASTM B88 (copper water tube), ASTM F876 (PEX SDR 9;
1-1/4 to 2 in as outside diameter / 9, from memory), ASME B36.10M (steel Schedule 40).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

PIPE_SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")
"""Nominal sizes in inches."""

_IPS_OD_IN = dict(zip(PIPE_SIZES, (0.840, 1.050, 1.315, 1.660, 1.900, 2.375), strict=True))
_CTS_OD_IN = dict(zip(PIPE_SIZES, (0.625, 0.875, 1.125, 1.375, 1.625, 2.125), strict=True))
_THIN_WALL_IN = 0.020 / 0.12
"""Where the wall tolerance of +12 % becomes larger than +0.020 in."""


@dataclass(frozen=True)
class PipeClass:
    """A class of pipe.

    `bores_in` maps a nominal size to the inside diameter in inches; a size that the class is not
    listed in is absent. `walls_in` gives the minimum (copper: nominal) walls. `c` is the
    Hazen-Williams coefficient, `roughness_ft` the Darcy-Weisbach roughness. `rating_psi` is the
    pressure rating at 73 F by size, absent where none is published here.
    """

    bores_in: Mapping[str, float]
    c: float
    source: str
    roughness_ft: float = 5e-6
    ods_in: Mapping[str, float] = field(default_factory=dict)
    walls_in: Mapping[str, float] = field(default_factory=dict)
    rating_psi: Mapping[str, float] = field(default_factory=dict)


def mean_wall_bore_in(pipe: PipeClass, size: str) -> float:
    """The bore in inches at the mean wall of PVC pipe as made, tolerance being one-sided.

    ASTM D1785: wall +0.020 in, or +12 % where that is more. Classes without walls here keep
    their listed bore. Raises KeyError for a size the class is not listed in.
    """
    if size not in pipe.walls_in or pipe.source.startswith(("ASTM B88", "ASTM F876")):
        return pipe.bores_in[size]
    wall = pipe.walls_in[size]
    extra = 0.020 if wall < _THIN_WALL_IN else 0.12 * wall
    return pipe.bores_in[size] - extra


def _walled(
    ods_in: Mapping[str, float],
    walls: tuple[float, ...],
    c: float,
    source: str,
    ratings: tuple[float, ...] = (),
) -> PipeClass:
    """A class given by its walls for the largest sizes listed."""
    sizes = PIPE_SIZES[-len(walls) :]
    walls_in = dict(zip(sizes, walls, strict=True))
    return PipeClass(
        {size: round(ods_in[size] - 2 * wall, 4) for size, wall in walls_in.items()},
        c,
        source,
        ods_in={size: ods_in[size] for size in sizes},
        walls_in=walls_in,
        rating_psi=dict(zip(sizes, ratings, strict=True)) if ratings else {},
    )


def _bored(bores: tuple[float, ...], c: float, source: str, roughness_ft: float) -> PipeClass:
    """A class given by its bores."""
    return PipeClass(dict(zip(PIPE_SIZES, bores, strict=True)), c, source, roughness_ft)


def sdr_rating_psi(sdr: float) -> float:
    """Rating in psi at 73 F of PVC 1120 pipe by its dimension ratio: 4000 / (SDR - 1)."""
    return 4000.0 / (sdr - 1.0)


_IPS_BORES_IN = (0.622, 0.824, 1.049, 1.380, 1.610, 2.067)
_PVC_C, _COPPER_C = 150.0, 140.0

PIPE_CLASSES: Mapping[str, PipeClass] = {
    "pvc sch 40": _walled(
        _IPS_OD_IN,
        (0.109, 0.113, 0.133, 0.140, 0.145, 0.154),
        _PVC_C,
        "ASTM D1785, Schedule 40.",
        (600, 480, 450, 370, 330, 280),
    ),
    "pvc sch 80": _walled(
        _IPS_OD_IN,
        (0.147, 0.154, 0.179, 0.191, 0.200, 0.218),
        _PVC_C,
        "ASTM D1785, Schedule 80.",
        (850, 690, 630, 520, 470, 400),
    ),
    "pvc sdr 13.5": _walled(
        _IPS_OD_IN,
        (0.062, 0.078, 0.097, 0.123, 0.141, 0.176),
        _PVC_C,
        "ASTM D2241, SDR 13.5.",
        (315,) * 6,
    ),
    "pvc sdr 21": _walled(
        _IPS_OD_IN,
        (0.060, 0.063, 0.079, 0.090, 0.113),
        _PVC_C,
        "ASTM D2241, SDR 21.",
        (200,) * 5,
    ),
    "pvc sdr 26": _walled(
        _IPS_OD_IN,
        (0.060, 0.064, 0.073, 0.091),
        _PVC_C,
        "ASTM D2241, SDR 26.",
        (160,) * 4,
    ),
    "pe sidr": _bored(
        _IPS_BORES_IN, 140.0, "ASTM D2239 (from memory), inside diameter controlled.", 5e-6
    ),
    "copper K": _walled(
        _CTS_OD_IN, (0.049, 0.065, 0.065, 0.065, 0.072, 0.083), _COPPER_C, "ASTM B88, type K."
    ),
    "copper L": _walled(
        _CTS_OD_IN, (0.040, 0.045, 0.050, 0.055, 0.060, 0.070), _COPPER_C, "ASTM B88, type L."
    ),
    "copper M": _walled(
        _CTS_OD_IN, (0.028, 0.032, 0.035, 0.042, 0.049, 0.058), _COPPER_C, "ASTM B88, type M."
    ),
    "pex sdr 9": _walled(
        _CTS_OD_IN,
        (0.070, 0.097, 0.125, 0.153, 0.181, 0.236),
        150.0,
        "ASTM F876, SDR 9 (1-1/4 in and up from memory).",
    ),
    "steel sch 40": _bored(_IPS_BORES_IN, 120.0, "ASME B36.10M, Schedule 40.", 5e-4),
    "steel sch 40 old": _bored(
        _IPS_BORES_IN, 100.0, "ASME B36.10M, Schedule 40; C of aged pipe is common practice.", 5e-4
    ),
}
"""Classes by the word that is entered for them."""
