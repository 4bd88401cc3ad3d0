"""Where the fixed points are: from what a crew tapes along a wall and out from it.

The crew stands before a wall. Its left corner is the first fixed point; every other corner is so
far along the wall to the right, and so far out from it, towards the crew. Older records hold a
point's distance east and north of the first instead; both may stand in one record.

The plan's axes are x and y in ft: east and north where a record has them, else along the wall, and
away from the crew, so that out from the wall is down.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from fieldbook.checks.common.naming import quantity
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.ties import FixedPoint
from fieldbook.units import LENGTH


class Spot(NamedTuple):
    """A point on the plan's axes, in ft."""

    x_ft: float
    y_ft: float


def by_compass(job: LoadedJob) -> bool:
    """Whether the plan's axes are east and north: a point of an older record is so placed."""
    return any(
        (amount(point, "east_ft") or 0.0, amount(point, "north_ft") or 0.0) != (0.0, 0.0)
        for point in job.fixed_points
    )


def spot_of(job: LoadedJob, point: FixedPoint | None) -> Spot | None:
    """Where a fixed point is; None while too little is entered."""
    if point is None:
        return None
    along, out = amount(point, "along_ft"), amount(point, "out_ft")
    if along is None:
        return _compass(point)
    corner, wall = wall_of(job)
    # A quarter turn to the right of the wall's own direction leads out of it.
    x, y = wall
    return Spot(
        corner.x_ft + along * x + (out or 0.0) * y, corner.y_ft + along * y - (out or 0.0) * x
    )


def spot_words(job: LoadedJob, x_ft: float, y_ft: float) -> str:
    """A place on the plan as a crew tapes it: along and out, or east and north."""
    if by_compass(job):
        return f"{_length(job, x_ft)} E, {_length(job, y_ft)} N"
    out = "behind it" if round(y_ft, 1) > 0.0 else "out"
    return f"{_length(job, x_ft)} along, {_length(job, abs(y_ft))} {out}"


def _length(job: LoadedJob, feet: float) -> str:
    # Adding 0.0 makes a zero of either sign read the same.
    return quantity(job, round(feet, 1) + 0.0, LENGTH)


def _compass(point: FixedPoint) -> Spot | None:
    east, north = amount(point, "east_ft"), amount(point, "north_ft")
    return Spot(east, north) if east is not None and north is not None else None


def wall_of(job: LoadedJob) -> tuple[Spot, tuple[float, float]]:
    """The wall's left corner, and its direction as a vector of length 1.

    Where an older record places points by east and north, the wall goes from the one at the origin,
    else from the first, to the next.
    """
    origin = Spot(0.0, 0.0)
    placed = [spot for point in job.fixed_points if (spot := _compass(point)) is not None]
    corner = origin if origin in placed else next(iter(placed), origin)
    end = next((spot for spot in placed if spot != corner), None)
    if end is None:
        return corner, (1.0, 0.0)
    dx, dy = end.x_ft - corner.x_ft, end.y_ft - corner.y_ft
    length = math.hypot(dx, dy)
    return corner, (dx / length, dy / length)
