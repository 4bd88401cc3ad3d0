"""What is proven before it is buried: the flush log and the backfill sign-offs."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, hidden, moment, tick, words
from fieldbook.units import MINUTES, SHORT_LENGTH

LET_ON_BY = ("controller", "by hand")
CAME_OUT_AT = ("risers, before heads", "line ends", "heads, nozzles out")
MAINLINE_STEPS = ("ran_clear", "bleed_closed")
FLUSH_STEPS = (*MAINLINE_STEPS, "tops_back")
"""What must be true of a flush, in the order it is done. The mainline has no heads."""


_OLDER = "A step that older books asked for; no check asks for it now."


class Flush(Record, table="flush"):
    """The flush of one zone, or of the mainline (no zone), step by step."""

    title: ClassVar[str] = "flush"
    sheet: ClassVar[Place] = "ground"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    let_on_by: Annotated[
        str | None, choice("Let on", LET_ON_BY, "How water was let into the line.", wanted=True)
    ] = None
    came_out_at: Annotated[
        str | None,
        choice(
            "Came out at",
            CAME_OUT_AT,
            "Dirt leaves through open ends: risers before heads are fitted, or nozzles out.",
            wanted=True,
            source="American Fork, Utah, 15.01.840 D; Elk River, Minnesota: nozzles removed.",
        ),
    ] = None
    ran_clear: Annotated[
        bool | None,
        tick("Ran clear", "No code asks for minutes: until the water is clear.", wanted=True),
    ] = None
    bleed_closed: Annotated[
        bool | None, tick("Closed", "The valve or line end is closed again.", wanted=True)
    ] = None
    tops_back: Annotated[
        bool | None,
        tick("Fitted", "Nozzles or heads are fitted after it ran clear.", wanted=True),
    ] = None
    main_valve_on: Annotated[bool | None, tick("Main on", _OLDER)] = None
    tops_off: Annotated[bool | None, tick("Tops off", _OLDER)] = None
    bleed_open: Annotated[bool | None, tick("Bleed open", _OLDER)] = None
    clear_min: Annotated[
        float | None, amount("Clear after", MINUTES, (0, 600), "Until it ran clear.")
    ] = None
    discharged: Annotated[str, words("Ran out at", "Where the dirty water went.")] = ""


class Backfill(Record, table="backfill"):
    """The sign-off of one stretch: a zone's trenches, or the mainline (no zone)."""

    title: ClassVar[str] = "backfill"
    sheet: ClassVar[Place] = "ground"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    cover_in: Annotated[
        float | None,
        amount(
            "Cover",
            SHORT_LENGTH,
            (0, 120),
            "Top of the pipe to finished grade, least seen.",
            wanted=True,
        ),
    ] = None
    rock_free: Annotated[
        bool | None,
        tick(
            "Rock-free",
            "Stone against the pipe wears through it.",
            wanted=True,
            source="Common practice; ASTM D2774 is the governing practice.",
            good="No stone over 1/2 in in the 4-6 in around the pipe.",
        ),
    ] = None
    heads_plumb: Annotated[
        bool | None, tick("Plumb", "A leaning head throws long on one side.", wanted=True)
    ] = None
    heads_at_grade: Annotated[
        bool | None, tick("At grade", "Heads flush with finished grade.", wanted=True)
    ] = None
    bedding: Annotated[
        bool | None,
        tick(
            "Bedding",
            "The pipe lies on its whole length.",
            source="NRCS Arizona specification 516: over rock, 4 in of sand or fine soil.",
            good="Trench bottom even; over rock 4 in dug out and filled with sand.",
        ),
    ] = None
    warning_tape: Annotated[
        bool | None,
        tick("Warning tape", "Detectable tape over mains and wire.", source="Common practice."),
    ] = None
    signed_by: Annotated[str, hidden("Signed by")] = ""
    signed_at: Annotated[str, moment("Signed at")] = ""
