"""What is typed into the controller, and what the local watering rules go by."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import (
    amount,
    choice,
    day,
    hidden,
    link,
    run_days,
    start_times,
    tick,
    whole,
    words,
)
from fieldbook.trade.watering.watering_law import SOURCES
from fieldbook.units import AREA, MINUTES

OVERLAPS = ("one after the other", "at once")


class WateringFacts(Record, table="watering_facts"):
    """What decides which days and hours of the local watering rule are the property's."""

    title: ClassVar[str] = "facts for the watering rules"
    sheet: ClassVar[Place] = "controller"
    once: ClassVar[bool] = True

    house_number: Annotated[
        int | None, whole("House number", 0, 999_999_999, "Blank takes that of the address.")
    ] = None
    no_number: Annotated[
        bool | None, tick("No house number", "The property has none.", either=True)
    ] = None
    watering_group: Annotated[
        str, words("Watering group", "The letter or number that the utility gave, if any.")
    ] = ""
    assigned_days: Annotated[
        str, run_days("Days assigned", "The days on the utility's letter, such as Wed Sat.")
    ] = ""
    street_side: Annotated[
        str | None, choice("Side of the street", ("odd", "even"), "Some rules go by the side.")
    ] = None
    property_kind: Annotated[
        str | None, choice("Kind of property", ("home", "other"), "Blank is not known.")
    ] = None
    lot_ft2: Annotated[
        float | None, amount("Lot", AREA, (100, 5e8), "Some rules go by the size of the lot.")
    ] = None
    water: Annotated[
        str | None, choice("Water", SOURCES, "Reclaimed water and wells may have other rules.")
    ] = None
    time_zone: Annotated[
        str,
        words("Time zone", "Such as America/New_York; blank follows the summer time of the US."),
    ] = ""
    new_part_pct: Annotated[
        int | None,
        whole("Of new zones new, %", 0, 100, "Some rules ask that half of a zone or more is new."),
    ] = None
    new_paper: Annotated[
        bool | None,
        tick("Permit for new plants", "The paper that their exemption asks for is in hand."),
    ] = None
    overlap: Annotated[
        str | None,
        choice(
            "Starts that meet",
            OVERLAPS,
            "What the controller does with a start while another programme runs; see its sheet.",
        ),
    ] = None


class ProgrammeRow(Record, table="programme"):
    """One programme as it is typed into a controller."""

    title: ClassVar[str] = "programme"
    sheet: ClassVar[Place] = "controller"

    name: Annotated[str, words("Name", "The letter that the controller gives it.")] = ""
    controller_id: Annotated[
        str | None, link("Controller", "other_controller", "Blank is the first controller.")
    ] = None
    days: Annotated[
        str,
        run_days("Days", "Mon Wed Fri, odd, even, odd not 31, every 3 from 2027-05-01, or any."),
    ] = ""
    starts: Annotated[
        str, start_times("Starts", "All of its start times, such as 5:00 am, 8:30.")
    ] = ""
    percent: Annotated[
        int | None, whole("Percent", 1, 300, "The seasonal percentage; blank is 100.")
    ] = None
    percent_by_month: Annotated[
        str, words("By month", "Percentages of single months: Apr 51, May 68.")
    ] = ""
    cycle_min: Annotated[
        float | None,
        amount("Cycle", MINUTES, (0.5, 600), "Where the controller itself cuts runs in cycles."),
    ] = None
    soak_min: Annotated[
        float | None, amount("Soak", MINUTES, (0, 600), "Its rest between two of those cycles.")
    ] = None
    first_day: Annotated[str | None, day("From", "Blank is in use now.")] = None
    last_day: Annotated[str | None, day("To", "The last day it is in use; blank has no end.")] = (
        None
    )


class ProgrammeMinutes(Record, table="programme_minutes"):
    """The minutes of one terminal of the programme's controller, at 100 %."""

    title: ClassVar[str] = "minutes of a terminal"
    sheet: ClassVar[Place] = "controller"

    programme_id: Annotated[str | None, hidden("Programme", "programme")] = None
    terminal: Annotated[int | None, whole("Terminal", 1, 200, "Its number on the controller.")] = (
        None
    )
    run_min: Annotated[
        float | None, amount("Minutes", MINUTES, (0, 1440), "At one start, at 100 %.")
    ] = None
