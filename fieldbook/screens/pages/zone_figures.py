"""The lines of a zone's page: how its water stands, its pictures, what mends it."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.zone_water.zone_sheet import zone_pictures
from fieldbook.papers.zone_water.zone_summary import summary_picture
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import styled


def canvas_lines(canvas: Canvas) -> Iterator[Content]:
    """A drawing's lines in the colours of the theme."""
    yield from map(styled, canvas.lines())


def status_lines(job: LoadedJob, status: ZoneStatus, width: int) -> list[Content]:
    """The zone's verdict, what holds it and what governs, what is missing."""
    return list(canvas_lines(summary_picture(job, status, width)))


def zone_figures(job: LoadedJob, status: ZoneStatus, width: int) -> list[Content]:
    """The pictures of a zone, as far as its figures are known. At most `width` cells wide."""
    return list(canvas_lines(zone_pictures(job, status, width)))
