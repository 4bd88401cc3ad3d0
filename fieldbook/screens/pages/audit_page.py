"""The page of a catch-can audit: its cans, the driest and the wettest marked."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from textual.content import Content

from fieldbook.checks.measured.audits import AuditResult
from fieldbook.papers.measured.can_picture import can_picture, can_svg
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import styled, title
from fieldbook.screens.pages.picture_page import Pictured, PicturePage

AUDIT_HELP = """\
▼  One of the driest cans: those of the low quarter.    ▲  One of as many that caught the most.

With "along" and "out" entered for every can, each stands where it stood, to scale. Without, they
stand under each other from the driest to the wettest, and the dotted line is the mean.

Low quarter: the mean of the driest quarter of the cans over the mean of all. How many cans make a
quarter that four does not divide is ruled nowhere; the rule and the count stand beside it.
Low half: the same of the drier half. Christiansen: 100 less the mean deviation, in % of the mean.

An audit counts for the schedule with at least 20 cans (University of Minnesota Extension), wind of
at most 5 mph (New Mexico State University, H-510) and at least 15 minutes (UF/IFAS Extension).
Ctrl+S writes the picture to a file as SVG."""


def audit_page(job: LoadedJob, result: AuditResult) -> PicturePage:
    """The page of one audit."""
    what = f"audit-{result.audit.held_on or 'undated'}"
    draw = partial(_lines, job, result)
    return PicturePage(job, Pictured(what, draw, partial(can_svg, job, result), AUDIT_HELP))


def _lines(job: LoadedJob, result: AuditResult, width: int, _rows: int) -> Iterator[Content]:
    day = result.audit.held_on or "no day"
    yield title(f"Catch-can audit of {result.where}, {day}")
    yield from map(styled, can_picture(job, result, width).lines())
