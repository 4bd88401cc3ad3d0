"""Pages and questions that open over a place: water, wires, rules, plan, files, history, help."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, assert_never

from fieldbook.actions import rules
from fieldbook.actions.bulk.photo_round import shot_of
from fieldbook.actions.cell_history import cell_history
from fieldbook.actions.conflicts import settling
from fieldbook.actions.files import attach as files
from fieldbook.actions.files.attached_files import state_of
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import sentence, short, zone_name
from fieldbook.checks.finding import CellRef
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.tables.attachments import Attachment
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.sheets.explain import explain_cell, explain_columns, explain_keys
from fieldbook.screens.sheets.presses import (
    ChooseRuleSet,
    OpenFile,
    OpensPage,
    OpenZone,
    ShowSteps,
)
from fieldbook.screens.sheets.programmes.programme_presses import (
    ChoosePlaceRule,
    OpenMonth,
    WorkOutProgrammes,
)
from fieldbook.screens.sheets.service.audit_press import OpenAudit
from fieldbook.screens.sheets.service.diagnosis_press import OpenDiagnosis
from fieldbook.screens.widgets.dialogs import AskLine, Choose, Read

if TYPE_CHECKING:
    from fieldbook.checks.water.advice.lateral_sizes import LateralSizes
    from fieldbook.screens.pages.conflict_page import Settled

# A page and what it reads are imported when it is opened: a property is open sooner.
# ruff: noqa: PLC0415


def open_page(host: CommandHost, press: OpensPage) -> None:
    """Open what Enter on a cell opens."""
    match press:
        case OpenZone():
            _open_zone(host, press.zone_id)
        case OpenFile():
            _open_file(host, press.attachment_id)
        case OpenAudit():
            _open_audit(host, press.audit_id)
        case OpenMonth():
            month(host)
        case WorkOutProgrammes():
            work_out_programmes(host)
        case ChoosePlaceRule():
            _choose_place_rule(host)
        case OpenDiagnosis():
            _open_diagnosis(host, press.zone_id)
        case ChooseRuleSet():
            _choose_rules(host)
        case ShowSteps():
            host.app.push_screen(Read(press.title, press.text))
        case _:
            assert_never(press)


def ask_line(host: CommandHost, asked: str, hint: str, answered: Callable[[str], object]) -> None:
    """Ask for a line that is not blank; `answered` gets it, unless Esc leaves the question."""

    def refuse(typed: str) -> str | None:
        return None if typed.strip() else "Type an answer, or press Esc to leave."

    def closed(typed: str | None) -> None:
        if typed is not None:
            answered(typed)

    host.app.push_screen(AskLine(asked, hint, refuse), closed)


def explain(host: CommandHost) -> None:
    """What the cell under the cursor is, the columns of its table, and every key."""
    cell, section = host.cursor.cell, host.cursor.section
    title = cell.fact.label if cell else section.title if section else "Keys"
    parts = [
        explain_cell(host.open_job, cell, host.cursor.cautions) if cell else "",
        explain_columns(section) if section is not None else "",
        f"Keys here\n{explain_keys('place')}",
    ]
    host.app.push_screen(Read(title, "\n\n".join(filter(None, parts))))


def whole_row(host: CommandHost) -> None:
    """Every field of the row under the cursor; Enter on one goes to its cell."""
    from fieldbook.screens.pages.row_page import RowPage, fields_of

    row, section = host.cursor.row, host.cursor.section
    fields = list(fields_of(section, row)) if row is not None and section is not None else []
    if row is None or section is None or not fields:
        raise RefusedError("There is no row here: move to one first.")

    def closed(at: CellRef | None) -> None:
        if at is not None:
            host.cursor.go_to(at)
            host.show_cursor()

    title = f"{section.title}: {row.label}" if section.heads else section.title
    title = f"{title}  {row.beside}".rstrip()
    host.app.push_screen(RowPage(title, fields, row.tail.strip()), closed)


def wire_map(host: CommandHost) -> None:
    """Where each wire leads."""
    from fieldbook.screens.pages.wire_page import wire_page

    host.app.push_screen(wire_page(host.open_job.job))


def plan(host: CommandHost) -> None:
    """The as-built plan."""
    from fieldbook.screens.pages.plan_page import plan_page

    host.app.push_screen(plan_page(host.open_job.job))


def month(host: CommandHost) -> None:
    """What may run and what runs on each day of a month."""
    from fieldbook.screens.pages.month_page import MonthPage

    host.app.push_screen(MonthPage(host.open_job.job, date.today()))


def work_out_programmes(host: CommandHost) -> None:
    """Put the programmes that needs and rule give in the place of those that are there."""
    from fieldbook.actions.watering.working_out import work_out

    found = work_out(host.open_job)
    host.redraw()
    many = "1 programme" if found.programmes == 1 else f"{found.programmes} programmes"
    host.say(f"Worked out {many}. Ctrl+Z takes it back.")
    if found.notes:
        lines = "\n".join(f"- {note}" for note in found.notes)
        host.app.push_screen(Read("What could not be met", lines))


def history(host: CommandHost) -> None:
    """Every value the cell under the cursor has held."""
    cell = host.cursor.cell
    at = cell.history_at if cell is not None else None
    if cell is None or at is None:
        raise RefusedError("Move to a single value first: this line has no history of its own.")
    from fieldbook.screens.pages.page import Page
    from fieldbook.screens.pages.reports import history_lines

    label, turns = cell.fact.label, cell_history(host.open_job, at)
    host.app.push_screen(Page(lambda _width: history_lines(label, turns)))


def settle(host: CommandHost) -> None:
    """Ask which version of what differs is kept, and move to the cell answered last."""
    if not settling.questions_of(host.open_job):
        raise RefusedError(settling.NOTHING_DIFFERS)
    from fieldbook.screens.pages.conflict_page import ConflictPage

    cell = host.cursor.cell

    def closed(settled: Settled | None) -> None:
        if host.open_job.job.job.off_board:
            host.leave()
            return
        if settled is None or settled.at is None:
            host.redraw()
            return
        host.open_place(settled.at.place, settled.at)
        host.say(f"{settled.said} Ctrl+Z takes it back.")

    host.app.push_screen(ConflictPage(host.open_job, cell.at if cell else None), closed)


def compare_rules(host: CommandHost) -> None:
    """Choose a rule set and show which rules and flags would differ."""
    from fieldbook.screens.pages.page import Page
    from fieldbook.screens.pages.reports import comparison_lines

    known = rules.known_sets(host.open_job.book.path)

    def show(name: str) -> None:
        found = rules.compare(host.open_job, name)
        host.app.push_screen(Page(lambda _width: comparison_lines(found, known.refused)))

    _choose_set(host, known, "Compare this job with the rule set", show)


def _choose_place_rule(host: CommandHost) -> None:
    from fieldbook.actions.watering.place_rules import choose_place, rule_choices

    names = rule_choices()

    def keep(name: str) -> None:
        choose_place(host.open_job, name)
        host.redraw()
        host.say(f"Watering rule: {name}. Look it up before you rely on it.")

    def closed(index: int | None) -> None:
        if index is not None:
            host.attempt(lambda: keep(names[index]))

    host.app.push_screen(Choose("Watering rule of which place?", names), closed)


def _choose_rules(host: CommandHost) -> None:
    known = rules.known_sets(host.open_job.book.path)

    def keep(name: str) -> None:
        rules.choose_rules(host.open_job, name)
        host.redraw()
        refused = f" {known.refused[0]}" if known.refused else ""
        host.say(f"This job is held to the rule set {name}.{refused}")

    folder = f"{rules.FOLDER}{'/' if known.sets else '/ (no file there yet)'}"
    _choose_set(host, known, f"Rule set (files in {folder})", keep)


def _choose_set(
    host: CommandHost, known: rules.KnownSets, title: str, chosen: Callable[[str], None]
) -> None:
    """Ask for one of the rule sets that hold today."""
    names = known.names(date.today())

    def closed(index: int | None) -> None:
        if index is not None:
            host.attempt(lambda: chosen(names[index]))

    host.app.push_screen(Choose(title, names), closed)


def attach_file(host: CommandHost) -> None:
    """Attach a file to the row under the cursor; to the property where there is no row yet.

    A row that ought to have a photo gets it even before anything is entered in it, and the photo is
    named by what it shows.
    """
    cell = host.cursor.cell
    if cell is None:
        raise RefusedError("Move to a line first: the file is attached to it.")
    open_job, table, row_id = host.open_job, cell.at.table, cell.at.row_id
    shot = shot_of(open_job.job, row_id)
    if open_job.job.row(row_id) is None and shot is None:
        table, row_id = "job", open_job.job_id
    title = TABLES[table].title if table in TABLES else "property"
    shows = shot.shows if shot is not None else ""
    newest = files.newest_photo(open_job)

    def refuse(typed: str) -> str | None:
        return None if typed.strip() or newest else "Type its whole path, or Esc to leave."

    def keep(typed: str) -> None:
        name = files.attach(open_job, table, row_id, typed or str(newest), shows)
        host.redraw()
        host.say(f"Attached {name} to the {title}; it is listed at the desk.")

    def closed(typed: str | None) -> None:
        if typed is not None:
            host.attempt(lambda: keep(typed.strip()))

    asked = f"Photo of {shows}: which file?" if shows else f"Attach to the {title}: which file?"
    hint = "Its whole path; a name alone is looked for in the folder used last."
    if newest is not None:
        name, folder = short(newest.name), short(newest.parent.name)
        hint = f"Enter alone takes {name}: the newest photo in {folder} that is not attached yet."
    host.app.push_screen(AskLine(asked, hint, refuse), closed)


def _open_zone(host: CommandHost, zone_id: str) -> None:
    from fieldbook.actions.bulk.keep_sizes import keep_sizes
    from fieldbook.checks.water.zone_status import zone_statuses
    from fieldbook.screens.pages.zone_page import ZonePage

    job = host.open_job.job
    status = next(status for status in zone_statuses(job) if status.zone.id == zone_id)

    def enter(found: LateralSizes) -> None:
        count = keep_sizes(host.open_job, status.zone, found)
        host.redraw()
        runs = "run has its" if count == 1 else "runs have their"
        host.say(f"{count} {runs} new size. Ctrl+Z takes it back.")

    def keep(found: LateralSizes) -> None:
        host.attempt(lambda: enter(found))

    host.app.push_screen(ZonePage(job, status, keep))


def diagnose(host: CommandHost) -> None:
    """What is wrong with a zone: asks which, where there are several."""
    zones = host.open_job.job.zones
    if not zones:
        raise RefusedError("There is no zone yet: enter it at the ground.")
    if len(zones) == 1:
        _open_diagnosis(host, zones[0].id)
        return

    def closed(index: int | None) -> None:
        if index is not None:
            _open_diagnosis(host, zones[index].id)

    names = [sentence(zone_name(zone)) for zone in zones]
    host.app.push_screen(Choose("What is wrong with which zone?", names), closed)


def _open_diagnosis(host: CommandHost, zone_id: str) -> None:
    from fieldbook.screens.pages.service.diagnosis_page import DiagnosisPage

    job = host.open_job.job
    zone = job.zone(zone_id)
    if zone is not None:
        host.app.push_screen(DiagnosisPage(job, zone))


def _open_audit(host: CommandHost, audit_id: str) -> None:
    from fieldbook.checks.measured.audits import audit_results
    from fieldbook.screens.pages.audit_page import audit_page

    job = host.open_job.job
    host.app.push_screen(audit_page(job, audit_results(job)[audit_id]))


def _open_file(host: CommandHost, attachment_id: str) -> None:
    file = host.open_job.job.row(attachment_id)
    if not isinstance(file, Attachment):
        return
    from fieldbook.screens.pages.photo_page import PhotoPage

    book_path = host.open_job.book.path

    def outside() -> str:
        try:
            files.open_outside(book_path, file)
        except RefusedError as why:
            return str(why)
        return ""

    host.app.push_screen(PhotoPage(file, state_of(book_path, file), outside))
