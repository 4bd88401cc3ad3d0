"""How long solvent cement cures before a pressure test.

The label of the cement in hand governs (ASTM D2855). Published guidance differs by a factor of
four and more; these are the longest times of two tables seen (industry guidance, no standard).
"""

from __future__ import annotations

from fieldbook.trade.pipes import PIPE_SIZES

CURE_SOURCE = (
    "The label governs (ASTM D2855); without it the longest of two tables of industry guidance, "
    "half as long again above 60 % humidity."
)
_COLD_F, _COOL_F, _DAMP_PCT = 40, 60, 60
_SMALL = PIPE_SIZES[: PIPE_SIZES.index("1-1/4") + 1]
_MINUTES = {
    # By whether the pipe is small, up to 1-1/4 in: above 60 F, 40 to 60 F, under 40 F.
    True: (60.0, 120.0, 480.0),
    False: (120.0, 240.0, 960.0),
}


def cure_min(size: str | None, air_deg_f: float | None, humidity_pct: float | None) -> float:
    """Minutes from the last joint to a test at up to 160 psi.

    A figure that is not known counts as the worst: large pipe, under 40 F, damp.
    """
    warm, cool, cold = _MINUTES[size in _SMALL]
    minutes = cold
    if air_deg_f is not None and air_deg_f >= _COLD_F:
        minutes = warm if air_deg_f >= _COOL_F else cool
    damp = humidity_pct is None or humidity_pct > _DAMP_PCT
    return minutes * 1.5 if damp else minutes
