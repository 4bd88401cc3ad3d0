"""Published figures that a measured one is seen beside; none of them is a limit."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.trade.rules.design_limits import Rule

_FLORIDA = "Baum, Dukes and Miller, ASAE paper 032024, 2003: measured on homes in Florida."
HOME_LOW_QUARTER: Mapping[str, Rule] = {
    "spray": Rule(0.40, "of the mean", _FLORIDA),
    "rotor": Rule(0.48, "of the mean", _FLORIDA),
}
"""The mean low-quarter uniformity that was measured on homes, by the kind of head."""
IDEAL_LOW_QUARTER: Mapping[str, Rule] = {
    "spray": Rule(0.52, "of the mean", _FLORIDA.replace("on homes", "on a test field")),
    "rotor": Rule(0.55, "of the mean", _FLORIDA.replace("on homes", "on a test field")),
}
"""What fixed quarter-circle sprays and rotors reached where everything was as it should be."""
