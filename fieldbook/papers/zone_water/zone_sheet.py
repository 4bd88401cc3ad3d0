"""A zone's water on one sheet: verdict, what governs, then its pictures, for screen and print."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal, get_args

from fieldbook.checks.common.naming import short, zone_name
from fieldbook.checks.water.head_pressures import law_source
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.zone_water.supply_picture import supply_picture
from fieldbook.papers.zone_water.waterfall import waterfall_picture
from fieldbook.papers.zone_water.zone_summary import summary_picture
from fieldbook.papers.zone_water.zone_tree import tree_picture
from fieldbook.records.loaded_job import LoadedJob

PictureName = Literal["supply", "pressure", "tree"]
PICTURES: tuple[PictureName, ...] = get_args(PictureName)
PRINTED_COLUMNS = 92
"""Columns of a sheet for print: at 8 px a column it fills the width of a page."""
_DRAWN: Mapping[PictureName, tuple[str, Callable[[LoadedJob, ZoneStatus, int], Canvas | None]]] = {
    "supply": ("Supply and zone at the point of connection", supply_picture),
    "pressure": ("Pressure from the street to the worst head", waterfall_picture),
    "tree": ("The tree of the zone, from its valve", tree_picture),
}


def zone_pictures(
    job: LoadedJob, status: ZoneStatus, width: int, names: tuple[PictureName, ...] = PICTURES
) -> Canvas:
    """The pictures of a zone under each other, each with its title, at most `width` columns wide.

    A picture whose figures are not known is left out.
    """
    canvas = Canvas()
    for name in names:
        title, draw = _DRAWN[name]
        drawn = draw(job, status, width)
        if drawn is not None:
            canvas.add_below(_heading(title, width))
            canvas.add_below(drawn, gap=0)
    if status.group.solution is not None and canvas.rows:
        law = Canvas()
        law.say_wrapped(0, f"Worked out with {law_source(job)}", width, "faint")
        canvas.add_below(law)
    return canvas


def zone_sheet(
    job: LoadedJob, status: ZoneStatus, width: int, names: tuple[PictureName, ...] = PICTURES
) -> Canvas:
    """The head of a zone's sheet and its pictures, at most `width` columns wide."""
    canvas = summary_picture(job, status, width)
    pictures = zone_pictures(job, status, width, names)
    if pictures.rows:
        canvas.add_below(pictures)
    return canvas


def zone_svg(
    job: LoadedJob,
    status: ZoneStatus,
    names: tuple[PictureName, ...] = PICTURES,
    width: int = PRINTED_COLUMNS,
) -> str:
    """A zone's sheet as an SVG document, for print under the address of its property."""
    title = f"{short(job.job.address)}: {zone_name(status.zone)}"
    canvas = Canvas()
    canvas.say(0, 0, short(job.job.address, width), "faint")
    canvas.add_below(zone_sheet(job, status, width, names), gap=0)
    return canvas.svg(title)


def _heading(title: str, width: int) -> Canvas:
    canvas = Canvas()
    canvas.say_wrapped(0, title, width, "title")
    return canvas
