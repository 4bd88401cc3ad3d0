"""The zones, and the sprinkler heads at the ends of their runs."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, hidden, link, tick, whole, words
from fieldbook.units import ANGLE, FLOW, HOURS, LENGTH, PRESSURE, SHORT_LENGTH

HEAD_KINDS = ("spray", "rotary stream", "rotor", "bubbler", "drip")

SOILS = ("sand", "loamy sand", "sandy loam", "loam", "silt loam", "clay loam", "clay")
SUNS = ("full sun", "part shade", "shade")


class Zone(Record, table="zone"):
    """A zone: what one valve waters."""

    title: ClassVar[str] = "zone"
    sheet: ClassVar[Place] = "ground"

    number: Annotated[int | None, whole("Zone", 1, 200, wanted=True)] = None
    name: Annotated[str, words("Name", "Such as “front lawn, street side”.", wanted=True)] = ""
    waters: Annotated[str, words("Waters", "Lawn, beds, trees: for the schedule.")] = ""
    soil: Annotated[
        str | None,
        choice("Soil", SOILS, "How fast it takes water.", source="USDA names of soil textures."),
    ] = None
    slope_pct: Annotated[
        int | None, whole("Slope, %", 0, 200, "Rise in 100 of length: water runs off a slope.")
    ] = None
    sun: Annotated[
        str | None, choice("Sun", SUNS, "In the growing season; shade needs less water.")
    ] = None
    plants: Annotated[str, words("Plants", "What grows there, as far as it is known.")] = ""
    head_kind: Annotated[
        str | None, choice("Head type", HEAD_KINDS, "One kind a zone.", wanted=True)
    ] = None
    design_flow_gpm: Annotated[
        float | None,
        amount(
            "Design flow",
            FLOW,
            (0.01, 1000),
            "Blank adds up its heads' nozzles.",
        ),
    ] = None
    needed_psi: Annotated[
        float | None,
        amount("Needed at head", PRESSURE, (1, 200), "Blank takes the heads' rated pressure."),
    ] = None
    pressure_h: Annotated[
        float | None,
        amount("Hours a day", HOURS, (0, 24), "How long it is under pressure in 24 hours."),
    ] = None
    no_higher: Annotated[
        bool | None,
        tick(
            "No higher",
            "No sprinkler of this zone and no pipe to it is higher than the point of connection.",
            either=True,
        ),
    ] = None
    runs_with: Annotated[
        str | None,
        link("Runs with", "zone", "A zone that runs at the same time; blank runs alone."),
    ] = None
    backflow_id: Annotated[
        str | None,
        link("Backflow", "backflow_assembly", "Blank is the job's only assembly."),
    ] = None


class Head(Record, table="head"):
    """The sprinkler head at the end of one lateral run."""

    title: ClassVar[str] = "head"
    sheet: ClassVar[Place] = "ground"

    run_id: Annotated[str, hidden("Run", "pipe_run")] = ""
    kind: Annotated[
        str | None, choice("Head type", HEAD_KINDS, "What stands at the end of the run.")
    ] = None
    nozzle_gpm: Annotated[
        float | None,
        amount("Nozzle flow", FLOW, (0.001, 200), "At its rated pressure.", wanted=True),
    ] = None
    rated_psi: Annotated[
        float | None,
        amount(
            "Rated at", PRESSURE, (1, 150), "The pressure the nozzle flow holds at.", wanted=True
        ),
    ] = None
    regulated_psi: Annotated[
        float | None,
        amount("Regulated", PRESSURE, (1, 150), "What its body regulates to; blank is none."),
    ] = None
    min_psi: Annotated[float | None, amount("Minimum", PRESSURE, (0, 150), "Published range.")] = (
        None
    )
    max_psi: Annotated[float | None, amount("Maximum", PRESSURE, (1, 200), "Published range.")] = (
        None
    )
    arc_deg: Annotated[float | None, amount("Arc", ANGLE, (1, 360))] = None
    radius_ft: Annotated[float | None, amount("Radius", LENGTH, (0.1, 200))] = None
    pop_up_in: Annotated[
        float | None,
        amount(
            "Pops up",
            SHORT_LENGTH,
            (0, 48),
            "Counts to its height where the local rule measures heads raised.",
        ),
    ] = None
    elevation_ft: Annotated[
        float | None,
        amount(
            "Elevation",
            LENGTH,
            (-2000, 15000),
            "Top of the retracted head above the datum; blank adds up the rises of its runs.",
        ),
    ] = None
    make: Annotated[str, words("Make", "As on its label.")] = ""
    model: Annotated[str, words("Model", "As on its label, so that a part fits.")] = ""
