"""The page of a month: each day with what may run and what does, and the chosen day in words."""

from __future__ import annotations

import calendar
from collections.abc import Iterator
from datetime import date, timedelta
from textwrap import wrap
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from fieldbook.actions.keymap import FUNCTION_KEYS
from fieldbook.checks.watering.controller.day_words import DaySummary, day_lines, day_summary
from fieldbook.checks.watering.controller.season_water import month_waters
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import FAINT, TITLE, joined
from fieldbook.screens.widgets.dialogs import Read
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.terminal_cells import fit, page_width

MONTH_HELP = """\
Each day shows its number, a sign, and the zones that run.

+  It runs, and the rule allows every run.
!  It runs, and the rule bars a run: the lines below say why.
?  It runs, and nobody has entered or looked up what the rule needs for an answer.
.  Nothing runs; the rule would allow it.
-  Nothing runs, and nothing may.

The lines below are of the chosen day: each run with its start and minutes, the window that all
zones may use, the day's gallons, and the rule's reason. Minutes are those typed, times the
seasonal percentage of that day. Gallons are minutes times the zone's flow, as solved or entered."""
_KEYS = (
    ("arrows", "day"),
    ("PgUp PgDn", "month"),
    ("Space", "more"),
    ("?", "explain"),
    ("Esc", "close"),
)
_STYLES = {"+": "$success bold", "!": "$error bold", "?": "$warning bold", ".": "", "-": FAINT}
_WEEK = 7
_WIDE = 9
"""Cells of a day from which on its number, sign and zones stand apart."""


class MonthPage(FrontScreen[None]):
    """Shows a month; arrows choose a day, PgUp and PgDn another month, Esc closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        (
            ",".join(("escape", "enter", "q", *(key for key in FUNCTION_KEYS if key != "f1"))),
            "dismiss(None)",
            "Back",
        ),
        ("question_mark,f1", "explain", "Explain"),
        ("left", "days(-1)", "Day before"),
        ("right", "days(1)", "Day after"),
        ("up", "days(-7)", "Week before"),
        ("down", "days(7)", "Week after"),
        ("pageup", "months(-1)", "Month before"),
        ("pagedown", "months(1)", "Month after"),
        ("home", "today", "Today"),
        ("space", "more", "More"),
    ]

    def __init__(self, job: LoadedJob, today: date) -> None:
        """Begin with `today`."""
        super().__init__()
        self._job, self._today, self._day = job, today, today

    def compose(self) -> ComposeResult:
        """The month, the chosen day, which scrolls, and the keys."""
        with Vertical(classes="dialog page whole-page"):
            with VerticalScroll(can_focus=False):
                yield Static(id="page", markup=False)
            yield KeyLine()

    def on_mount(self) -> None:
        """Name the keys."""
        self.query_one(KeyLine).show(_KEYS)

    def on_resize(self) -> None:
        """Draw for the room there is."""
        self._show()

    def action_explain(self) -> None:
        """Say what each sign means, and how the numbers come about."""
        self.app.push_screen(Read("This month", MONTH_HELP))

    def action_days(self, step: int) -> None:
        """Choose another day."""
        self._day += timedelta(days=step)
        self._show()

    def action_months(self, step: int) -> None:
        """Choose the same day of another month, or its last."""
        at = self._day.year * 12 + self._day.month - 1 + step
        year, month = divmod(at, 12)
        last = calendar.monthrange(year, month + 1)[1]
        self._day = date(year, month + 1, min(self._day.day, last))
        self._show()

    def action_more(self) -> None:
        """Show what is below; from the end, the top again."""
        shown = self.query_one(VerticalScroll)
        if shown.scroll_offset.y >= shown.max_scroll_y:
            shown.scroll_home(animate=False)
        else:
            shown.scroll_page_down(animate=False)

    def action_today(self) -> None:
        """Choose today."""
        self._day = self._today
        self._show()

    def _show(self) -> None:
        lines = month_lines(self._job, self._day, page_width(self.app.size.width))
        self.query_one("#page", Static).update(joined(lines))


def month_lines(job: LoadedJob, chosen: date, width: int) -> Iterator[Content]:
    """The month of a day as a grid for a width in cells, then that day in words."""
    cell = max(width // _WEEK, 6)
    yield Content.styled(f"{calendar.month_name[chosen.month]} {chosen.year}", TITLE)
    yield Content.styled("".join(fit(name, cell) for name in calendar.day_abbr), FAINT)
    for week in calendar.Calendar().monthdatescalendar(chosen.year, chosen.month):
        parts = []
        for day in week:
            if day.month == chosen.month:
                found = day_summary(job, day)
                style = _STYLES[found.sign] + (" reverse" if day == chosen else "")
                mark = ">" if day == chosen else " "
                parts.append((fit(mark + _cell_words(found, cell - 1), cell), style.strip()))
            else:
                parts.append((" " * cell, ""))
        yield Content.assemble(*parts)
    first = chosen.replace(day=1)
    last = chosen.replace(day=calendar.monthrange(chosen.year, chosen.month)[1])
    yield from (Content(month.words) for month in month_waters(job, first, last))
    yield Content("")
    for at, line in enumerate(day_lines(job, chosen)):
        for piece in _wrapped(line, width):
            yield Content.styled(piece, TITLE) if not at else Content(piece)


def _cell_words(found: DaySummary, width: int) -> str:
    """The day's number, its sign and the numbers of its zones, as many as there is room for."""
    apart = " " if width >= _WIDE else ""
    head = f"{found.day.day:>2}{apart}{found.sign}{apart}"
    room = width - len(head)
    if len(found.zones) <= room:
        return f"{head}{found.zones}"
    many = f"{found.many}z"
    return f"{head}{many if len(many) <= room else ''}"


def _wrapped(line: str, width: int) -> Iterator[str]:
    indent = len(line) - len(line.lstrip())
    yield from wrap(line, width, initial_indent="", subsequent_indent=" " * (indent + 2)) or [""]
