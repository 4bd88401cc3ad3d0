"""The flow through a meter, from its dial read twice and the time between."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.audit.agreement import Figure
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE, Rule

GALLONS_PER_FT3 = 1728 / 231
"""231 in3 in a gallon (NIST Special Publication 811, Appendix B)."""
_GALLONS_PER_LITRE = 1 / 3.785411784
GALLONS_PER: Mapping[str, float] = {
    "gallons": 1.0,
    "cubic feet": GALLONS_PER_FT3,
    "litres": _GALLONS_PER_LITRE,
    "cubic metres": 1000.0 * _GALLONS_PER_LITRE,
}
DIALS = tuple(GALLONS_PER)
"""The units that dials of meters count in."""
READ_TO = {
    "gallons": Rule(0.2, "gal", COMMON_PRACTICE),
    "cubic feet": Rule(0.02, "ft3", COMMON_PRACTICE),
    "litres": Rule(1.0, "L", COMMON_PRACTICE),
    "cubic metres": Rule(0.001, "m3", COMMON_PRACTICE),
}
"""How far the volume between two readings of a sweep hand may be off, where it is not entered."""
TIME_ERROR = Rule(1.0, "s", COMMON_PRACTICE)
"""How far a time by stop watch may be off."""
METER_ERROR = Rule(
    1.5,
    "%",
    "COMAR 20.70.06.04: a new meter is within 1.5 %; at its minimum flow it need show only 90 %.",
)


def gallons(volume: float, dial: str) -> float:
    """A volume on a dial in gallons. Raises ValueError for a dial that is not known."""
    if dial not in DIALS:
        raise ValueError(f"A dial counts in one of {', '.join(DIALS)}, not in {dial}.")
    return volume * GALLONS_PER[dial]


def timed_gpm(
    volume_gal: float,
    seconds: float,
    volume_error_gal: float,
    seconds_error: float = TIME_ERROR.value,
    meter_error_part: float = METER_ERROR.value / 100.0,
) -> Figure:
    """The flow in gpm, with its error: the root of (dV/V)^2 + (dt/t)^2 + m^2.

    dV is the error of the volume, dt that of the time, m the meter's own as a part of the flow.
    Raises ValueError unless both readings passed.
    """
    if volume_gal <= 0.0 or seconds <= 0.0:
        raise ValueError("The dial must have moved, and time must have passed.")
    gpm = volume_gal / seconds * 60.0
    squares = (volume_error_gal / volume_gal) ** 2 + (seconds_error / seconds) ** 2
    error = gpm * float((squares + meter_error_part**2) ** 0.5)
    return Figure(gpm, error, error)
