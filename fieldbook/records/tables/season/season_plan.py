"""The plan for winter and spring of a property, and the points at which its pipe drains."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, link, words
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.units import AIR_FLOW, PRESSURE

CLOSING_WAYS = ("drained by hand", "drains by itself", "blown out", "no frost here")
BLOW_ORDERS = ("nearest first", "farthest and highest first")
DRAINS_HOW = ("by hand", "by itself")
ORDER_SOURCE = (
    "Nearest first: a golf body's advice of 2 November 2015. Farthest and highest first: common "
    "practice, no source. They disagree, so the choice is recorded."
)


class SeasonPlan(Record, table="season_plan"):
    """How the property is closed and opened each year; a visit may differ from it."""

    title: ClassVar[str] = "season plan"
    sheet: ClassVar[Place] = "service"
    once: ClassVar[bool] = True

    frost_on: Annotated[
        str | None,
        day("First frost", "When frost may come here: its day and month count each year."),
    ] = None
    spring_on: Annotated[
        str | None,
        day("Start-up", "When the soil is thawed a foot down: its day and month count each year."),
    ] = None
    way: Annotated[
        str | None,
        choice(
            "Closed by",
            CLOSING_WAYS,
            "Enough water must be out that nothing breaks; air only where draining isn't enough.",
            source="21 NCAC 23 .0602(e): open all drains, and if necessary compressed air.",
        ),
    ] = None
    blow_order: Annotated[
        str | None,
        choice("Blown in order", BLOW_ORDERS, "In which order air goes through the zones.",
               source=ORDER_SOURCE),
    ] = None
    compressor_cfm: Annotated[
        float | None,
        amount(
            "Compressor",
            AIR_FLOW,
            (0.1, 2000),
            "What it gives in free air, from its plate.",
        ),
    ] = None
    air_port: Annotated[
        str, words("Air port", "Where the air hose is connected: after the backflow assembly.")
    ] = ""
    shut_off: Annotated[
        str, words("Winter shut-off", "The valve that shuts the system and leaves the house water.")
    ] = ""


class DrainPoint(Record, table="drain_point"):
    """A place where pipe drains, by hand or by itself."""

    title: ClassVar[str] = "drain point"
    sheet: ClassVar[Place] = "service"

    where: Annotated[str, words("Where", "So that another finds it in November.", wanted=True)] = ""
    zone_id: Annotated[
        str | None, link("Zone", "zone", "The zone that it drains; blank is the mainline.")
    ] = None
    how: Annotated[
        str | None,
        choice("Drains", DRAINS_HOW, "A valve that is opened, or one that opens without pressure.",
               source=COMMON_PRACTICE),
    ] = None
    note: Annotated[str, words("Note")] = ""
