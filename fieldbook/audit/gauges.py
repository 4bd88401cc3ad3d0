"""How far a pressure gauge may be off, by its grade and span, and what its height adds."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.trade.rules.design_limits import Rule
from fieldbook.units import PSI_PER_FT

_SOURCE = "ASME B40.100, error in % of the span (from memory)."
GRADES = ("4A", "3A", "2A", "1A", "A", "B", "C", "D")
_PERCENT: Mapping[str, tuple[float, float]] = {
    "4A": (0.1, 0.1),
    "3A": (0.25, 0.25),
    "2A": (0.5, 0.5),
    "1A": (1.0, 1.0),
    "A": (1.0, 2.0),
    "B": (2.0, 3.0),
    "C": (3.0, 4.0),
    "D": (5.0, 5.0),
}
"""By grade the percent of span in the middle half of the scale, and in the quarters at its ends."""
USUAL_SPAN = Rule(100.0, "psi", _SOURCE)
USUAL_GRADE = "B"
"""What a gauge is taken for where its span or its grade is not entered."""


def gauge_error_psi(psi: float, span_psi: float | None = None, grade: str | None = None) -> float:
    """How far one reading may be off; a gauge not described is grade B, 0-100 psi.

    Raises ValueError for a reading beyond the span, or a grade that is not known.
    """
    span = USUAL_SPAN.value if span_psi is None else span_psi
    if not 0.0 <= psi <= span and span_psi is not None:
        raise ValueError("The reading is beyond the gauge's span.")
    if (grade or USUAL_GRADE) not in _PERCENT:
        raise ValueError(f"A gauge's grade is one of {', '.join(GRADES)}.")
    middle, ends = _PERCENT[grade or USUAL_GRADE]
    inner = 0.25 * span <= psi <= 0.75 * span
    return span * (middle if inner else ends) / 100.0


def psi_at_head(psi: float, above_ft: float) -> float:
    """The pressure at a head, read by a gauge that is `above_ft` over it (negative: under it)."""
    return psi + PSI_PER_FT * above_ft
