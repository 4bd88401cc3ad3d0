"""The page that Enter on a zone opens at the desk: its water drawn, and what mends it."""

from __future__ import annotations

from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import ModalScreen
from textual.widgets import Static
from textual.worker import Worker, get_current_worker

from fieldbook.checks.water.zone_remedies import Advice, advice
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.zone_figures import advice_lines, joined, standing_lines, zone_figures
from fieldbook.screens.widgets.terminal_cells import page_width


class ZonePage(ModalScreen[None]):
    """One zone's water; Esc, Enter or q puts it away. What mends it follows when it is solved."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape,enter,q", "dismiss(None)", "Back")]

    class Advised(Message):
        """What mends the zone has been worked out."""

        def __init__(self, found: Advice | None) -> None:
            """`found` is None for a zone that is not solved."""
            super().__init__()
            self.found = found

    def __init__(self, job: LoadedJob, standing: ZoneStatus) -> None:
        """The zone as the job stands now."""
        super().__init__()
        self._job, self._standing = job, standing

    def compose(self) -> ComposeResult:
        """How it stands, what mends it, the figures."""
        with VerticalScroll(classes="dialog page"):
            yield Static(id="standing", markup=False)
            yield Static(id="mends", markup=False)
            yield Static(id="figures", markup=False)
            yield Static(Content("Esc puts this away."), classes="faint")

    def on_mount(self) -> None:
        """Figures at once; advice when it is there."""
        self._advise()

    def on_resize(self) -> None:
        """Draw for the width there is."""
        lines = zone_figures(self._job, self._standing, page_width(self.app.size.width))
        self.query_one("#figures", Static).update(joined(lines))
        told = joined(standing_lines(self._job, self._standing))
        self.query_one("#standing", Static).update(told)

    @work(thread=True, exclusive=True)
    def _advise(self) -> None:
        """Try what could mend it, away from the keys."""
        worker: Worker[None] = get_current_worker()
        found = advice(self._job, self._standing.group)
        if not worker.is_cancelled:
            self.post_message(self.Advised(found))

    def on_zone_page_advised(self, event: Advised) -> None:
        """Say what mends it."""
        lines = advice_lines(event.found)
        if lines:
            self.query_one("#mends", Static).update(joined(lines))
