"""The flush and the backfill: what is entered of a stretch before it is buried."""

from __future__ import annotations

from typing import Annotated, ClassVar

from sqlmodel import Field

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, hidden, moment, tick, words
from fieldbook.units import MINUTES, SHORT_LENGTH

FLUSH_STEPS = ("main_valve_on", "tops_off", "bleed_open", "ran_clear", "bleed_closed", "tops_back")
"""The steps of a flush in the order of the work (common practice, no source)."""


class Flush(Record, table=True):
    """The flush of one zone, or of the mainline (no zone), step by step."""

    __tablename__ = "flush"
    title: ClassVar[str] = "flush"
    sheet: ClassVar[Place] = "ground"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = Field(default=None)
    main_valve_on: Annotated[
        bool | None, tick("Main on", "Main valve open, slowly.", wanted=True)
    ] = None
    tops_off: Annotated[
        bool | None, tick("Tops off", "Head tops out, so that dirt can leave.", wanted=True)
    ] = None
    bleed_open: Annotated[
        bool | None,
        tick("Bleed open", "Bleed screw a quarter turn; face away from it.", wanted=True),
    ] = None
    ran_clear: Annotated[
        bool | None, tick("Ran clear", "Until every head runs clear.", wanted=True)
    ] = None
    bleed_closed: Annotated[
        bool | None, tick("Closed", "Bleed screw hand-tight, no tool.", wanted=True)
    ] = None
    tops_back: Annotated[bool | None, tick("Tops back", "Head tops back in.", wanted=True)] = None
    clear_min: Annotated[
        float | None, amount("Clear after", MINUTES, (0, 600), "Until it ran clear.")
    ] = None
    discharged: Annotated[str, words("Ran out at", "Where the dirty water went.")] = ""


class Backfill(Record, table=True):
    """The trench of a stretch, a zone or the mainline (no zone), and who signed it as fit to bury.

    The evidence of the signature is the SignOff of the stretch.
    """

    __tablename__ = "backfill"
    title: ClassVar[str] = "backfill"
    sheet: ClassVar[Place] = "ground"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = Field(default=None)
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
