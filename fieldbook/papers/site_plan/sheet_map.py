"""The map on the sheet of the plan: wall, pipes, tapes and marks to a round scale, and labels."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.checks.common.naming import quantity, system_of
from fieldbook.checks.ground.fixed_points import Spot
from fieldbook.papers.site_plan.label_places import Box, LabelPlaces, Point, along, around
from fieldbook.papers.site_plan.plan import Plan
from fieldbook.papers.site_plan.sheet_shapes import (
    GRAY,
    INK,
    LEADING,
    NORMAL,
    REACH,
    SMALL,
    draw_label,
    draw_line,
    draw_shape,
    draw_text,
)
from fieldbook.papers.text_widths import text_width
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import LENGTH

MM = 4.0
"""Units of the drawing in a millimetre."""
MAP = Box(8, 8, 748, 752)
_PAD = 74.0
"""Free room around the marks on the map, for their labels."""
_FEET_AN_INCH = (2, 4, 5, 8, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400, 500)
_RATIOS = (25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 5000)
_MM_IN_FT = 304.8
_HOUSE = "house"


@dataclass(frozen=True)
class Scale:
    """How ft become units of the drawing, and the scale in words."""

    units_in_ft: float
    words: str
    low: Spot
    high: Spot

    def at(self, spot: Spot) -> Point:
        """A spot on the sheet: the plan stands in the middle of the map."""
        middle_x, middle_y = (
            (self.low.x_ft + self.high.x_ft) / 2,
            (self.low.y_ft + self.high.y_ft) / 2,
        )
        x = (MAP.left + MAP.right) / 2 + (spot.x_ft - middle_x) * self.units_in_ft
        y = (MAP.top + MAP.bottom) / 2 - (spot.y_ft - middle_y) * self.units_in_ft
        return x, y


def scale_of(job: LoadedJob, plan: Plan) -> Scale:
    """The largest round scale at which the plan fits its part of the sheet."""
    low, high = plan.frame
    room_x, room_y = MAP.right - MAP.left - 2 * _PAD, MAP.bottom - MAP.top - 2 * _PAD
    most = min(room_x / max(high.x_ft - low.x_ft, 1.0), room_y / max(high.y_ft - low.y_ft, 1.0))
    if system_of(job) == "metric":
        scales = [(_MM_IN_FT * MM / ratio, f"1 : {ratio}") for ratio in _RATIOS]
    else:
        scales = [(25.4 * MM / feet, f"1 in = {feet} ft") for feet in _FEET_AN_INCH]
    fitting = [scale for scale in scales if scale[0] <= most]
    units, words = fitting[0] if fitting else (most, "see the bar")
    return Scale(units, words, low, high)


def map_shapes(job: LoadedJob, plan: Plan, scale: Scale) -> Iterator[str]:
    """The wall, pipes and tapes, then the marks, then the labels where they find room."""
    lines = [(scale.at(tape.start), scale.at(tape.end)) for tape in plan.drawn_tapes]
    pipes = [(scale.at(pipe.start), scale.at(pipe.end)) for pipe in plan.pipes]
    wall = [(scale.at(plan.wall[0]), scale.at(plan.wall[1]))] if plan.wall is not None else []
    places = LabelPlaces(MAP, [*lines, *pipes, *wall])
    yield from (shape for ends in wall for shape in _wall(*ends, places))
    for pipe, (start, end) in zip(plan.pipes, pipes, strict=True):
        yield draw_line(start, end, f'stroke-width="{1.6 if pipe.zone else 3:g}"')
    for start, end in lines:
        yield draw_line(start, end, f'stroke="{GRAY}" stroke-width="0.8" stroke-dasharray="7 3"')
    yield from _scale_bar(job, scale, places)
    for mark in plan.marks:
        x, y = scale.at(mark.at)
        places.take(Box(x - REACH, y - REACH, x + REACH, y + REACH))
    for start, end in wall:
        if start[1] == end[1]:
            places.take(Box(start[0], start[1] - 3, end[0], start[1] + 3))
    yield from _mark_labels(plan, scale, places)
    yield from _line_labels(plan, scale, places)
    for mark in plan.marks:
        yield draw_shape(mark.kind, scale.at(mark.at))


def _mark_labels(plan: Plan, scale: Scale, places: LabelPlaces) -> Iterator[str]:
    """The names of marks: boxes first, since they are what is looked for."""
    named = [mark for mark in plan.marks if mark.kind not in ("head", "end")]
    for mark in sorted(named, key=lambda mark: mark.kind != "box"):
        size = NORMAL if mark.kind == "box" else SMALL
        numbered = [f"{mark.number} {mark.name}", str(mark.number)]
        for text in numbered if mark.kind == "corner" else [mark.name]:
            box = _room_around(places, scale.at(mark.at), text, size)
            if box is not None:
                yield from draw_label(box, text, size, bold=mark.kind == "box")
                break


def _room_around(places: LabelPlaces, at: Point, text: str, size: float) -> Box | None:
    reach, room = (REACH + 3, REACH + 1), (text_width(text, size), size * LEADING)
    rings = around(at, reach, room)
    return next(filter(None, (places.place(ring) for ring in rings)), None)


def _line_labels(plan: Plan, scale: Scale, places: LabelPlaces) -> Iterator[str]:
    """The lengths of tapes, and on the first pipe of each zone its name and size."""
    first = {pipe.zone: pipe for pipe in reversed(plan.pipes)}
    labels = [(tape.start, tape.end, tape.words) for tape in plan.drawn_tapes]
    labels += [
        (pipe.start, pipe.end, ", ".join(filter(None, (zone or "mainline", pipe.words))))
        for zone, pipe in first.items()
    ]
    for start, end, text in labels:
        size = (text_width(text, SMALL) + 4, SMALL * LEADING)
        box = places.place(along((scale.at(start), scale.at(end)), size))
        if box is not None:
            yield from draw_label(box, text, SMALL, bold=False)


def _wall(start: Point, end: Point, places: LabelPlaces) -> Iterator[str]:
    """The wall as a heavy line, hatched and named on the side of the house."""
    yield draw_line(start, end, 'stroke-width="4"')
    (x, y), (to_x, to_y) = start, end
    length = math.hypot(to_x - x, to_y - y) or 1.0
    ux, uy = (to_x - x) / length, (to_y - y) / length
    # Turned left of the way along the wall, in a picture whose y grows downwards.
    house_x, house_y = uy, -ux
    for step in range(math.floor(length / 8) + 1):
        foot = (x + ux * step * 8, y + uy * step * 8)
        tip = (foot[0] + (house_x + ux * 0.6) * 10, foot[1] + (house_y + uy * 0.6) * 10)
        yield draw_line(foot, tip, 'stroke-width="0.8"')
    wide, high = text_width(_HOUSE, SMALL), SMALL * LEADING
    middle_x, middle_y = (x + to_x) / 2 + house_x * 24, (y + to_y) / 2 + house_y * 20
    wanted = Box(middle_x - wide / 2, middle_y - high / 2, middle_x + wide / 2, middle_y + high / 2)
    if length > wide and places.place([wanted]) is not None:
        yield from draw_label(wanted, _HOUSE, SMALL, bold=False)


def _scale_bar(job: LoadedJob, scale: Scale, places: LabelPlaces) -> Iterator[str]:
    """A bar of four parts, black and white, with its round length."""
    unit = 1 / 0.3048 if system_of(job) == "metric" else 1.0
    lengths = [step * 10**power * unit for power in range(4) for step in (1, 2, 4)]
    fitting = [feet for feet in lengths if feet * scale.units_in_ft <= 200]
    feet = max(fitting, default=lengths[0])
    part, left, top = feet * scale.units_in_ft / 4, MAP.left + 16, MAP.bottom - 22
    for number in range(4):
        fill = INK if number % 2 == 0 else "#ffffff"
        yield (
            f'<rect x="{left + number * part:.1f}" y="{top:.1f}" width="{part:.1f}" height="6" '
            f'fill="{fill}" stroke="{INK}" stroke-width="0.8"/>'
        )
    words = quantity(job, feet, LENGTH)
    yield from draw_text(left, top - 4, "0", SMALL)
    yield from draw_text(left + 4 * part - text_width("0", SMALL), top - 4, words, SMALL)
    right = left + 4 * part + text_width(words, SMALL)
    places.take(Box(left - 4, top - 18, right + 4, MAP.bottom))
