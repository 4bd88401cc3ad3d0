"""Commands about visits: read all of them, note work on the thing under the cursor."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from fieldbook.actions.refused import RefusedError
from fieldbook.actions.visits import visiting
from fieldbook.checks.service.visit_summary import visit_summaries
from fieldbook.checks.service.visit_text import visit_lines
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.visits import CHANGE_KINDS
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.widgets.dialogs import Choose

NO_VISITS = "No visit is on record yet: start one at the service, Alt+6."
_WORK = CHANGE_KINDS[:5]
"""What is done to a thing that stays in the record: it comes and goes by its own row."""

# A page and what it reads are imported when it is opened: a property is open sooner.
# ruff: noqa: PLC0415


def refuse_no_visits(host: CommandHost) -> None:
    """Raise RefusedError where there is no visit to read."""
    if not host.open_job.job.visits:
        raise RefusedError(NO_VISITS)


def read_visits(host: CommandHost) -> None:
    """Every visit in full, the newest first."""
    refuse_no_visits(host)
    from fieldbook.screens.pages.page import Page

    job = host.open_job.job
    host.app.push_screen(Page(lambda _width: _lines(job)))


def _lines(job: LoadedJob) -> Iterator[Content]:
    from fieldbook.screens.pages.page import title

    for one in visit_summaries(job):
        yield title(one.title)
        yield from map(Content, visit_lines(one))
        yield Content("")


def thing_here(host: CommandHost) -> tuple[str, str]:
    """Table and id of the thing that the row under the cursor stands for.

    Raises RefusedError where it is none, or no visit is under way.
    """
    cell = host.cursor.cell
    row = host.cursor.row
    at = cell.at if cell is not None else row.cells[0].at if row is not None and row.cells else None
    table, row_id = (at.table, at.row_id) if at is not None else ("", "")
    visiting.refuse_work(host.open_job, row_id)
    return table, row_id


def note_work(host: CommandHost) -> None:
    """Ask what was done to the thing under the cursor, and note it on the visit under way."""
    table, row_id = thing_here(host)

    def noted(what: str) -> None:
        thing = visiting.note_work(host.open_job, table, row_id, what)
        host.redraw()
        host.say(f"Noted on the visit: {thing} {what}. Ctrl+Z takes it back.")

    def chosen(index: int | None) -> None:
        if index is not None:
            host.attempt(lambda: noted(_WORK[index]))

    thing = visiting.thing_name(host.open_job, table, row_id)
    host.app.push_screen(Choose(f"What was done to {thing}?", _WORK), chosen)
