"""The valve boxes and the wire: boxes, valves, cables, conductors and the colours at the box."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import (
    amount,
    choice,
    conductor_colour,
    hidden,
    link,
    pairs,
    tick,
    whole,
    words,
)
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.trade.wire_sizes import GAUGES
from fieldbook.units import LENGTH, PRESSURE, RATIO, RESISTANCE, SHORT_LENGTH

VALVE_KINDS = ("zone", "master")
COIL_KINDS = ("24 V AC", "latching DC")
SPLICE_KINDS = ("filled twist connector", "gel tube", "crimp in sealed sleeve", "open twist")


class ValveBox(Record, table="valve_box"):
    """A box in the ground with valves or splices in it."""

    title: ClassVar[str] = "valve box"
    sheet: ClassVar[Place] = "boxes"

    name: Annotated[str, words("Box", "Such as A, B.", wanted=True)] = ""
    location: Annotated[str, words("Where", "So it can be found under the sod.", wanted=True)] = ""
    on_base: Annotated[
        bool | None,
        tick(
            "On a base",
            "A box set on soil sinks and fills with mud.",
            wanted=True,
            source=COMMON_PRACTICE,
            good="Box on bricks or gravel, clear of the pipes, lid at grade.",
        ),
    ] = None
    lid_at_grade: Annotated[
        bool | None,
        tick(
            "Lid at grade",
            "A lid under the sod is not found again; one above it is mown off.",
            source=COMMON_PRACTICE,
            good="Lid level with the finished grade, closing by itself, nothing resting on it.",
        ),
    ] = None


class Cable(Record, table="cable"):
    """A multi-conductor cable from the controller to one or more boxes."""

    title: ClassVar[str] = "cable"
    sheet: ClassVar[Place] = "boxes"

    name: Annotated[str, words("Cable", "Such as 1, 2.", wanted=True)] = ""
    gauge_awg: Annotated[str | None, choice("Gauge AWG", GAUGES, "Printed on the jacket.")] = None
    common_colour: Annotated[
        str | None,
        conductor_colour(
            "Common at the box",
            "The conductor every valve's other lead is spliced to. White by trade habit.",
            wanted=True,
        ),
    ] = None
    common_waterproof: Annotated[
        bool | None,
        tick("Common splice waterproof", "A wet common stops every zone.", wanted=True),
    ] = None
    cover_in: Annotated[
        float | None,
        amount("Cover", SHORT_LENGTH, (0, 120), "Soil over the wire where it is least."),
    ] = None
    under_driveway: Annotated[
        bool | None, tick("Under a driveway", "It asks for more cover there.", either=True)
    ] = None
    fed_from: Annotated[
        str | None,
        link("Comes from", "valve_box", "The box it begins at; blank is the controller."),
    ] = None
    common_with: Annotated[
        str | None,
        link("Common with", "cable", "The cable whose common its valves use, if not its own."),
    ] = None
    controller_id: Annotated[
        str | None,
        link("Controller", "other_controller", "Where it comes from; blank is the first one."),
    ] = None
    second_controller_id: Annotated[
        str | None,
        link("Serves also", "other_controller", "A second controller with wires in this cable."),
    ] = None
    second_common_colour: Annotated[
        str | None,
        conductor_colour(
            "Second common",
            "The second controller's own common in this cable, at the valves that it runs.",
        ),
    ] = None


class Conductor(Record, table="conductor"):
    """One conductor of a cable, with the colour that was seen."""

    title: ClassVar[str] = "conductor"
    sheet: ClassVar[Place] = "boxes"

    cable_id: Annotated[str, hidden("Cable", "cable")] = ""
    position: Annotated[int | None, whole("Position", 1, 200)] = None
    colour: Annotated[str | None, conductor_colour("Colour")] = None
    kept: Annotated[
        bool | None,
        tick(
            "Kept as spare",
            "A spare pulled back and kept at both ends mends a broken wire without digging.",
            source=COMMON_PRACTICE,
            good="Coiled in the box, ends capped, the same colour left long at the controller.",
        ),
    ] = None


class Splice(Record, table="splice"):
    """Two conductors joined in a box on the way: a cable cut there, or two cables end to end."""

    title: ClassVar[str] = "splice"
    sheet: ClassVar[Place] = "boxes"

    box_id: Annotated[str | None, link("Box", "valve_box", "Where it is.", wanted=True)] = None
    cable_id: Annotated[
        str | None, link("Cable", "cable", "The cable towards the controller.", wanted=True)
    ] = None
    colour: Annotated[
        str | None, conductor_colour("Wire", "Its conductor towards the controller.", wanted=True)
    ] = None
    to_cable_id: Annotated[
        str | None, link("On in cable", "cable", "The cable that goes on.", wanted=True)
    ] = None
    to_colour: Annotated[
        str | None, conductor_colour("On as wire", "The conductor that goes on.", wanted=True)
    ] = None
    waterproof: Annotated[
        bool | None,
        tick(
            "Waterproof",
            "A splice in earth must be listed for direct burial, and in a box.",
            wanted=True,
            source="NEC 110.14(B); UL 486D sealed connectors.",
        ),
    ] = None


class Valve(Record, table="valve"):
    """The valve of a zone, or the master valve (no zone).

    `colour` and `cable_id` are what was seen at the valve box, whatever the controller end says.
    """

    title: ClassVar[str] = "valve"
    sheet: ClassVar[Place] = "boxes"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    kind: Annotated[str, hidden("Kind")] = "zone"
    box_id: Annotated[
        str | None, link("Box", "valve_box", "Which box it sits in.", wanted=True)
    ] = None
    cable_id: Annotated[str | None, link("Cable", "cable", "Blank is the job's only cable.")] = None
    colour: Annotated[
        str | None,
        conductor_colour(
            "Wire", "The conductor spliced to this valve's lead, seen at the box.", wanted=True
        ),
    ] = None
    splice_waterproof: Annotated[
        bool | None,
        tick(
            "Splice waterproof",
            "A splice in earth must be listed for direct burial.",
            wanted=True,
            source="NEC 110.14(B); UL 486D sealed connectors.",
            good="Strip about 1/2 in, no bare copper showing, connector filled and closed.",
        ),
    ] = None
    splice_kind: Annotated[
        str | None,
        choice("Splice kind", SPLICE_KINDS, "What closes the joint.", source="UL 486D."),
    ] = None
    stripped: Annotated[
        bool | None,
        tick(
            "Stripped 1/2 in",
            "Too short pulls out, too long stands bare. The connector's sheet decides.",
            source=COMMON_PRACTICE,
            good="1/2 to 5/8 in of both wires, twisted clockwise, one connector a joint.",
        ),
    ] = None
    no_bare_copper: Annotated[
        bool | None,
        tick(
            "No bare copper",
            "Copper outside the connector corrodes within a season.",
            source=COMMON_PRACTICE,
            good="Insulation goes into the connector all around.",
        ),
    ] = None
    slack_loop: Annotated[
        bool | None,
        tick(
            "Slack loop",
            "So that a splice can be lifted out of the box and remade.",
            source=COMMON_PRACTICE,
            good="24 to 36 in of wire coiled in the box.",
        ),
    ] = None
    wire_ft: Annotated[
        float | None,
        amount(
            "Wire length",
            LENGTH,
            (0, 20000),
            "One way, controller to valve, as laid: trench, risers and box loops.",
        ),
    ] = None
    coil_kind: Annotated[
        str | None,
        choice(
            "Coil kind",
            COIL_KINDS,
            "A latching coil of a battery controller reads a few ohms; blank is 24 V AC.",
        ),
    ] = None
    coil_ohm: Annotated[
        float | None,
        amount("Coil", RESISTANCE, (0, 100000), "Read on day 1: later readings are judged by it."),
    ] = None
    loss_psi: Annotated[
        float | None, amount("Loss", PRESSURE, (0, 60), "At the zone's flow, from its own curve.")
    ] = None
    cv: Annotated[
        float | None,
        amount("Cv", RATIO, (0.01, 1000), "Flow in gpm that loses 1 psi, if published."),
    ] = None
    regulator_psi: Annotated[
        float | None,
        amount("Regulator", PRESSURE, (1, 150), "What a regulator at the valve is set to."),
    ] = None
    filter_curve: Annotated[
        str, pairs("Filter curve", "Flow and loss in pairs of a filter at the valve.")
    ] = ""
    main_run: Annotated[
        int | None,
        whole("Main run", 1, 2000, "The mainline run that ends here; blank is the last one."),
    ] = None
    make: Annotated[str, words("Make", "As on its label.")] = ""
    model: Annotated[str, words("Model", "As on its label, so that a part fits.")] = ""
