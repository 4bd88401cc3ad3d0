"""Where the work can hurt somebody: one short line for the sheet, the whole for the help.

The tool records and never certifies: local code and the licensed trade decide. A source marked
"second-hand" was read on a page that reports it.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.trade.winter import AIR_HEAT, CLEANING_AIR, ENTRY_SOURCE, PLASTIC_AIR_SOURCE

Work = Literal[
    "flow test",
    "backflow",
    "boxes",
    "cables",
    "zones",
    "pipe",
    "cement",
    "pressure test",
    "flush",
    "backfill",
    "controller",
    "digging",
    "closing",
    "opening",
]
"""The sections of the sheets at which somebody does dangerous work."""
LONGEST_LINE = 58
"""Characters of a line at most, so that it is whole on a terminal of 60 columns."""


class Caution(NamedTuple):
    """One danger: what it is called, the line on a sheet, the whole of it, its source, its work."""

    danger: str
    line: str
    text: str
    source: str
    works: tuple[Work, ...]


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "trench",
        "5 ft deep: shore it. Spoil 2 ft back. Ladder from 4 ft.",
        "Trench: from 5 ft deep, or where it may cave in, protect it first. Spoil 2 ft from the "
        "edge; from 4 ft deep a ladder within 25 ft. A competent person and local code decide.",
        "29 CFR 1926.651(c)(2), (j)(2), 1926.652(a)(1).",
        ("digging", "backfill"),
    ),
    Caution(
        "hand-digging",
        "Dig by hand beside marks; private lines are not marked.",
        "Marks: find buried lines before opening, and dig by hand beside a mark until the line is "
        "seen. Lines behind the meter are not marked. The notification centre and its law govern.",
        "29 CFR 1926.651(b).",
        ("digging",),
    ),
    Caution(
        "mains",
        "Mains: electrician only, locked and tagged; GFCI outdoors.",
        "Mains is a licensed electrician's work: the circuit dead, locked and tagged by its name; "
        "outdoors a GFCI and a cover that is weatherproof with the plug in. Local code governs.",
        "29 CFR 1926.417; NEC 210.8(A)(3) (second-hand), 406.9(B).",
        ("controller",),
    ),
    Caution(
        "cement fumes",
        "Cement and primer fumes: fresh air, gloves, no flame.",
        "Primer and cement: their fumes burn and make dizzy. Fresh air, also in the trench, "
        "gloves, no flame. The label of the cement in hand governs.",
        COMMON_PRACTICE,
        ("pipe", "cement"),
    ),
    Caution(
        "compressed air",
        "Never test with air: plastic pipe bursts. Eyes covered.",
        "Never test plastic pipe with air or gas: it bursts into pieces. Where lines are blown "
        "out, eyes covered and nobody near; the pipe's maker and local rules set the pressure.",
        "PPFA User Bulletin 4-80; for the eyes 29 CFR 1910.242(b), a rule for cleaning.",
        ("pressure test",),
    ),
    Caution(
        "blow-out",
        "Air: 50 psi at most on plastic, by a regulator. Eyes on.",
        "Air to empty pipe: at most 50 psi for plastic and never over the lowest rating, set on a "
        "regulator; eyes covered, nobody over pipe or heads. A person trained for it decides.",
        f"{PLASTIC_AIR_SOURCE} {CLEANING_AIR}",
        ("closing",),
    ),
    Caution(
        "air in the assembly",
        "Air enters after the assembly; a breaker comes off first.",
        "Air never goes through the backflow assembly: it enters after it, and a vacuum breaker is "
        "taken off first, since air from either side harms it. Local rules decide.",
        ENTRY_SOURCE,
        ("closing",),
    ),
    Caution(
        "hot air",
        "Air is hot: stop at mist, never leave air on a dry zone.",
        "Air: stop at mist and go on to the next zone; never leave air on a dry one, and let it "
        "cool in a long hose or a tank. The pipe's rating at its heat governs.",
        AIR_HEAT,
        ("closing",),
    ),
    Caution(
        "air hose",
        "Hose over 1/2 in: safety device at the source. Drain tank.",
        "Hose: never over its rating; over 1/2 in bore with a safety device at the source. Tank: "
        "drained, its gauge and safety valve sound. The labels of both govern.",
        "29 CFR 1926.302(b)(5), (7) (second-hand); Oregon 437-004-1505; Washington 296-155-380.",
        ("closing",),
    ),
    Caution(
        "filling",
        "Fill slowly, far valve open: shut-in air breaks pipe.",
        "Filling: the far valve open so that air leaves, the shut-off a quarter turn at a time; a "
        "fast filling breaks pipe and can hurt whoever is near. The pipe's maker decides.",
        "A trade journal (2018), for the far valve; otherwise common practice, no source.",
        ("opening",),
    ),
    Caution(
        "pressurised lines",
        "Under pressure: stand clear; let it out before you open.",
        "A line under pressure: nobody over joints or in line with a cap or a bleed screw; let the "
        "pressure out before anything is opened. The gauge and the pipe's rating govern.",
        COMMON_PRACTICE,
        ("flow test", "pressure test", "flush"),
    ),
    Caution(
        "contamination",
        "Dirty water can be drawn back in: local code decides.",
        "Water from the yard can be drawn back into what people drink: nothing is connected "
        "without the assembly that local code asks for. A licensed tester tests and certifies it.",
        "30 Tex. Admin. Code 344.50; IRC P2902.5.3.",
        ("backflow",),
    ),
    Caution(
        "lids",
        "Lids: lift with a tool, shut at once; an open box trips.",
        "Lids: lift with a tool, back straight, and shut the box before you leave it. 51 lb is the "
        "most for an ideal lift, half of it at arm's length. The firm's own rules govern.",
        "NIOSH 94-110 (second-hand).",
        ("boxes",),
    ),
    Caution(
        "insects",
        "Stings: look before you reach in; ask who is allergic.",
        "Wasps, spiders, snakes sit in boxes: open with a tool, look before you reach in. Light "
        "clothing, no scent; those allergic carry epinephrine. A doctor decides.",
        "NIOSH on stinging insects (second-hand).",
        ("boxes",),
    ),
    Caution(
        "heat",
        "Heat: a cup of water every 15 to 20 minutes, and shade.",
        "Heat: a cup (8 oz) of water every 15 to 20 minutes, not over 48 oz an hour, and rest in "
        "the shade. Confused or not sweating: call for help.",
        "NIOSH 2017-126; for the call common practice.",
        ("zones",),
    ),
    Caution(
        "lightning",
        "Thunder: drop the wire, go inside, 30 minutes after it.",
        "Lightning runs along wire and wet trenches: at thunder go inside, and stay 30 minutes "
        "after the last. The firm's own rules govern.",
        "OSHA and NOAA (second-hand).",
        ("zones", "cables"),
    ),
)
"""Every caution, once; a sheet asks for those of its section."""


def cautions_at(work: Work) -> tuple[Caution, ...]:
    """The cautions of one kind of work, in the order of the table."""
    return tuple(caution for caution in CAUTIONS if work in caution.works)


MARK_COLOURS: tuple[tuple[str, str], ...] = (
    ("white", "proposed dig"),
    ("pink", "survey"),
    ("red", "power"),
    ("yellow", "gas"),
    ("orange", "communication"),
    ("blue", "potable water"),
    ("purple", "reclaimed, irrigation"),
    ("green", "sewer"),
)
"""What the colour of a mark on the ground means."""
MARK_SOURCE = "American Public Works Association, uniform colour code."
