"""What a command needs of the screen it runs on. The screen fits it without being imported."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

from textual.app import App

from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Place
from fieldbook.screens.job.cursor import Cursor

if TYPE_CHECKING:
    from fieldbook.actions.files.paper_run import PaperRun


class CommandHost(Protocol):
    """A property open at one of its places. Commands, cell entries and pages see only this of it.

    So they need not import the screen, which imports them.
    """

    open_job: OpenJob
    place: Place
    papers_run: PaperRun | None
    """The run that writes papers, or wrote them last, since the property was opened."""

    @property
    def app(self) -> App[object]:
        """The app, to open and close screens."""

    @property
    def cursor(self) -> Cursor:
        """The cursor on the sheet; call `show_cursor` after moving it."""

    def show_cursor(self) -> None:
        """Bring the cursor into view and describe its cell."""

    def open_place(self, place: Place, at: CellRef | None = None) -> None:
        """Show a place, the cursor on `at`, else on the next thing to do there."""

    def redraw(self) -> None:
        """Show the job as it is now in the book."""

    def leave(self) -> None:
        """Go back to the board."""

    def say(self, sentence: str) -> None:
        """Show a sentence under the sheet."""

    def attempt(self, command: Callable[[], None]) -> bool:
        """Run a command; where it is refused show why and return False."""

    def focus_flags(self) -> None:
        """Put the cursor into the list of flags."""

    def focus_places(self) -> None:
        """Put the cursor on the tabs of the places."""
