"""What fittings lose, as feet of the same pipe, and how long solvent cement cures before a test.

Source: an undated one-page compilation with friction allowances, author unknown; conservative.
The label of the cement in hand governs the cure (ASTM D2855). Published guidance differs by a
factor of four and more; these are the longest times of two tables seen (industry
guidance, no standard).
"""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.trade.pipes import PIPE_SIZES


def _by_size(*feet: float) -> Mapping[str, float]:
    return dict(zip(PIPE_SIZES, feet, strict=True))


PLASTIC_FITTINGS_FT: Mapping[str, Mapping[str, float]] = {
    "90 elbow": _by_size(3.5, 4.5, 6, 8, 9, 11),
    "tee side outlet": _by_size(7, 9, 12, 15, 18, 24),
    "tee run": _by_size(2.5, 3, 4, 5, 6, 8),
    "45 elbow": _by_size(1.5, 2, 3, 3.5, 4, 5),
    "coupling": _by_size(1.5, 2.5, 3, 3, 4, 6),
}
"""Equivalent feet by fitting and nominal size, plastic IPS pipe or copper tube."""
STEEL_FITTINGS_FT: Mapping[str, Mapping[str, float]] = {
    "90 elbow": _by_size(1.5, 2.5, 3, 4, 5, 6),
    "tee side outlet": _by_size(3, 4.5, 5, 7, 9, 11),
}
"""Equivalent feet by fitting and nominal size, steel pipe."""


SOURCE = (
    "The label governs (ASTM D2855); without it the longest of two tables of industry guidance, "
    "half as long again above 60 % humidity."
)
_COLD_F, _COOL_F, _DAMP_PCT = 40, 60, 60
_SMALL = PIPE_SIZES[: PIPE_SIZES.index("1-1/4") + 1]
_MINUTES = {
    # (small pipe, to 1-1/4 in): above 60 F, 40 to 60 F, under 40 F
    True: (60.0, 120.0, 480.0),
    False: (120.0, 240.0, 960.0),
}


def cure_min(size: str | None, air_deg_f: float | None, humidity_pct: float | None) -> float:
    """Minutes from the last joint to a test at up to 160 psi.

    What is not known counts as the worse: the larger pipe, under 40 F, damp.
    """
    warm, cool, cold = _MINUTES[size in _SMALL]
    minutes = cold
    if air_deg_f is not None and air_deg_f >= _COLD_F:
        minutes = warm if air_deg_f >= _COOL_F else cool
    damp = humidity_pct is None or humidity_pct > _DAMP_PCT
    return minutes * 1.5 if damp else minutes
