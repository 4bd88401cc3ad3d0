"""The valve boxes and the wire: boxes, valves, cables, conductors and the colours at the box."""

from __future__ import annotations

from typing import Annotated, ClassVar

from sqlmodel import Field

from fieldbook.records.base import Record
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
from fieldbook.units import PRESSURE, RATIO, RESISTANCE

GAUGES = ("10", "12", "14", "16", "18", "20", "22")
VALVE_KINDS = ("zone", "master")


class ValveBox(Record, table=True):
    """A box in the ground with valves or splices in it."""

    __tablename__ = "valve_box"
    title: ClassVar[str] = "valve box"

    name: Annotated[str, words("Box", "Such as A, B.", wanted=True)] = ""
    location: Annotated[str, words("Where", "So it can be found under the sod.", wanted=True)] = ""
    on_base: Annotated[
        bool | None,
        tick(
            "On a base",
            "A box set on soil sinks and fills with mud.",
            wanted=True,
            source="Common practice, no source.",
            good="Box on bricks or gravel, clear of the pipes, lid at grade.",
        ),
    ] = None


class Cable(Record, table=True):
    """A multi-conductor cable from the controller to one or more boxes."""

    __tablename__ = "cable"
    title: ClassVar[str] = "cable"

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


class Conductor(Record, table=True):
    """One conductor of a cable, by the colour it was seen to have."""

    __tablename__ = "conductor"
    title: ClassVar[str] = "conductor"

    cable_id: Annotated[str, hidden("Cable", "cable")] = ""
    position: Annotated[int | None, whole("Position", 1, 200)] = None
    colour: Annotated[str | None, conductor_colour("Colour")] = None
    kept: Annotated[
        bool | None,
        tick(
            "Kept as spare",
            "A spare pulled back and kept at both ends mends a broken wire without digging.",
            source="Common practice, no source.",
            good="Coiled in the box, ends capped, the same colour left long at the controller.",
        ),
    ] = None


class Valve(Record, table=True):
    """A valve: the one of a zone, or the master valve (no zone).

    `colour` and `cable_id` are what was seen at the valve box, whatever the controller end says.
    """

    __tablename__ = "valve"
    title: ClassVar[str] = "valve"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = Field(default=None)
    kind: Annotated[str, hidden("Kind")] = "zone"
    box_id: Annotated[
        str | None, link("Box", "valve_box", "Which box it sits in.", wanted=True)
    ] = Field(default=None)
    cable_id: Annotated[str | None, link("Cable", "cable", "Blank is the job's only cable.")] = (
        Field(default=None)
    )
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
    coil_ohm: Annotated[
        float | None,
        amount("Coil", RESISTANCE, 0, 100000, "Read on day 1: later readings are judged by it."),
    ] = None
    loss_psi: Annotated[
        float | None, amount("Loss", PRESSURE, 0, 60, "At the zone's flow, from its own curve.")
    ] = None
    cv: Annotated[
        float | None, amount("Cv", RATIO, 0.01, 1000, "Flow in gpm that loses 1 psi, if published.")
    ] = None
    regulator_psi: Annotated[
        float | None,
        amount("Regulator", PRESSURE, 1, 150, "What a regulator at the valve is set to."),
    ] = None
    filter_curve: Annotated[
        str, pairs("Filter curve", "Flow and loss in pairs of a filter at the valve.")
    ] = ""
    main_run: Annotated[
        int | None,
        whole("Main run", 1, 2000, "The mainline run that ends here; blank is the last one."),
    ] = None
