"""Figures of design practice that no jurisdiction's rule set overrides."""

from __future__ import annotations

from dataclasses import dataclass

COMMON_PRACTICE = "Common practice, no source."


@dataclass(frozen=True)
class Rule:
    """A figure, its unit and the published text that gives it.

    `source` is COMMON_PRACTICE, or begins with it, where no published text is known.
    """

    value: float
    unit: str
    source: str


METER_SAFE_PART = Rule(0.75, "of the meter's safe flow", COMMON_PRACTICE)
METER_LOSS_PART = Rule(
    0.10, "of static", "“The Water Source”, design article in the landscape trade press."
)
FLOW_TEST_DROP = Rule(0.10, "of static", "NFPA 291, 4.4.6.")
"""A flow test that drops the pressure by less than this is too small to plan by."""
VALVE_LOSS = Rule(3.0, "psi", COMMON_PRACTICE)
"""A zone valve's loss where its own was not entered."""
FITTINGS_PART = Rule(0.10, "of pipe loss", COMMON_PRACTICE)
"""The loss of fittings, as a part of the loss of the pipe they join."""
REGULATOR_HEADROOM = Rule(5.0, "psi", COMMON_PRACTICE)
"""What a regulator, or a head with one in its body, needs over its setting to hold it."""
GAUGE_ERROR = Rule(
    2.0, "psi", "ASME B40.100, grade B: 2 % of the span of a 0-100 psi gauge (from memory)."
)
"""How far one reading of a gauge may be off."""
TESTED_FLOW_ERROR = Rule(0.05, "of the flow tested", COMMON_PRACTICE)
"""How far the flow of a test may be off: a bucket, a stop watch, a meter's sweep hand."""
HOUR_PART = Rule(0.05, "of static", COMMON_PRACTICE)
"""How far the street's pressure may be off at another hour than it was read."""
NOZZLE_ERROR = Rule(0.05, "of flow", COMMON_PRACTICE)
"""How far nozzles, or what a body regulates to, may be off from what is printed of them."""
USUAL_LOSS_ERROR = Rule(3.0, "psi", COMMON_PRACTICE)
"""How far a loss that was not entered, and so is taken as usual, may be off."""
