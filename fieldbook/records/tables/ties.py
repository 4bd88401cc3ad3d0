"""Where buried things are: named fixed points, and the distances that tie a thing to them."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, link, words
from fieldbook.units import COORDINATE, LENGTH, SHORT_LENGTH

TIED_THINGS = (
    "valve box",
    "splice",
    "line end",
    "sleeve",
    "drain",
    "backflow",
    "shut-off",
    "pump",
    "filter",
    "quick coupler",
    "ground rod",
    "other",
)


COMPASS = (
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
)
"""The eight directions in the order of a compass, 45 degrees apart."""


class FixedPoint(Record, table="fixed_point"):
    """A corner of the house, a walk or a curb that will stay, as trees, fences and beds may not."""

    title: ClassVar[str] = "fixed point"
    sheet: ClassVar[Place] = "boxes"

    name: Annotated[
        str, words("Point", "Such as “garage, left front corner”, at grade.", wanted=True)
    ] = ""
    along_ft: Annotated[
        float | None,
        amount(
            "Along the wall",
            LENGTH,
            (-5000, 5000),
            "Stand before the wall: taped from its left corner to the right. That corner is 0.",
            wanted=True,
        ),
    ] = None
    out_ft: Annotated[
        float | None,
        amount(
            "Out from it",
            LENGTH,
            (-5000, 5000),
            "Square to the wall, towards you; blank is on the wall, minus is behind it.",
        ),
    ] = None
    faces: Annotated[
        str | None,
        choice(
            "Wall faces",
            COMPASS,
            "Back to the wall, where a phone's compass points: it gives the plan its north.",
        ),
    ] = None
    east_ft: Annotated[
        float | None,
        amount("East", LENGTH, (-5000, 5000), "From the first point, which is 0: an older way."),
    ] = None
    north_ft: Annotated[
        float | None,
        amount("North", LENGTH, (-5000, 5000), "From the first point, which is 0: an older way."),
    ] = None
    lat_deg: Annotated[
        float | None,
        amount(
            "Latitude",
            COORDINATE,
            (-90, 90),
            "Degrees, south is minus. Two points with both put the plan on a map.",
        ),
    ] = None
    lon_deg: Annotated[
        float | None, amount("Longitude", COORDINATE, (-180, 180), "Degrees, west is minus.")
    ] = None


class Tie(Record, table="tie"):
    """A buried thing and its tape distances to two or three fixed points."""

    title: ClassVar[str] = "tied thing"
    sheet: ClassVar[Place] = "boxes"

    thing: Annotated[str | None, choice("What", TIED_THINGS, wanted=True)] = None
    name: Annotated[str, words("Name", "Such as box A.", wanted=True)] = ""
    box_id: Annotated[
        str | None, link("Box", "valve_box", "The valve box it is, if it is one.")
    ] = None
    run_id: Annotated[
        str | None,
        link("Run", "pipe_run", "The pipe run that ends here: the plan draws it up to this point."),
    ] = None
    point_1_id: Annotated[str | None, link("From", "fixed_point", wanted=True)] = None
    tape_1_ft: Annotated[
        float | None,
        amount("Tape 1", LENGTH, (0, 2000), "Level, to the middle of the lid.", wanted=True),
    ] = None
    point_2_id: Annotated[str | None, link("And from", "fixed_point", wanted=True)] = None
    tape_2_ft: Annotated[float | None, amount("Tape 2", LENGTH, (0, 2000), wanted=True)] = None
    point_3_id: Annotated[str | None, link("And from", "fixed_point")] = None
    tape_3_ft: Annotated[float | None, amount("Tape 3", LENGTH, (0, 2000))] = None
    side: Annotated[
        str | None,
        choice(
            "Side",
            ("left", "right"),
            "Stand at the first point and look at the second: two tapes fit on either side.",
        ),
    ] = None
    depth_in: Annotated[
        float | None, amount("Depth", SHORT_LENGTH, (0, 300), "To the lid or the top of the thing.")
    ] = None
