"""The page that Enter on a zone opens at the desk: how its water stands, and what mends it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static
from textual.worker import Worker, get_current_worker

from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.water.advice.lateral_sizes import LateralSizes, size_laterals
from fieldbook.checks.water.advice.zone_report import ZoneReport, report_of
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.languages.in_use import shown
from fieldbook.papers.zone_water.zone_sheet import zone_sheet, zone_svg
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import joined, styled
from fieldbook.screens.pages.picture_page import Pictured, PicturePage
from fieldbook.screens.pages.sizes_page import SizesPage
from fieldbook.screens.pages.zone_advice import advice_lines
from fieldbook.screens.pages.zone_help import ZONE_HELP


class ZonePage(PicturePage):
    """Shows a zone's water: verdict, what governs, pictures. What mends it follows once found."""

    class Advised(Message):
        """It is worked out what mends the zone."""

        def __init__(self, found: ZoneReport) -> None:
            """`found` has no advice for a zone that is not solved."""
            super().__init__()
            self.found = found

    BINDINGS: ClassVar[list[BindingType]] = [("s", "size", "Size laterals")]

    def __init__(
        self, job: LoadedJob, status: ZoneStatus, keep: Callable[[LateralSizes], None]
    ) -> None:
        """`status` is that of the zone in the job as it is now; `keep` enters sizes for it."""
        svg = partial(zone_svg, job, status)
        super().__init__(job, Pictured(zone_word(status.zone), self._lines, svg, ZONE_HELP))
        self._status, self._keep = status, keep

    def keys(self) -> tuple[tuple[str, str], ...]:
        """One key more than a picture has."""
        return (*super().keys(), ("s", "size pipe"))

    def below(self) -> ComposeResult:
        """What mends the zone."""
        yield Static(id="mends", markup=False)

    # Textual calls this and the on_mount of PicturePage, so there is no call of super().
    def on_mount(self) -> None:
        """Begin to work out what mends the zone; the rest is shown at once."""
        self._advise()

    def _lines(self, width: int, _rows: int) -> Iterator[Content]:
        yield from map(styled, zone_sheet(self._job, self._status, width).lines())

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

    def action_size(self) -> None:
        """Size all laterals of the zone at least pipe cost, and show that before it is kept."""
        status = self._status
        found = size_laterals(self._job, status.group, status.zone)
        if isinstance(found, LateralSizes) and not found.changes:
            found = "Its laterals have the sizes of least pipe cost already."
        if isinstance(found, str):
            said = self.query_one("#written", Static)
            said.display = True
            said.update(Content(shown(found)))
            return
        sizes = found

        def answered(wanted: bool | None) -> None:
            if wanted:
                self.dismiss(None)
                self._keep(sizes)

        self.app.push_screen(SizesPage(self._job, status.zone, sizes), answered)
