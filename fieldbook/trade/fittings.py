"""What fittings lose, as feet of the same pipe.

Source: an undated one-page compilation with friction allowances, author unknown; conservative.
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
