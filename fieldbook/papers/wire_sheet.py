"""The wire of a job on one sheet: the map, the controller's strip, the cables, boxes and doubts."""

from __future__ import annotations

from collections.abc import Iterator

from rich.cells import cell_len

from fieldbook.checks.common.naming import short
from fieldbook.checks.wire.doubt_words import doubt_lines
from fieldbook.papers.cable_tree import cables_picture
from fieldbook.papers.picture import Line, Picture, Piece
from fieldbook.papers.text_widths import wrapped
from fieldbook.papers.wire_map import map_picture
from fieldbook.papers.wire_pictures import box_pictures, strip_picture
from fieldbook.records.loaded_job import LoadedJob

SHEET_WIDTH = 92
"""The columns of a sheet for print: at 8 px a column it fills the width of a page."""
_POWER = (
    "Power off before the controller is opened. Its mains side is a licensed electrician's work."
)


def wire_svg(job: LoadedJob) -> str:
    """The pictures and the doubts as one SVG document."""
    title = f"Wire map, {short(job.job.address)}"
    return Picture(title, tuple(_lines(job))).svg()


def _lines(job: LoadedJob) -> Iterator[Line]:
    pictures = (
        map_picture(job, SHEET_WIDTH),
        strip_picture(job, SHEET_WIDTH),
        cables_picture(job, SHEET_WIDTH),
        *box_pictures(job, SHEET_WIDTH),
    )
    for picture in pictures:
        yield ()
        yield (Piece(picture.title, None, "title"),)
        yield from picture.lines
    doubts = doubt_lines(job)
    if doubts:
        yield ()
        yield (Piece("What does not fit, and what could explain it", None, "title"),)
    for sentence in doubts:
        yield from ((Piece(line),) for line in wrapped(sentence, SHEET_WIDTH, cell_len))
    yield ()
    yield (Piece(_POWER, None, "strong"),)
