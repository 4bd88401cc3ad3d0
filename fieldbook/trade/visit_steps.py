"""The usual steps of a visit, by its reason: a list to tick, which a crew may add to.

Common practice, no source, where a step names none. They follow a rule for maintenance where there
is one: 21 NCAC 23 .0602 asks for clean filters and a new back-up battery once a year, for valves
that shut tightly, and for the supply and the pressure to be adequate. What empties and fills the
pipe is no step here: each of those has a tick of its own, with its cautions (`season_work`).
"""

from __future__ import annotations

from collections.abc import Mapping

STEPS: Mapping[str, tuple[str, ...]] = {
    "start-up": (
        "Heads upright and clear of grass and soil",
        "Nothing sprayed on paving, walls or fences",
        "Backflow test done or arranged",
        "Rain sensor stops the programme",
        "Programme set for the season",
        "Owner shown what changed",
    ),
    "commissioning": (
        "Laterals and mainline flushed",
        "Static pressure read at the connection",
        "Flow of each zone measured",
        "Pressure read at the worst head of each zone",
        "Radius and arc of each head set",
        "Nothing sprayed on paving, walls or fences",
        "Rain sensor stops the programme",
        "No leaks with everything shut",
        "Owner shown how to change the programme by season",
    ),
    "mid-season": (
        "Each zone run: every head up, upright, turning, nozzle clean",
        "Heads clear of grass and soil",
        "Valves open and shut fully, without slamming",
        "Meter stands still with everything shut",
        "Filters cleaned",
        "Run times set for the weather",
        "Rain sensor stops the programme",
    ),
    "winterising": (
        "What needs work in spring is noted",
        "Owner told how it was left, and what stays shut until spring",
    ),
    "repair": (
        "Complaint heard, zone run",
        "Cause found",
        "Repaired",
        "Zone run again: the complaint is gone",
        "Trench or box closed",
        "Owner told",
    ),
    "warranty": (
        "Complaint heard, zone run",
        "Thing and its date of installation checked against the warranty",
        "Replaced or repaired",
        "Zone run again: the complaint is gone",
        "Old part kept for the supplier",
    ),
}
