"""The page that F4 opens: where the buried parts are, drawn as large as the terminal allows."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from textual.content import Content

from fieldbook.papers.site_plan.plan_picture import plan_picture
from fieldbook.papers.site_plan.plan_sheet import plan_svg
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import styled, title
from fieldbook.screens.pages.picture_page import Pictured, PicturePage

PLAN_HELP = """\
The plan is to scale. The bar under it says how long a stretch is, and which way is up.

▲  A corner of the house or another fixed point, with its number. Tapes begin here.
■  A valve box, at the middle of its lid.
✕  A wire splice in the ground.    ♦  Another buried part: drain, sleeve, backflow assembly.
○  A sprinkler head, at the end of a run that a tie names.    •  An end of pipe without a head.
┄  A tape, with its length.    ─  A pipe, straight from one located end to the other.
━  The house wall, as far as corners on it show it; the house is shaded.

To find a part, pull its tapes from the corners that the list names: it is where they meet.
"Along" is along the wall from its left corner, "out" is square to the wall, away from the house.

Corners, where a tape begins: the fixed points of the valve boxes' sheet.
How to find each part: its tapes; in brackets where that is.
Not located: two tapes, or the side, are not entered yet, or the tapes do not meet. It is drawn
nowhere. A pipe run is located once both its ends are: enter in a tie which run ends there.

North is known once the first fixed point says which way its wall faces.
Ctrl+S writes the plan to a file as SVG, one sheet for Letter or A4."""
_TITLE, _SCALE, _KEY = 1, 1, 3
_LOW = 19
"""With fewer rows in sight the map takes all of them, and its key is found by scrolling."""


def plan_page(job: LoadedJob) -> PicturePage:
    """The page of a job's plan."""
    draw = partial(plan_page_lines, job)
    return PicturePage(job, Pictured("plan", draw, partial(plan_svg, job), PLAN_HELP))


def plan_page_lines(job: LoadedJob, width: int, rows: int) -> Iterator[Content]:
    """The plan for a width in cells and so many rows in sight."""
    yield title("As-built plan: to scale, taped by the crew")
    height = rows - _TITLE - _SCALE - (_KEY if rows >= _LOW else 0)
    yield from map(styled, plan_picture(job, width, height))
