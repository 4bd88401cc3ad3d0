"""Pages and questions that a place opens: water, wires, rules, plan, files."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from fieldbook.actions import rules
from fieldbook.actions.cell_history import cell_history
from fieldbook.actions.conflicts import settling
from fieldbook.actions.files import attach as files
from fieldbook.actions.files.attached_files import state_of
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.water.zone_status import zone_statuses
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.tables.attachments import Attachment
from fieldbook.screens.pages.conflict_page import ConflictPage, Settled
from fieldbook.screens.pages.page import Page
from fieldbook.screens.pages.photo_page import PhotoPage
from fieldbook.screens.pages.reports import as_built_lines, comparison_lines, history_lines
from fieldbook.screens.pages.wire_page import wire_lines
from fieldbook.screens.pages.zone_page import ZonePage
from fieldbook.screens.sheets.sheet import Cell
from fieldbook.screens.widgets.dialogs import AskLine, Choose

if TYPE_CHECKING:
    from fieldbook.screens.job.job_screen import JobScreen


def ask_line(
    screen: JobScreen, asked: str, hint: str, answered: Callable[[str | None], None]
) -> None:
    """Ask for a line that is not blank; None when it is left."""

    def refuse(typed: str) -> str | None:
        return None if typed.strip() else "Type something, or Esc leaves it."

    screen.app.push_screen(AskLine(asked, hint, refuse), answered)


def wire_map(screen: JobScreen) -> None:
    """Where each wire leads."""
    job = screen.open_job.job
    screen.app.push_screen(Page(lambda width: wire_lines(job, width)))


def plan(screen: JobScreen) -> None:
    """The as-built plan."""
    job = screen.open_job.job
    screen.app.push_screen(Page(lambda width: as_built_lines(job, width)))


def history(screen: JobScreen) -> None:
    """Every value the cell under the cursor ever held."""
    cell = screen.sheet.cell
    if cell is None or cell.act not in ("", "ran"):
        raise RefusedError("Stand on a single value first: this line has no history of its own.")
    at = replace(cell.at, column="ran_zone_id") if cell.act == "ran" else cell.at
    turns = cell_history(screen.open_job, at)
    label = cell.fact.label
    screen.app.push_screen(Page(lambda _width: history_lines(label, turns)))


def settle(screen: JobScreen) -> None:
    """Ask what is to be kept of what differs, and stand on the cell answered last."""
    if not settling.questions_of(screen.open_job):
        raise RefusedError(settling.NOTHING_DIFFERS)
    cell = screen.sheet.cell

    def closed(settled: Settled | None) -> None:
        if settled is not None and settled.at is not None:
            screen.open_place(settled.at.place, settled.at)
            here = screen.sheet.cell
            undo = "Ctrl+Z" if here is not None and here.takes("u") else "u"
            screen.hint.say(f"{settled.said} {undo} takes it back.")
        else:
            screen.redraw()

    screen.app.push_screen(ConflictPage(screen.open_job, cell.at if cell else None), closed)


def compare_rules(screen: JobScreen) -> None:
    """Choose a rule set and show what would differ."""
    known = rules.known_sets(screen.open_job.book.path)
    names = known.names(date.today())

    def show(name: str) -> None:
        found = rules.compare(screen.open_job, name)
        screen.app.push_screen(Page(lambda _width: comparison_lines(found, known.refused)))

    def chosen(index: int | None) -> None:
        if index is not None:
            screen.attempt(lambda: show(names[index]))

    screen.app.push_screen(Choose("Compare this job with the rule set", names), chosen)


def attach_file(screen: JobScreen) -> None:
    """Attach a file to the row under the cursor."""
    cell = screen.sheet.cell
    if cell is None:
        raise RefusedError("Stand on a line first: the file is attached to it.")
    table, row_id = cell.at.table, cell.at.row_id
    if screen.open_job.job.row(row_id) is None:
        table, row_id = "job", screen.open_job.job_id
    title = TABLES[table].title if table in TABLES else "property"

    def keep(typed: str) -> None:
        name = files.attach(screen.open_job, table, row_id, typed)
        screen.redraw()
        screen.hint.say(f"Attached {name} to the {title}; it is listed at the desk.")

    def answered(typed: str | None) -> None:
        if typed is not None:
            screen.attempt(lambda: keep(typed))

    ask_line(screen, f"Attach to the {title}: which file?", "Its whole path.", answered)


def _open_water(screen: JobScreen, cell: Cell) -> None:
    job, zone_id = screen.open_job.job, cell.seed["zone_id"]
    standing = next(one for one in zone_statuses(job) if one.zone.id == zone_id)
    screen.app.push_screen(ZonePage(job, standing))


def _open_file(screen: JobScreen, cell: Cell) -> None:
    file = screen.open_job.job.row(str(cell.seed["id"]))
    if not isinstance(file, Attachment):
        return
    book_path = screen.open_job.book.path

    def outside() -> str:
        try:
            files.open_outside(book_path, file)
        except RefusedError as why:
            return str(why)
        return ""

    screen.app.push_screen(PhotoPage(file, state_of(book_path, file), outside))


def _choose_rules(screen: JobScreen, _cell: Cell) -> None:
    known = rules.known_sets(screen.open_job.book.path)
    names = known.names(date.today())

    def keep(name: str) -> None:
        rules.choose_rules(screen.open_job, name)
        screen.redraw()
        refused = f" {known.refused[0]}" if known.refused else ""
        screen.hint.say(f"Held to the rule set {name}.{refused}")

    def chosen(index: int | None) -> None:
        if index is not None:
            screen.attempt(lambda: keep(names[index]))

    folder = f"{rules.FOLDER}{'/' if known.sets else '/ (no file there yet)'}"
    screen.app.push_screen(Choose(f"Rule set (files in {folder})", names), chosen)


OPENS: Mapping[str, Callable[[JobScreen, Cell], None]] = {
    "water": _open_water,
    "file": _open_file,
    "rule set": _choose_rules,
}
"""By the act of a cell what Enter on it opens."""
