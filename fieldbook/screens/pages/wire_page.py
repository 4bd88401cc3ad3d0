"""The page that F2 opens: the wire map, pictures of both ends and the cables, every doubt."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from textual.content import Content

from fieldbook.checks.wire.doubt_words import doubt_lines
from fieldbook.languages.in_use import say
from fieldbook.papers.cable_tree import cables_picture
from fieldbook.papers.picture import Picture
from fieldbook.papers.wire_map import map_picture, reach_lines
from fieldbook.papers.wire_pictures import box_pictures, strip_picture
from fieldbook.papers.wire_sheet import wire_svg
from fieldbook.papers.wire_signs import SIGNS
from fieldbook.papers.wire_test_log import test_log_lines
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import CAUTION, styled, title
from fieldbook.screens.pages.picture_page import Pictured, PicturePage

_POWER = (
    "Power off before the controller is opened. Its mains side is a licensed electrician's work; "
    "local electrical code governs."
)
_SURE = "How sure a wire is, by sign and word:"
_PARTS = """\
Wire map, a line for each terminal. Terminal: where the wire is clamped. Wire: its colour as seen
at the controller, behind a swatch. Leads to: the zone whose valve has its other end.
How that is known: the entries and tests that show it.

What does not fit: ends that disagree, with what could explain it and how likely each is. The test
named first tells most.
Tests: what ran, or what the meter read, with the day and who entered it.
Controller: its terminals from left to right: the wire, where it leads, how sure that is.
Cables: from the controller to the boxes and on; behind each zone the sign of its wire.
Valve boxes: every conductor of each cable in the box. A valve has the sign of its wire.
How far a valve may be: the longest wire of each gauge that still opens a valve.

A swatch is two blocks: the base colour and the stripe, or a pattern of the base colour alone.
Ctrl+S writes the page's pictures to a file as SVG."""


def wire_help() -> str:
    """What `?` says of the page, in the language in use."""
    signs = (f"{sign.sign}  {say(sign.word)}: {say(sign.means)}." for sign in SIGNS.values())
    return "\n".join([say(_SURE), *signs, "", say(_PARTS)])


def wire_page(job: LoadedJob) -> PicturePage:
    """The page of a job's wire."""

    def draw(width: int, _rows: int) -> Iterator[Content]:
        return wire_lines(job, width)

    return PicturePage(job, Pictured("wire map", draw, partial(wire_svg, job), wire_help()))


def wire_lines(job: LoadedJob, width: int) -> Iterator[Content]:
    """Where each wire leads and what shows it, for a width in cells."""
    yield from picture_lines(map_picture(job, width))
    doubts = doubt_lines(job)
    if doubts:
        yield Content("")
        yield title("What does not fit, and what could explain it")
        yield from map(Content, doubts)
    for picture in (
        strip_picture(job, width),
        cables_picture(job, width),
        *box_pictures(job, width),
    ):
        yield Content("")
        yield from picture_lines(picture)
    tests = test_log_lines(job)
    if tests:
        yield Content("")
        yield title("Tests, the newest of each terminal first")
        yield from map(Content, tests)
    yield Content("")
    yield title("How far a valve may be from the controller")
    yield from map(Content, reach_lines(job))
    yield Content("")
    yield Content.styled(_POWER, CAUTION)


def picture_lines(picture: Picture) -> Iterator[Content]:
    """A picture's lines, its swatches in their colours."""
    yield title(picture.title)
    yield from map(styled, picture.lines)
