"""The plan for winter and spring of a property, and the points at which its pipe drains."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, link, words
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.trade.winter import BLOW_ORDERS, CLOSING_SOURCE, CLOSING_WAYS, ORDER_SOURCES
from fieldbook.units import AIR_FLOW

DRAINS_HOW = ("by hand", "by itself")


class SeasonPlan(Record, table="season_plan"):
    """How the property is closed and opened each year; a visit may differ from it."""

    title: ClassVar[str] = "season plan"
    sheet: ClassVar[Place] = "service"
    once: ClassVar[bool] = True

    frost_on: Annotated[
        str | None, day("First frost", "Its day and month count each year: closed before it.")
    ] = None
    spring_on: Annotated[
        str | None, day("Start-up", "When the soil is thawed; day and month count each year.")
    ] = None
    way: Annotated[
        str | None,
        choice(
            "Closed by",
            CLOSING_WAYS,
            "So much water must be out that nothing breaks; air only where draining is not enough.",
            source=CLOSING_SOURCE,
        ),
    ] = None
    blow_order: Annotated[
        str | None,
        choice(
            "Blown in order",
            BLOW_ORDERS,
            "Sources disagree on the order of the zones, so the choice is recorded.",
            source="; ".join(f"{order}: {said}" for order, said in ORDER_SOURCES.items()),
        ),
    ] = None
    compressor_cfm: Annotated[
        float | None,
        amount("Compressor", AIR_FLOW, (0.1, 2000), "Free air that it gives, from its plate."),
    ] = None
    air_port: Annotated[
        str, words("Air port", "Where the hose is connected: after the backflow assembly.")
    ] = ""
    shut_off: Annotated[
        str, words("Winter shut-off", "The valve that shuts the system; the house keeps its water.")
    ] = ""


class DrainPoint(Record, table="drain_point"):
    """A place where pipe drains, by hand or by itself."""

    title: ClassVar[str] = "drain point"
    sheet: ClassVar[Place] = "service"

    where: Annotated[str, words("Where", "So that another finds it in autumn.", wanted=True)] = ""
    zone_id: Annotated[
        str | None, link("Zone", "zone", "The zone that it drains; blank is the mainline.")
    ] = None
    how: Annotated[
        str | None,
        choice(
            "Drains",
            DRAINS_HOW,
            "A valve that is opened, or one that opens when pressure falls.",
            source=COMMON_PRACTICE,
        ),
    ] = None
    note: Annotated[str, words("Note")] = ""
