"""The as-built as GeoJSON (RFC 7946), once two fixed points have coordinates.

The plan's axes are in ft. Two points with latitude and longitude turn and move them onto the earth;
their scale is not used, since tapes are better than a phone's position, but is held against it.
Distances on a property are so short that the earth is flat there: one degree of latitude is
111,132.954 - 559.822 cos 2p + 1.175 cos 4p m at latitude p, one of longitude 111,412.84 cos p -
93.5 cos 3p m (from memory; both are series of the WGS 84 ellipsoid).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.checks.ground.fixed_points import spot_of
from fieldbook.checks.ground.positions import TieError, position_of
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob

_M_PER_FT = 0.3048
_FARTHEST_OFF = 0.1
"""How much two coordinates may disagree with the tape between them, as a part of it."""
_CLOSEST_FT = 10.0
"""Points nearer to each other than this turn the plan too inexactly."""

Feature = dict[str, object]


class CoordinatesError(ValueError):
    """One sentence that says why the plan can't be put on the earth."""


@dataclass(frozen=True)
class _Earth:
    """Turns ft on the plan's axes into longitude and latitude."""

    origin: tuple[float, float]
    lon_deg: float
    lat_deg: float
    turn: float

    def at(self, x_ft: float, y_ft: float) -> list[float]:
        """Longitude and latitude in degrees, to 8 decimals (about 1 mm)."""
        x, y = (x_ft - self.origin[0]) * _M_PER_FT, (y_ft - self.origin[1]) * _M_PER_FT
        east = x * math.cos(self.turn) - y * math.sin(self.turn)
        north = x * math.sin(self.turn) + y * math.cos(self.turn)
        east_m, north_m = metres_of_a_degree(self.lat_deg)
        return [round(self.lon_deg + east / east_m, 8), round(self.lat_deg + north / north_m, 8)]


def metres_of_a_degree(lat_deg: float) -> tuple[float, float]:
    """How many metres one degree of longitude and one of latitude are at a latitude."""
    p = math.radians(lat_deg)
    east = 111_412.84 * math.cos(p) - 93.5 * math.cos(3 * p)
    return east, 111_132.954 - 559.822 * math.cos(2 * p) + 1.175 * math.cos(4 * p)


def as_geojson(job: LoadedJob) -> dict[str, object]:
    """The fixed points and the tied things. Raises CoordinatesError."""
    earth = _earth_of(job)
    features = [*_points(job, earth), *_things(job, earth)]
    return {"type": "FeatureCollection", "features": features}


def _earth_of(job: LoadedJob) -> _Earth:
    placed = [
        (spot, lon, lat)
        for point in job.fixed_points
        if (spot := spot_of(job, point)) is not None
        and (lat := amount(point, "lat_deg")) is not None
        and (lon := amount(point, "lon_deg")) is not None
    ]
    if len(placed) < 2:
        raise CoordinatesError(
            "Two fixed points with latitude and longitude put the plan on the earth: enter them at "
            "the valve boxes."
        )
    (first, lon_1, lat_1), (second, lon_2, lat_2) = placed[0], placed[1]
    east_m, north_m = metres_of_a_degree(lat_1)
    east, north = (lon_2 - lon_1) * east_m, (lat_2 - lat_1) * north_m
    x, y = second.x_ft - first.x_ft, second.y_ft - first.y_ft
    taped, seen = math.hypot(x, y), math.hypot(east, north) / _M_PER_FT
    if taped < _CLOSEST_FT:
        raise CoordinatesError("The two fixed points with coordinates are nearer than 10 ft.")
    if abs(seen - taped) > _FARTHEST_OFF * taped:
        raise CoordinatesError(
            f"The coordinates of the first two fixed points are {seen:.0f} ft apart, but the tape "
            f"says {taped:.0f} ft: read one of them again."
        )
    return _Earth(first, lon_1, lat_1, math.atan2(north, east) - math.atan2(y, x))


def _points(job: LoadedJob, earth: _Earth) -> Iterator[Feature]:
    for point in job.fixed_points:
        spot = spot_of(job, point)
        if spot is not None:
            yield _feature(earth.at(*spot), {"kind": "fixed point", "name": point.name})


def _things(job: LoadedJob, earth: _Earth) -> Iterator[Feature]:
    for tie in job.ties:
        try:
            found = position_of(job, tie)
        except TieError:
            continue
        if found is not None:
            properties = {
                "kind": tie.thing or "thing",
                "name": tie.name,
                "error_ft": round(found.error_ft, 2),
                "depth_in": amount(tie, "depth_in"),
            }
            yield _feature(earth.at(found.east_ft, found.north_ft), properties)


def _feature(at: list[float], properties: dict[str, object]) -> Feature:
    return {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": at},
        "properties": properties,
    }
