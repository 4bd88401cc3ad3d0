"""How long solvent cement cures before a pressure test, and which pipe is joined with it.

The label of the cement in hand governs (ASTM D2855). Published guidance differs by a factor of
four and more; these are the longest times of two tables seen (industry guidance, no standard).
They are for tests at up to 180 psi; above it the published table has six times as long in every
cell.
"""

from __future__ import annotations

from fieldbook.trade.pipes import PIPE_SIZES

CURE_SOURCE = (
    "The label governs (ASTM D2855); without it common practice, no source: the longest of two "
    "tables, half as long again above 60 % humidity, six times above 180 psi."
)
_COLD_F, _COOL_F, _DAMP_PCT = 40, 60, 60
HIGH_TEST_PSI = 180.0
HIGH_TEST_FACTOR = 6.0
_SMALL = PIPE_SIZES[: PIPE_SIZES.index("1-1/4") + 1]
_MINUTES = {
    # By whether the pipe is small, up to 1-1/4 in: above 60 F, 40 to 60 F, under 40 F.
    True: (60.0, 120.0, 480.0),
    False: (120.0, 240.0, 960.0),
}


def is_cemented(pipe_class: str | None) -> bool:
    """Whether pipe of a class has cemented joints; pipe of no known class may have them."""
    return pipe_class is None or pipe_class.startswith("pvc")


def cure_min(
    size: str | None,
    air_deg_f: float | None,
    humidity_pct: float | None,
    test_psi: float | None = None,
) -> float:
    """Minutes from the last joint to a test at `test_psi`, taken as up to 180 psi for None.

    Of size, air and humidity a figure that is not known counts as the worst: large pipe, under
    40 F, damp.
    """
    warm, cool, cold = _MINUTES[size in _SMALL]
    minutes = cold
    if air_deg_f is not None and air_deg_f >= _COLD_F:
        minutes = warm if air_deg_f >= _COOL_F else cool
    if humidity_pct is None or humidity_pct > _DAMP_PCT:
        minutes *= 1.5
    return minutes * HIGH_TEST_FACTOR if (test_psi or 0.0) > HIGH_TEST_PSI else minutes
