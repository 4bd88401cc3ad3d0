"""Generic defaults of what local authorities rule on; a job may override the local ones.

Nothing here is law anywhere: the authority having jurisdiction decides.
"""

from __future__ import annotations

from fieldbook.trade.cited import COMMON_PRACTICE, Cited

Rule = Cited
"""A limit, its unit and its source."""

STATIC_MAX = Rule(80.0, "psi", "Colorado State University Extension, GardenNotes #264.")
"""Above it the point of connection is regulated; valves may not close."""
VELOCITY_MAX = Rule(5.0, "ft/s", "2004 Florida Building Code, Plumbing, App. F, Part II F.")
METER_SAFE_PART = Rule(0.75, "of the meter's safe flow", COMMON_PRACTICE)
METER_LOSS_PART = Rule(
    0.10, "of static", "“The Water Source”, design article in the landscape trade press."
)
FLOW_TEST_DROP = Rule(0.10, "of static", "NFPA 291, 4.4.6.")
"""A flow test that drops the pressure less than this tells too little."""
MAINLINE_COVER = Rule(12.0, "in", "Common practice, no source: a generic default.")
LATERAL_COVER = Rule(8.0, "in", "Common practice, no source: a generic default.")
WIRE_COVER = Rule(6.0, "in", "NEC (NFPA 70) Table 300.5, column 5: up to 30 V in the ground.")
VALVE_LOSS = Rule(3.0, "psi", COMMON_PRACTICE)
"""A zone valve's loss where its own was not entered."""
FITTINGS_PART = Rule(0.10, "of pipe loss", COMMON_PRACTICE)
