"""The lines of the page that F2 opens: the wire map, every doubt, pictures of both ends."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from fieldbook.checks.wire.doubt_words import doubt_lines
from fieldbook.papers.picture import Picture
from fieldbook.papers.wire_map import map_picture, reach_lines
from fieldbook.papers.wire_pictures import box_pictures, strip_picture
from fieldbook.papers.wire_test_log import test_log_lines
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import CAUTION, styled, title

_POWER = (
    "Power off before the controller is opened. Its mains side is a licensed electrician's work; "
    "local electrical code governs."
)


def wire_lines(job: LoadedJob, width: int) -> Iterator[Content]:
    """Where each wire leads and what shows it, for a width in cells."""
    yield from picture_lines(map_picture(job))
    doubts = doubt_lines(job)
    if doubts:
        yield Content("")
        yield title("What does not fit, and what could explain it")
        yield from map(Content, doubts)
    tests = test_log_lines(job)
    if tests:
        yield Content("")
        yield title("Tests, the newest of each terminal first")
        yield from map(Content, tests)
    for picture in (strip_picture(job, width), *box_pictures(job)):
        yield Content("")
        yield from picture_lines(picture)
    yield Content("")
    yield title("How far a valve may be from the controller")
    yield from map(Content, reach_lines(job))
    yield Content("")
    yield Content.styled(_POWER, CAUTION)


def picture_lines(picture: Picture) -> Iterator[Content]:
    """A picture's lines, its swatches in their colours."""
    yield title(picture.title)
    yield from map(styled, picture.lines)
