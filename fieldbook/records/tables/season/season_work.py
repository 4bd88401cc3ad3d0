"""What a visit did to close the system or to open it, as a whole and zone by zone."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, hidden, tick, whole, words
from fieldbook.trade.winter import (
    AIR_ENTERS,
    BLOW_ORDERS,
    CLOSING_SOURCE,
    CLOSING_WAYS,
    ENTRY_SOURCE,
    METER_STILL_SOURCE,
    PLASTIC_AIR_SOURCE,
    UPKEEP_SOURCE,
    ZONE_WAYS,
)
from fieldbook.units import AIR_FLOW, PRESSURE


class SeasonWork(Record, table="season_work"):
    """The closing or the opening on one visit; the visit has its day, its reason and who came."""

    title: ClassVar[str] = "season work"
    sheet: ClassVar[Place] = "service"

    visit_id: Annotated[str | None, hidden("Visit", "visit")] = None
    supply_shut: Annotated[
        bool | None, tick("Water shut", "The system's shut-off; the house keeps its water.")
    ] = None
    way: Annotated[
        str | None, choice("Closed by", CLOSING_WAYS, "Blank is as planned.", source=CLOSING_SOURCE)
    ] = None
    breaker_off: Annotated[
        bool | None,
        tick(
            "Breaker removed",
            "Air from either side harms a vacuum breaker: it comes off before the air.",
            source=ENTRY_SOURCE,
        ),
    ] = None
    air_enters: Annotated[
        str | None,
        choice("Air enters", AIR_ENTERS, "Never through the assembly.", source=ENTRY_SOURCE),
    ] = None
    regulator_psi: Annotated[
        float | None,
        amount(
            "Regulator set to",
            PRESSURE,
            (1, 200),
            "On the compressor, before the hose is opened.",
            source=PLASTIC_AIR_SOURCE,
        ),
    ] = None
    compressor_cfm: Annotated[
        float | None,
        amount("Compressor", AIR_FLOW, (0.1, 2000), "Free air, from its plate; blank as planned."),
    ] = None
    air_deg_f: Annotated[
        int | None,
        whole("Air, deg F", -40, 400, "At the hose: hot air takes strength from the pipe."),
    ] = None
    blow_order: Annotated[
        str | None, choice("Blown in order", BLOW_ORDERS, "Blank is as planned.")
    ] = None
    eyes_covered: Annotated[
        bool | None, tick("Eyes covered", "Everybody's, and nobody over pipe or heads.")
    ] = None
    far_open: Annotated[
        bool | None, tick("Far valve open", "So that the air leaves as water comes in.")
    ] = None
    filled_slowly: Annotated[
        bool | None, tick("Filled slowly", "A quarter turn at a time: fast filling breaks pipe.")
    ] = None
    meter_still: Annotated[
        bool | None,
        tick(
            "Meter still",
            "With all valves shut and no water used in the house.",
            source=METER_STILL_SOURCE,
            good="Its smallest pointer does not move: no leak.",
        ),
    ] = None
    filters_clean: Annotated[
        bool | None, tick("Filters cleaned", "Once a year.", source=UPKEEP_SOURCE)
    ] = None
    battery_good: Annotated[
        bool | None,
        tick("Battery and clock", "The controller's, once a year.", source=UPKEEP_SOURCE),
    ] = None
    damage: Annotated[str, words("Damage seen", "Where, and what.")] = ""


class SeasonZone(Record, table="season_zone"):
    """What was done to one zone, or to the mainline (no zone), on a visit of the season."""

    title: ClassVar[str] = "zone closed or opened"
    sheet: ClassVar[Place] = "service"

    visit_id: Annotated[str | None, hidden("Visit", "visit")] = None
    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    way: Annotated[str | None, choice("How", ZONE_WAYS, "Blank is as the visit says.")] = None
    emptied: Annotated[
        bool | None, tick("Emptied", "Mist alone at the last head, or no water at the drain.")
    ] = None
    ran_well: Annotated[
        bool | None, tick("Ran well", "Each head was looked at while it ran in spring.")
    ] = None
    done_on: Annotated[str | None, day("On", "Blank is the day of the visit.")] = None
    done_by: Annotated[str, words("By", "Blank is whoever came.")] = ""
    note: Annotated[str, words("Note")] = ""
