"""Two-wire systems: the pair of wires past all boxes, and the decoders that are joined to it.

Each decoder has an address, and opens its valve when the controller calls that address. The address
is recorded at both ends: on the decoder in its box (`Decoder`), and at the controller (`Terminal`).
"""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, conductor_colour, link, tick, whole, words
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.trade.wire_sizes import GAUGES, HIGHEST_ADDRESS
from fieldbook.units import CURRENT, LENGTH, RESISTANCE, VOLTAGE


class TwoWirePath(Record, table="two_wire_path"):
    """The pair of wires from a controller past its decoders, with all branches."""

    title: ClassVar[str] = "two-wire path"
    sheet: ClassVar[Place] = "boxes"

    name: Annotated[str, words("Path", "Such as 1, 2.", wanted=True)] = ""
    controller_id: Annotated[
        str | None, link("Controller", "other_controller", "Blank is the first one.")
    ] = None
    colour_1: Annotated[
        str | None, conductor_colour("First wire", "One wire of the pair.", wanted=True)
    ] = None
    colour_2: Annotated[
        str | None, conductor_colour("Second wire", "The other wire of the pair.", wanted=True)
    ] = None
    gauge_awg: Annotated[str | None, choice("Gauge AWG", GAUGES, "Printed on the jacket.")] = None
    length_ft: Annotated[
        float | None,
        amount("Farthest", LENGTH, (0, 50000), "One way to the farthest decoder, as laid."),
    ] = None
    joins_waterproof: Annotated[
        bool | None,
        tick(
            "Joins waterproof",
            "Power and signal share the pair, so one wet joint can stop every decoder.",
            wanted=True,
            source="NEC 110.14(B); UL 486D sealed connectors.",
        ),
    ] = None
    loop_open: Annotated[
        bool | None,
        tick(
            "Loop left open",
            "A path that closes on itself makes a fault hard to find.",
            source=COMMON_PRACTICE,
            good="Branches end at their last decoder; none comes back to the controller.",
        ),
    ] = None
    surge_grounded: Annotated[
        bool | None,
        tick(
            "Surge grounding",
            "Fitted at the places that the decoders' own sheet names.",
            wanted=True,
            source=COMMON_PRACTICE,
        ),
    ] = None
    ground_rods: Annotated[
        int | None, whole("Rods", 0, 100, "Ground rods at the controller end.")
    ] = None
    ground_ohm: Annotated[
        float | None,
        amount("Ground", RESISTANCE, (0, 100000), "Read at the controller's rod or rods."),
    ] = None
    output_v: Annotated[
        float | None, amount("Path volts", VOLTAGE, (1, 60), "Between the pair at the controller.")
    ] = None
    least_v: Annotated[
        float | None,
        amount("Decoder needs", VOLTAGE, (1, 60), "The fewest volts, from the decoders' sheet."),
    ] = None
    load_a: Annotated[
        float | None,
        amount("Load", CURRENT, (0.001, 10), "Of all decoders and the valves held at once."),
    ] = None


class Decoder(Record, table="decoder"):
    """One output of a decoder, with the valve on it, as it was seen in the box."""

    title: ClassVar[str] = "decoder"
    sheet: ClassVar[Place] = "boxes"

    address: Annotated[
        int | None,
        whole("Address", 1, HIGHEST_ADDRESS, "As marked on the decoder in the box.", wanted=True),
    ] = None
    output: Annotated[
        int | None, whole("Output", 1, 8, "Of a decoder with several; blank is its only one.")
    ] = None
    zone_id: Annotated[
        str | None, link("Zone", "zone", "The zone whose valve is on it.", wanted=True)
    ] = None
    on_master: Annotated[
        bool | None, tick("Master valve", "It opens the master valve and no zone.", either=True)
    ] = None
    box_id: Annotated[
        str | None, link("Box", "valve_box", "Where the decoder lies.", wanted=True)
    ] = None
    path_id: Annotated[
        str | None, link("Path", "two_wire_path", "Blank is the job's only path.")
    ] = None
    like_to_like: Annotated[
        bool | None,
        tick(
            "Like to like",
            "Each lead of the decoder is on the wire of the pair that its sheet names.",
            wanted=True,
            source=COMMON_PRACTICE,
            good="The same lead on the same colour of the pair at every decoder.",
        ),
    ] = None
    joins_waterproof: Annotated[
        bool | None,
        tick(
            "Joins waterproof",
            "The decoder's joints to the pair and to its valve.",
            wanted=True,
            source="NEC 110.14(B); UL 486D sealed connectors.",
        ),
    ] = None
