"""Pipe by class and nominal size: outside diameter, wall, bore, roughness, pressure rating.

Diameters and walls are in inches. There are two bores: with the *minimum* wall, which is what
published friction charts use, and with the *average* wall of pipe as made. PVC is thicker than its
minimum, since the wall's tolerance is one-sided (ASTM D1785: +0.020 in, or +12 % where that is
more), so its average bore is smaller by that tolerance and loses 5 to 18 % more. Of other pipe no
such tolerance was found published, so its two bores are the same.

Sources: ASTM D1785 (PVC Schedule 40 and 80), ASTM D2241 (PVC SDR), ASTM D2239 (polyethylene,
inside diameter controlled; from memory), ASTM B88 (copper water tube), ASTM F876 (PEX SDR 9;
1-1/4 to 2 in as outside diameter / 9, from memory), ASME B36.10M (steel Schedule 40).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

PIPE_SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")
"""Nominal sizes in inches."""

_PVC_C, _COPPER_C = 150.0, 140.0
_IPS_OD_IN = dict(zip(PIPE_SIZES, (0.840, 1.050, 1.315, 1.660, 1.900, 2.375), strict=True))
_CTS_OD_IN = dict(zip(PIPE_SIZES, (0.625, 0.875, 1.125, 1.375, 1.625, 2.125), strict=True))


@dataclass(frozen=True)
class PipeClass:
    """A class of pipe; the mappings are by nominal size, without the sizes it is not listed in.

    `bores_in` are inside diameters at the minimum wall (copper: the nominal one), and
    `average_bores_in` those of pipe as made; `ods_in` are outside diameters, `walls_in` the minimum
    walls. `c` is the Hazen-Williams coefficient, `roughness_ft` the Darcy-Weisbach
    roughness. `rating_psi` is the pressure rating at 73 F, absent where none is published.
    """

    bores_in: Mapping[str, float]
    c: float
    source: str
    roughness_ft: float = 5e-6
    ods_in: Mapping[str, float] = field(default_factory=dict)
    walls_in: Mapping[str, float] = field(default_factory=dict)
    rating_psi: Mapping[str, float] = field(default_factory=dict)
    average_bores_in: Mapping[str, float] = field(default_factory=dict)


def _walled(
    ods_in: Mapping[str, float],
    walls: tuple[float, ...],
    c: float,
    source: str,
    ratings: tuple[float, ...] = (),
) -> PipeClass:
    """A class given by its walls, for the largest sizes of the list; its bores follow."""
    sizes = PIPE_SIZES[-len(walls) :]
    walls_in = dict(zip(sizes, walls, strict=True))
    bores_in = {size: round(ods_in[size] - 2 * wall, 4) for size, wall in walls_in.items()}
    average_in = bores_in
    if c == _PVC_C and ods_in is _IPS_OD_IN:
        # Half of the tolerance is on each of the two walls that a diameter crosses.
        average_in = {
            size: round(bore_in - max(0.020, 0.12 * walls_in[size]), 4)
            for size, bore_in in bores_in.items()
        }
    return PipeClass(
        bores_in,
        c,
        source,
        average_bores_in=average_in,
        ods_in={size: ods_in[size] for size in sizes},
        walls_in=walls_in,
        rating_psi=dict(zip(sizes, ratings, strict=True)) if ratings else {},
    )


def _bored(bores: tuple[float, ...], c: float, source: str, roughness_ft: float) -> PipeClass:
    """A class given by its bores."""
    bores_in = dict(zip(PIPE_SIZES, bores, strict=True))
    return PipeClass(bores_in, c, source, roughness_ft, average_bores_in=bores_in)


_IPS_BORES_IN = (0.622, 0.824, 1.049, 1.380, 1.610, 2.067)

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
"""By the word that is entered for a class. Ratings of PVC are those of PVC 1120."""

_PVC_FACTORS = (
    (73, 1.00),
    (80, 0.88),
    (90, 0.75),
    (100, 0.62),
    (110, 0.50),
    (120, 0.40),
    (130, 0.30),
    (140, 0.22),
)
"""By the temperature in F, the part of its rating that PVC bears (published with the ratings at
73 F; 110 and 130 F are also printed as 0.51 and 0.31)."""


def rated_psi(pipe_class: str | None, size: str | None, deg_f: float | None = None) -> float | None:
    """The rating in psi of pipe at a temperature, 73 F for None; None where none is published.

    Between two temperatures the hotter one counts; above 140 F PVC bears nothing.
    """
    pipe = PIPE_CLASSES.get(pipe_class or "")
    rating = pipe.rating_psi.get(size or "") if pipe is not None else None
    if rating is None or deg_f is None:
        return rating
    return rating * next((part for most_f, part in _PVC_FACTORS if deg_f <= most_f), 0.0)
