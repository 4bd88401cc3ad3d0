"""What is measured and seen when a system is started: each zone's flow, pressures, the list."""

from typing import Annotated, ClassVar

from fieldbook.audit import DIALS, GRADES
from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, hidden, link, tick, words
from fieldbook.units import FLOW, LENGTH, PRESSURE, RATIO, SECONDS

FLOW_READ_BY = ("flow sensor", "flow gauge", "bucket")
GAUGE_AT = ("nozzle", "below the body")
_0510 = "21 NCAC 23 .0510 ({}), as an example: “{}”. The local text decides."
_0602 = "21 NCAC 23 .0602 (c)({}), as an example: “{}”. The local text decides."


def _a(number: int, text: str) -> str:
    return _0510.format(f"a)({number}", text)


class Commissioning(Record, table="commissioning"):
    """The list of a start-up, once for a property, with what the meter and the gauge showed."""

    title: ClassVar[str] = "start-up list"
    sheet: ClassVar[Place] = "service"
    once: ClassVar[bool] = True

    visit_id: Annotated[str | None, link("Visit", "visit", "The visit it was read on.")] = None
    held_on: Annotated[str | None, day("Started up on", "The day of the list.")] = None
    held_by: Annotated[str, words("By", "Who went through the list.")] = ""
    static_psi: Annotated[
        float | None,
        amount(
            "Static at connection",
            PRESSURE,
            (0, 300),
            "At the point of connection, with nothing running.",
            source=_a(2, "checking the static water pressure at the point of connection"),
        ),
    ] = None
    static_after_psi: Annotated[
        float | None,
        amount(
            "Static afterwards",
            PRESSURE,
            (0, 300),
            "Read again when all zones have run: a street that fell explains low readings.",
        ),
    ] = None
    meter_still: Annotated[
        bool | None,
        tick(
            "Meter is still",
            "All off: the small triangle of the dial must not turn. A meter need show only 90 % at "
            "its least flow, so a small leak can go unseen.",
            source="COMAR 20.70.06.04 for what a meter must show.",
            good="The triangle stands still for minutes with every tap and zone off.",
        ),
    ] = None
    flushed: Annotated[bool | None, tick("Flushed", source=_a(1, "flushing the system"))] = None
    heads_at_pressure: Annotated[
        bool | None,
        tick(
            "Pressure at heads",
            "The pressure at the sprinklers was read; the readings stand above.",
            source=_a(3, "checking the operating pressure at the sprinklers"),
        ),
    ] = None
    radius_set: Annotated[
        bool | None,
        tick(
            "Radius set",
            source=_a(4, "checking and adjusting sprinkler head wetted radius as needed"),
        ),
    ] = None
    none_on_paving: Annotated[
        bool | None,
        tick(
            "Nothing on paving",
            "No water on or over paving, walls or fences.",
            source=_a(
                5,
                "ensuring that the system does not spray water onto or over surfaces made of "
                "concrete, asphalt, brick, wood ... such as walls, fences, sidewalks, and streets",
            ),
        ),
    ] = None
    sensors_work: Annotated[
        bool | None,
        tick("Sensors work", source=_a(6, "verifying that all sensors are operational")),
    ] = None
    no_leaks: Annotated[
        bool | None,
        tick("No leaks", source=_a(7, "checking that there are no leaks in the system")),
    ] = None
    user_taught: Annotated[
        bool | None,
        tick(
            "User taught",
            "The owner knows that the schedule must change with the season.",
            source=_0510.format(
                "b",
                "educate the end user ... that plant material water needs change during the year "
                "and that the watering schedule should change accordingly",
            ),
        ),
    ] = None
    valves_shut: Annotated[
        bool | None,
        tick(
            "Valves shut softly",
            "Each valve shuts tightly, and neither opens nor closes abruptly.",
            source=_0602.format(
                2, "Valves must shut off tightly ... without abruptly opening or closing"
            ),
        ),
    ] = None
    filter_clean: Annotated[
        bool | None,
        tick(
            "Filters clean",
            source=_0602.format(6, "clean filtration elements at least once a year"),
        ),
    ] = None
    clock_set: Annotated[
        bool | None,
        tick(
            "Controller's date",
            "Date and time of the controller are right.",
            source=_0602.format(7, "Confirm correct date and time input"),
        ),
    ] = None
    battery_works: Annotated[
        bool | None,
        tick(
            "Back-up battery",
            source=_0602.format(7, "functional back-up battery at least once a year"),
        ),
    ] = None
    note: Annotated[str, words("Note")] = ""


class ZoneMeasurement(Record, table="zone_measurement"):
    """The flow of one zone, measured on a day: by the meter's dial, or by another instrument."""

    title: ClassVar[str] = "measured zone"
    sheet: ClassVar[Place] = "service"

    visit_id: Annotated[str | None, link("Visit", "visit", "The visit it was read on.")] = None
    zone_id: Annotated[str | None, link("Zone", "zone", "The zone that ran, by itself.")] = None
    measured_on: Annotated[str | None, day("Measured on", "The newest counts.")] = None
    static_psi: Annotated[
        float | None,
        amount(
            "Static",
            PRESSURE,
            (0, 300),
            "Just before, nothing running: the zone is worked out at this static.",
        ),
    ] = None
    dial: Annotated[
        str | None,
        choice(
            "Dial",
            DIALS,
            "What the meter counts in. One turn of a sweep hand is often 1 ft3, 7.48 gal: look.",
            source="Rainbow Municipal Water District; Charlotte Water; a meter worksheet.",
        ),
    ] = None
    dial_start: Annotated[
        float | None, amount("Dial start", RATIO, (0, 1e9), "In the dial's unit.")
    ] = None
    dial_stop: Annotated[
        float | None, amount("Dial stop", RATIO, (0, 1e9), "In the dial's unit.")
    ] = None
    dial_s: Annotated[
        float | None, amount("Took", SECONDS, (0.1, 86400), "From the first reading to the second.")
    ] = None
    flow_gpm: Annotated[
        float | None,
        amount("Flow", FLOW, (0.001, 1000), "Where an instrument shows it; blank takes the dial."),
    ] = None
    read_by: Annotated[str | None, choice("Read by", FLOW_READ_BY, "What showed the flow.")] = None
    flow_off_pct: Annotated[
        float | None,
        amount(
            "Flow off, %",
            RATIO,
            (0, 100),
            "How far the instrument may be off; blank is 5 %, common practice.",
        ),
    ] = None
    dial_read_to: Annotated[
        float | None,
        amount(
            "Dial read to",
            RATIO,
            (0, 1000),
            "How far the volume may be off, in the dial's unit; blank: 0.2 gal, 0.02 ft3 or 1 L.",
        ),
    ] = None
    meter_off_pct: Annotated[
        float | None,
        amount(
            "Meter off, %",
            RATIO,
            (0, 100),
            "Blank is 1.5 %, as a new meter must be.",
            source="COMAR 20.70.06.04.",
        ),
    ] = None
    gauge_span_psi: Annotated[
        float | None,
        amount("Static gauge to", PRESSURE, (1, 1000), "The end of its scale; blank is 100 psi."),
    ] = None
    gauge_grade: Annotated[
        str | None, choice("Its grade", GRADES, "On its face; blank is taken for B.")
    ] = None


class HeadReading(Record, table="head_reading"):
    """The pressure at one sprinkler head while its zone ran."""

    title: ClassVar[str] = "pressure at a head"
    sheet: ClassVar[Place] = "service"

    visit_id: Annotated[str | None, link("Visit", "visit", "The visit it was read on.")] = None
    measurement_id: Annotated[str | None, hidden("Measured zone", "zone_measurement")] = None
    run_id: Annotated[
        str | None, link("Head", "pipe_run", "The head at the end of this run: zone / run.")
    ] = None
    psi: Annotated[float | None, amount("Gauge", PRESSURE, (0, 300), "While the zone ran.")] = None
    gauge_at: Annotated[
        str | None,
        choice(
            "Gauge at",
            GAUGE_AT,
            "Blank is the nozzle. A body that regulates shows there what it regulates to.",
        ),
    ] = None
    above_ft: Annotated[
        float | None,
        amount(
            "Over the head",
            LENGTH,
            (-100, 100),
            "How much higher the gauge is than the head; 0.433 psi in a foot. Minus is lower.",
            source="International Plumbing Code, Appendix E, E103.2.2.",
        ),
    ] = None
    gauge_span_psi: Annotated[
        float | None,
        amount("Gauge to", PRESSURE, (1, 1000), "The end of its scale; blank is 100 psi."),
    ] = None
    gauge_grade: Annotated[
        str | None,
        choice(
            "Grade",
            GRADES,
            "On its face; blank is taken for B.",
            source="ASME B40.100, error in % of span (from memory).",
        ),
    ] = None
