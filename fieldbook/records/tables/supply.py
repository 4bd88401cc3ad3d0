"""The water at the street: static pressure, meter, service line, flow tests."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, tick, whole, words
from fieldbook.trade.meters import METERS, SAFE_FLOW_SOURCE
from fieldbook.trade.pipes import PIPE_CLASSES, PIPE_SIZES
from fieldbook.trade.rules.design_limits import FLOW_TEST_DROP
from fieldbook.units import FLOW, LENGTH, PRESSURE, SECONDS, VOLUME

FRICTION_LAWS = ("hazen-williams", "darcy-weisbach")
PIPE_BORES = ("average", "minimum wall")
SOURCES = ("street meter", "well", "pump", "tank")
HAZARDS = ("chemicals", "septic", "second_source", "pump")
"""The columns of the hazards that decide which backflow assemblies are allowed."""
PUMP_SIDES = ("before the assembly", "after the assembly")
ISOLATION_KINDS = ("ball", "gate", "globe", "butterfly", "curb stop", "stop and waste")
FOUND_AS = ("open", "shut", "half shut")


class Supply(Record, table="supply"):
    """The water supply of the property, measured at the street."""

    title: ClassVar[str] = "supply"
    sheet: ClassVar[Place] = "street"
    once: ClassVar[bool] = True

    static_psi: Annotated[
        float | None,
        amount(
            "Static pressure",
            PRESSURE,
            (0, 300),
            "Gauge on a hose tap, everything off. Read it at several hours and keep the lowest.",
            wanted=True,
        ),
    ] = None
    behind_regulator: Annotated[
        bool | None,
        tick(
            "Gauge behind a regulator",
            "Was the gauge behind the house regulator? Then it does not show the street.",
            wanted=True,
            either=True,
        ),
    ] = None
    source: Annotated[
        str | None,
        choice("Source", SOURCES, "Where water comes from; blank is the street."),
    ] = None
    source_gpm: Annotated[
        float | None,
        amount("Source gives", FLOW, (0.1, 2000), "What the well, pump or tank gives without end."),
    ] = None
    static_where: Annotated[str, words("Read where, when", "Which tap, and the hour.")] = ""
    meter_size: Annotated[
        str | None,
        choice(
            "Meter size",
            tuple(METERS),
            "Stamped on the meter's body. Its safe flow limits a zone.",
            wanted=True,
            source=f"Safe maximum flow: {SAFE_FLOW_SOURCE}",
        ),
    ] = None
    meter_number: Annotated[
        str, words("Meter number", "As on its register: the water bill and the utility name it.")
    ] = ""
    meter_safe_gpm: Annotated[
        float | None,
        amount("Meter safe flow", FLOW, (1, 500), "The utility's own figure, where it differs."),
    ] = None
    service_class: Annotated[
        str | None,
        choice("Service line", tuple(PIPE_CLASSES), "From the meter to the house.", wanted=True),
    ] = None
    service_size: Annotated[
        str | None, choice("Service size", PIPE_SIZES, "Nominal size.", wanted=True)
    ] = None
    service_length_ft: Annotated[
        float | None,
        amount(
            "Service length", LENGTH, (0, 2000), "Meter to the point of connection.", wanted=True
        ),
    ] = None
    elevation_ft: Annotated[
        float | None,
        amount(
            "Connection elevation",
            LENGTH,
            (-2000, 15000),
            "Of the point of connection. Every height on this job is above one datum; "
            "the ground here counts as 0 when left blank.",
        ),
    ] = None
    chemicals: Annotated[
        bool | None,
        tick("Chemicals", "Is anything injected, or provided for?", either=True),
    ] = None
    septic: Annotated[
        bool | None, tick("Septic field", "Is there one on the property?", either=True)
    ] = None
    second_source: Annotated[
        bool | None, tick("Second source", "A well, pond or cistern besides?", either=True)
    ] = None
    pump: Annotated[bool | None, tick("Pump", "Does a pump raise the pressure?", either=True)] = (
        None
    )
    pump_side: Annotated[
        str | None,
        choice(
            "Pump stands",
            PUMP_SIDES,
            "After the assembly a pump can push water back through it.",
            source="Uniform Plumbing Code 2018, 603.5.6.",
        ),
    ] = None
    friction_law: Annotated[
        str | None,
        choice(
            "Friction law",
            FRICTION_LAWS,
            "Blank is Hazen-Williams, which is 6 to 17 % low in 1/2 to 1 in pipe.",
        ),
    ] = None
    water_deg_f: Annotated[
        int | None,
        whole("Water, deg F", 33, 120, "For Darcy-Weisbach; blank is 60. Cold water loses more."),
    ] = None
    pipe_bores: Annotated[
        str | None,
        choice(
            "PVC bores",
            PIPE_BORES,
            "Blank is average: PVC as made, which loses 5 to 18 % more than at its minimum wall, "
            "as in charts.",
            source="ASTM D1785: wall tolerance +0.020 in, or +12 % where that is more.",
        ),
    ] = None


class IsolationValve(Record, table="isolation_valve"):
    """A valve that shuts off a part of the pipe, and how the crew found it."""

    title: ClassVar[str] = "isolation valve"
    sheet: ClassVar[Place] = "street"

    location: Annotated[
        str, words("Where", "So that it is found when water has to be shut off.", wanted=True)
    ] = ""
    shuts: Annotated[str, words("Shuts", "What is without water when it is shut.", wanted=True)] = (
        ""
    )
    kind: Annotated[
        str | None, choice("Kind", ISOLATION_KINDS, "How it is turned, and how far.")
    ] = None
    found: Annotated[
        str | None,
        choice("Found", FOUND_AS, "A valve found half shut takes pressure.", wanted=True),
    ] = None


class FlowTestPoint(Record, table="flow_test_point"):
    """One reading of a flow test: a flow, and the pressure left while it ran."""

    title: ClassVar[str] = "flow test"
    sheet: ClassVar[Place] = "street"

    residual_psi: Annotated[
        float | None,
        amount(
            "Residual",
            PRESSURE,
            (0, 300),
            "Gauge while the water runs. A drop under 10 % of static tells too little.",
            wanted=True,
            source=FLOW_TEST_DROP.source,
        ),
    ] = None
    flow_gpm: Annotated[
        float | None, amount("Flow", FLOW, (0.1, 1000), "Or a bucket and its time.")
    ] = None
    bucket_gal: Annotated[float | None, amount("Bucket", VOLUME, (0.1, 100), "What it holds.")] = (
        None
    )
    bucket_s: Annotated[
        float | None, amount("Filled in", SECONDS, (0.5, 3600), "gpm = 60 x gallons / seconds.")
    ] = None
