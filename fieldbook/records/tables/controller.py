"""The controller and its terminals, with the wire colours seen under them."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import (
    amount,
    choice,
    conductor_colour,
    hidden,
    link,
    tick,
    whole,
    words,
)
from fieldbook.trade.wire_sizes import HIGHEST_ADDRESS
from fieldbook.units import CURRENT, RESISTANCE, VOLTAGE

TERMINAL_ROLES = ("zone", "common", "master")

# What is asked of every controller, the first and the others.
_MAKE = words("Make", "As on its label.")
_MODEL = words("Model", "As on its label, so that a part fits.")
_STATIONS = whole("Zone terminals", 1, 200, "How many it has.", wanted=True)
_POWERED_BY = choice("Powered by", ("mains", "battery"), "Blank is the mains.")
_OUTDOORS = tick("Mounted outdoors", "Does it hang outside?", wanted=True, either=True)
_OUTDOOR_MODEL = tick("Made for outdoors", "Its enclosure is rated for weather.")
_BOX = link(
    "In valve box",
    "valve_box",
    "A battery controller beside its valves, with no cable; blank hangs on a wall.",
)
_SUPPLY_NEAR = tick(
    "Supply near",
    "A socket or circuit within reach, not switched. Mains work is for a licensed "
    "electrician; local electrical code governs.",
    wanted=True,
)


class Controller(Record, table="controller"):
    """The controller on the wall. Its mains side belongs to a licensed electrician."""

    title: ClassVar[str] = "controller"
    sheet: ClassVar[Place] = "controller"
    once: ClassVar[bool] = True

    location: Annotated[str, words("Where", "Which wall, which room.", wanted=True)] = ""
    make: Annotated[str, _MAKE] = ""
    model: Annotated[str, _MODEL] = ""
    serial: Annotated[str, words("Serial", "For its warranty.")] = ""
    stations: Annotated[int | None, _STATIONS] = None
    outdoors: Annotated[bool | None, _OUTDOORS] = None
    outdoor_model: Annotated[bool | None, _OUTDOOR_MODEL] = None
    supply_near: Annotated[bool | None, _SUPPLY_NEAR] = None
    wire_in_conduit: Annotated[
        bool | None,
        tick(
            "Wire in conduit",
            "Exposed field wire runs in conduit from the ground to the controller.",
            wanted=True,
            source="Common practice, no source.",
        ),
    ] = None
    rain_sensor: Annotated[
        bool | None, tick("Rain sensor", "Fitted in open sky and connected.", wanted=True)
    ] = None
    powered_by: Annotated[str | None, _POWERED_BY] = None
    box_id: Annotated[str | None, _BOX] = None
    transformer_va: Annotated[
        int | None,
        whole("Transformer VA", 1, 2000, "From its nameplate: 24 V times what it can give."),
    ] = None
    output_v: Annotated[
        float | None,
        amount("Output", VOLTAGE, (5, 60), "Measured under load at the terminals; blank is 24 V."),
    ] = None
    pull_in_v: Annotated[
        float | None,
        amount(
            "Coil pulls in at",
            VOLTAGE,
            (5, 60),
            "What a coil needs to open; blank is 20 V.",
            source="19 to 21 V: common practice, no source.",
        ),
    ] = None
    inrush_a: Annotated[
        float | None,
        amount(
            "Inrush",
            CURRENT,
            (0.01, 5),
            "Of one coil as it opens, from its sheet; blank is 0.40 A.",
            source="0.35 to 0.45 A: common practice, no source.",
        ),
    ] = None
    holding_a: Annotated[
        float | None,
        amount(
            "Holding",
            CURRENT,
            (0.01, 5),
            "Of one coil held open, from its sheet; blank is 0.25 A.",
            source="0.19 to 0.25 A: common practice, no source.",
        ),
    ] = None
    relay_a: Annotated[
        float | None,
        amount(
            "Pump relay",
            CURRENT,
            (0.01, 5),
            "Coil current of a pump start relay on the master terminal. The pump side is a "
            "licensed electrician's work.",
        ),
    ] = None
    soil_deg_f: Annotated[
        int | None, whole("Soil, deg F", 20, 130, "Sets the wire's resistance; blank is 68 F.")
    ] = None


class OtherController(Record, table="other_controller"):
    """A controller beside the first: on another wall, or a battery one in a valve box.

    Its terminals are numbered from 1 again, and each names its zone.
    """

    title: ClassVar[str] = "controller"
    sheet: ClassVar[Place] = "controller"

    name: Annotated[str, words("Name", "Such as B, as it is marked.", wanted=True)] = ""
    location: Annotated[str, words("Where", "Which wall, which room, which box.", wanted=True)] = ""
    stations: Annotated[int | None, _STATIONS] = None
    powered_by: Annotated[str | None, _POWERED_BY] = None
    box_id: Annotated[str | None, _BOX] = None
    outdoors: Annotated[bool | None, _OUTDOORS] = None
    outdoor_model: Annotated[bool | None, _OUTDOOR_MODEL] = None
    supply_near: Annotated[bool | None, _SUPPLY_NEAR] = None
    make: Annotated[str, _MAKE] = ""
    model: Annotated[str, _MODEL] = ""


class Terminal(Record, table="terminal"):
    """One terminal and the conductor under it, as it was seen at the controller.

    A zone terminal of the first controller serves the zone of its number unless `zone_id` says
    otherwise. On a two-wire path it has the address of a decoder instead of a conductor.
    """

    title: ClassVar[str] = "terminal"
    sheet: ClassVar[Place] = "controller"

    role: Annotated[str, hidden("Role")] = "zone"
    number: Annotated[int | None, whole("Terminal", 1, 200)] = None
    zone_id: Annotated[
        str | None, link("Zone", "zone", "Blank is the zone of the same number.")
    ] = None
    controller_id: Annotated[str | None, hidden("Controller", "other_controller")] = None
    address: Annotated[
        int | None,
        whole("Address", 1, HIGHEST_ADDRESS, "The decoder address assigned to this terminal."),
    ] = None
    output: Annotated[
        int | None, whole("Output", 1, 8, "Of a decoder with several; blank is its only one.")
    ] = None
    cable_id: Annotated[str | None, link("Cable", "cable", "Blank is the job's only cable.")] = None
    colour: Annotated[
        str | None,
        conductor_colour(
            "Wire", "The conductor under this terminal, seen at the controller.", wanted=True
        ),
    ] = None
    day_1_ohm: Annotated[
        float | None,
        amount(
            "Ohms, day 1",
            RESISTANCE,
            (0, 100000),
            "Power off, common lifted off: from the common to this wire. Later readings are "
            "judged by it. 1000 or more is open.",
        ),
    ] = None
    now_ohm: Annotated[
        float | None,
        amount("Ohms now", RESISTANCE, (0, 100000), "The latest reading, taken the same way."),
    ] = None
    ran_zone_id: Annotated[
        str | None, link("Ran", "zone", "The zone that ran as this terminal was energised.")
    ] = None
    ran_also_id: Annotated[
        str | None, link("Ran too", "zone", "A second zone that ran with it.")
    ] = None
    ran_nothing: Annotated[bool | None, tick("Nothing ran", "Energised, and no zone ran.")] = None


class WireTest(Record, table="wire_test"):
    """One test of a terminal: energised, with what ran, or read with the power off (`read_ohm`).

    A test is never changed: the next one of its kind names it in `after`. Tests that no other
    names are the latest; two of them were made by laptops that did not know of each other.
    """

    title: ClassVar[str] = "wire test"
    sheet: ClassVar[Place] = "controller"

    terminal_id: Annotated[str | None, hidden("Terminal", "terminal")] = None
    wire: Annotated[str, hidden("Wire under the terminal, as cable and colour")] = ""
    after: Annotated[str, hidden("Ids of the tests that it follows")] = ""
    ran_zone_id: Annotated[
        str | None, link("Ran", "zone", "The zone that ran as the terminal was energised.")
    ] = None
    ran_also_id: Annotated[
        str | None, link("Ran too", "zone", "A second zone that ran with it.")
    ] = None
    ran_nothing: Annotated[bool | None, tick("Nothing ran", "Energised, and no zone ran.")] = None
    read_ohm: Annotated[
        float | None,
        amount("Ohms", RESISTANCE, (0, 100000), "From the lifted common to this wire."),
    ] = None
