"""The page that F4 opens: where the buried parts are, drawn as large as the terminal allows."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from fieldbook.papers.site_plan.plan_picture import plan_picture
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import Page, styled, title

_FRAME, _KEY = 4, 4
"""Lines of the screen for the page's frame, its title and the scale; and for the key."""
_LOW = 22
"""On a lower terminal the map takes all lines, and the key is found by scrolling."""


class PlanPage(Page):
    """Shows the plan of a job; Esc, Enter, q or any function key closes it."""

    def __init__(self, job: LoadedJob) -> None:
        """`job` as it is now."""
        super().__init__(self._lines)
        self._job = job

    def _lines(self, width: int) -> Iterator[Content]:
        rows = self.app.size.height
        height = rows - _FRAME - (_KEY if rows >= _LOW else 0)
        return plan_page_lines(self._job, width, height)


def plan_page_lines(job: LoadedJob, width: int, height: int) -> Iterator[Content]:
    """The plan for a width in cells, its map `height` rows high."""
    yield title("As-built plan: to scale, taped by the crew")
    yield from map(styled, plan_picture(job, width, height))
