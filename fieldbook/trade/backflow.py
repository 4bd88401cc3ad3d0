"""Backflow assemblies: least heights as generic defaults, and placeholder losses.

Local code decides which kind is allowed and how high it stands; a licensed tester tests and
certifies it. Losses are common practice, without a source: enter the assembly's own curve.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.trade.cited import COMMON_PRACTICE, generic


@dataclass(frozen=True)
class BackflowKind:
    """One kind of assembly.

    `height_in`: least height in inches of the critical level over the highest sprinkler it
    serves, None where the kind has no such rule. `above_grade_in`: least clearance over the soil.
    `loss_psi`: what to allow for it at irrigation flows (the high end of common practice).
    """

    height_in: float | None
    above_grade_in: float | None
    loss_psi: float
    standard: str
    source: str


_STRICTER = generic(
    f"{COMMON_PRACTICE[:-1]}: the stricter of the heights taught, 6 in being the least "
    "(30 Tex. Admin. Code 344.50 before 2020)."
)

BACKFLOW_KINDS: Mapping[str, BackflowKind] = {
    "AVB": BackflowKind(12.0, None, 5.0, "ASSE 1001", _STRICTER),
    "PVB": BackflowKind(12.0, None, 6.0, "ASSE 1020", generic("30 Tex. Admin. Code 344.50(b)(3).")),
    "SVB": BackflowKind(12.0, None, 8.0, "ASSE 1056", generic("30 Tex. Admin. Code 344.50(b)(4).")),
    "DC": BackflowKind(None, None, 7.0, "ASSE 1015", COMMON_PRACTICE),
    "RP": BackflowKind(None, 12.0, 15.0, "ASSE 1013", generic("30 Tex. Admin. Code 344.50(b)(2).")),
    "anti-siphon valves": BackflowKind(12.0, None, 5.0, "ASSE 1001", _STRICTER),
}
"""Kinds by the word that is entered for them."""
