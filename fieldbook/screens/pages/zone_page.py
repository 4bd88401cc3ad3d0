"""The page that Enter on a zone opens at the desk: how its water stands, and what mends it."""

from __future__ import annotations

from functools import partial
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.message import Message
from textual.widgets import Static
from textual.worker import Worker, get_current_worker

from fieldbook.actions.files.zone_pictures import save_sheet, usual_sheet
from fieldbook.checks.water.advice.zone_report import ZoneReport, report_of
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.papers.zone_water.zone_sheet import zone_pictures
from fieldbook.papers.zone_water.zone_summary import summary_picture
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import joined, styled
from fieldbook.screens.pages.picture_page import KEYS, ask_file
from fieldbook.screens.pages.zone_advice import advice_lines
from fieldbook.screens.pages.zone_help import ZONE_HELP
from fieldbook.screens.widgets.dialogs import Read
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.terminal_cells import page_width


class ZonePage(FrontScreen[None]):
    """Shows a zone's water; Esc, Enter or q closes it. What mends it follows once it is found."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape,enter,q", "dismiss(None)", "Back"),
        ("question_mark,f1", "explain", "Explain"),
        ("ctrl+s", "save", "Write as SVG"),
    ]

    class Advised(Message):
        """It is worked out what mends the zone."""

        def __init__(self, found: ZoneReport) -> None:
            """`found` has no advice for a zone that is not solved."""
            super().__init__()
            self.found = found

    def __init__(self, job: LoadedJob, status: ZoneStatus) -> None:
        """`status` is that of the zone in the job as it is now."""
        super().__init__()
        self._job, self._status = job, status

    def compose(self) -> ComposeResult:
        """How the zone stands, its pictures, what mends it; the keys stay in sight under them."""
        with Vertical(classes="dialog page whole-page"):
            with VerticalScroll():
                yield Static(id="status", markup=False)
                yield Static(id="figures", markup=False)
                yield Static(id="mends", markup=False)
            yield Static(id="written", markup=False)
            yield KeyLine()

    def on_mount(self) -> None:
        """Begin to work out what mends the zone; the rest is shown at once."""
        self.query_one("#written").display = False
        self.query_one(KeyLine).show(KEYS)
        self._advise()

    def on_resize(self) -> None:
        """Draw for the width there is."""
        width = page_width(self.app.size.width)
        for part, draw in (("#status", summary_picture), ("#figures", zone_pictures)):
            drawn = map(styled, draw(self._job, self._status, width).lines())
            self.query_one(part, Static).update(joined(drawn))

    @work(thread=True, exclusive=True)
    def _advise(self) -> None:
        """Try what could mend the zone, in a thread: it solves the zone for every change tried."""
        worker: Worker[None] = get_current_worker()
        found = report_of(self._job, self._status)
        if not worker.is_cancelled:
            self.post_message(self.Advised(found))

    def on_zone_page_advised(self, event: Advised) -> None:
        """Show what mends the zone."""
        lines = advice_lines(self._job, event.found)
        if lines:
            self.query_one("#mends", Static).update(joined(lines))

    def action_explain(self) -> None:
        """Say what each header, figure and sign of the page means."""
        self.app.push_screen(Read("This page", ZONE_HELP))

    def action_save(self) -> None:
        """Ask for a file and write the page's pictures to it."""
        save = partial(save_sheet, self._job, self._status)
        ask_file(self, usual_sheet(self._job, self._status), save)
