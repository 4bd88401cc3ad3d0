"""Closing before winter and opening in spring: words, limits of air, and where each is from.

The sources on air disagree, and each says less than a rule would; the smallest figure is used. The
local authority, the pipe's maker and whoever is trained for compressed air decide.
"""

from __future__ import annotations

from collections.abc import Mapping

CLOSING_WAYS = ("drained by hand", "drains by itself", "blown out", "no frost here")
ZONE_WAYS = CLOSING_WAYS[:3]
BLOWN_OUT, NO_FROST = CLOSING_WAYS[2], CLOSING_WAYS[3]
CLOSING_SOURCE = "21 NCAC 23 .0602(e): open all drains, and if necessary compressed air."
BLOW_ORDERS = ("nearest first", "farthest and highest first")
ORDER_SOURCES: Mapping[str, str] = {
    BLOW_ORDERS[0]: "A national golf body, 2 November 2015.",
    BLOW_ORDERS[1]: "Common practice, no source.",
}
"""The two orders disagree, so the choice is recorded."""
AIR_ENTERS = ("after the assembly", "before the assembly")
AIR_AFTER, AIR_BEFORE = AIR_ENTERS

PLASTIC_AIR_PSI = 50.0
"""The most air in psi at the system for any plastic pipe."""
PLASTIC_AIR_SOURCE = (
    "A Texas water agency: at most 50 psi for PVC. In doubt: Iowa State Extension (2009) has heard "
    "that 50 psi is enough, a golf body (2015) names 45 to 55, general web pages 80 for PVC."
)
METAL_AIR_PSI = 80.0
"""The most air in psi where all pipe on the way is metal."""
METAL_AIR_SOURCE = "A Texas water agency: at most 80 psi for metal pipe."
CLEANING_AIR = (
    "29 CFR 1910.242(b) keeps air that cleans under 30 psi, with guard and eye protection; no text "
    "that was read says whether a blow-out is cleaning."
)
ENTRY_SOURCE = "Coeur d'Alene, Idaho (2014): the air port is downstream of the assembly."
BREAKERS = ("PVB", "AVB", "SVB", "anti-siphon valves")
"""Kinds of assembly that air harms from either side. The source names the PVB and the AVB, which an
anti-siphon valve has in it; the SVB is here because it is built like a PVB (no source)."""
UPKEEP_SOURCE = "21 NCAC 23 .0602: filters, controller's date, time and battery once a year."
METER_STILL_SOURCE = (
    "A trade journal (2018): all valves shut, a meter that stands still shows no leak."
)
AIR_HEAT = (
    "Air leaves a compressor hot: one stage without cooling reaches some 350 F at 50 psi and 440 F "
    "at 80 (calculated), and PVC at 100 F bears 0.62 of its rating, at 140 F 0.22."
)


def is_metal(pipe_class: str | None) -> bool:
    """Whether a class of pipe is metal; an unknown class is taken for plastic."""
    return (pipe_class or "").startswith(("copper", "steel"))
