"""The keys that write papers: their page, whose run is a thread of the app, and a dispute sheet."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from textual.screen import Screen
from textual.worker import get_current_worker

from fieldbook.actions.refused import RefusedError
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.job.open_pages import ask_line
from fieldbook.screens.widgets.dialogs import ScreenTold

if TYPE_CHECKING:
    from fieldbook.actions.files.paper_run import PaperRun
    from fieldbook.actions.files.write_papers import Kind

# The page and what papers are made with are imported when it is opened: a property is open sooner.
# ruff: noqa: PLC0415


def write_papers(host: CommandHost) -> None:
    """Ask which papers to write and where; the run of before is shown while it goes on."""
    from fieldbook.actions.files.paper_run import papers_folder
    from fieldbook.screens.pages.papers_page import PapersPage

    folder = papers_folder(host.open_job)
    address = host.open_job.job.job.address or "a property without an address"

    def begin(folder: Path, names: Sequence[str], kinds: Sequence[Kind]) -> PaperRun:
        return _begin(host, folder, names, kinds)

    host.app.push_screen(PapersPage(address, folder, begin, host.papers_run))


def claim_here(host: CommandHost) -> str:
    """What a claim about the cell under the cursor is about, as `read_about` reads it.

    Raises RefusedError where there is no cell with entries of its own, or it is nobody's business.
    """
    from fieldbook.actions.disputes.claim_about import refuse_private

    cell = host.cursor.cell
    at = cell.history_at if cell is not None else None
    if cell is not None:
        refuse_private(cell.at.table)
    if cell is None or host.open_job.job.row(cell.at.row_id) is None:
        raise RefusedError("Move to a row with something entered in it first: a claim is about it.")
    return f"row:{cell.at.row_id}" + (f".{at.column}" if at is not None else "")


def write_dispute_sheet(host: CommandHost) -> None:
    """Ask what is claimed of the cell under the cursor, and write its dispute sheet."""
    about = claim_here(host)

    def answered(claim: str) -> None:
        from fieldbook.actions.disputes.write_dispute import usual_sheet

        host.say(f"Wrote {usual_sheet(host.open_job, claim, about)}")

    hint = "It stands on the sheet as you type it, above every entry that bears on this cell."
    ask_line(host, "What is claimed?", hint, lambda claim: host.attempt(lambda: answered(claim)))


def _begin(
    host: CommandHost, folder: Path, names: Sequence[str], kinds: Sequence[Kind]
) -> PaperRun:
    """Begin a run; it goes on when the page is closed or the property is left."""
    from fieldbook.actions.files.paper_run import PaperRun

    run = host.papers_run = PaperRun(host.open_job, folder, names, kinds)
    app = host.app

    def tell() -> None:
        """Runs in the thread: all that it may do to the screens is post a message."""
        app.post_message(ScreenTold(lambda screen: _show(screen, run)))

    def work() -> None:
        worker = get_current_worker()
        run.write(tell, lambda: worker.is_cancelled)

    # A new run of the group cancels the one before, which ends after the paper it is at.
    app.run_worker(work, thread=True, exclusive=True, group="papers", exit_on_error=False)
    return run


def _show(screen: Screen[object], run: PaperRun) -> None:
    """Show on the page how far the run is; elsewhere say once that it is over."""
    from fieldbook.screens.pages.papers_page import PapersPage

    if isinstance(screen, PapersPage):
        screen.show_run()
        return
    say = getattr(screen, "say", None)
    if run.over and say is not None:
        say(run.sentence())
