"""The catch-can audit of a zone, and the cans of it."""

from typing import Annotated, ClassVar

from fieldbook.audit import QUARTER_RULES
from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, hidden, link, whole, words
from fieldbook.units import CATCH, LENGTH, MINUTES, SHORT_LENGTH, WIND

CATCH_KINDS = ("mL", "depth")


class CatchAudit(Record, table="catch_audit"):
    """One audit: cans stood while a zone ran; of an overlap two or three zones, each as long."""

    title: ClassVar[str] = "catch-can audit"
    sheet: ClassVar[Place] = "service"

    visit_id: Annotated[str | None, link("Visit", "visit", "The visit it was read on.")] = None
    zone_id: Annotated[str | None, link("Zone", "zone", "The zone that ran over the cans.")] = None
    zone_2_id: Annotated[
        str | None, link("And zone", "zone", "Where another zone waters the same cans.")
    ] = None
    zone_3_id: Annotated[str | None, link("And zone", "zone", "Where a third one does.")] = None
    held_on: Annotated[str | None, day("Audited on", "The newest that counts is used.")] = None
    run_min: Annotated[
        float | None,
        amount(
            "Each ran",
            MINUTES,
            (0.1, 1440),
            "At least 15 minutes; 30 to 60 where the cans have room.",
            source="UF/IFAS Extension, calibrating pages; University of Minnesota Extension.",
        ),
    ] = None
    wind_mph: Annotated[
        float | None,
        amount(
            "Wind",
            WIND,
            (0, 200),
            "The strongest while the cans stood; over 5 mph an audit does not count.",
            source="New Mexico State University, H-510.",
        ),
    ] = None
    caught_as: Annotated[
        str | None,
        choice("Read as", CATCH_KINDS, "mL by a measuring can, or the depth by a ruler."),
    ] = None
    throat_in: Annotated[
        float | None,
        amount(
            "Throat",
            SHORT_LENGTH,
            (0.1, 48),
            "The inner diameter of a can's rim: mL become a depth by it.",
        ),
    ] = None
    quarter_rule: Annotated[
        str | None,
        choice(
            "Quarter",
            QUARTER_RULES,
            "How cans are counted that four does not divide; blank is round. It moves the figure "
            "by up to 9 points, so put out a multiple of 4.",
            source="No published rule; common practice uses all four.",
        ),
    ] = None
    note: Annotated[str, words("Note", "What was seen, such as a head that leaned.")] = ""


class CatchCan(Record, table="catch_can"):
    """One can and what it caught; its place in a sketch is optional."""

    title: ClassVar[str] = "can"
    sheet: ClassVar[Place] = "service"

    audit_id: Annotated[str, hidden("Audit", "catch_audit")] = ""
    number: Annotated[int | None, whole("Can", 1, 500)] = None
    caught_ml: Annotated[float | None, amount("Caught", CATCH, (0, 100_000), "A dry can is 0.")] = (
        None
    )
    depth_in: Annotated[float | None, amount("Depth", SHORT_LENGTH, (0, 48), "A dry can is 0.")] = (
        None
    )
    along_ft: Annotated[
        float | None,
        amount("Along", LENGTH, (-1000, 1000), "From any corner, along the longer side."),
    ] = None
    out_ft: Annotated[
        float | None, amount("Out", LENGTH, (-1000, 1000), "From the same corner, away from it.")
    ] = None
