"""Before digging: permits, the locate ticket, each utility's answer, the marks, the sign-off."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.actions import usual
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.usual import utilities_wanted
from fieldbook.checks.common.job_rules import figure
from fieldbook.checks.common.naming import quantity
from fieldbook.checks.finding import CellRef
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import LocateTicket, Permit, UtilityAnswer
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import Add, AddRow
from fieldbook.screens.sheets.sheet import (
    CellMaker,
    Count,
    Row,
    Section,
    add_line,
    blanks,
    table_section,
)
from fieldbook.screens.sheets.sign_off_sections import sign_off_section
from fieldbook.trade.cautions import MARK_COLOURS, cautions_at
from fieldbook.units import SHORT_LENGTH, System

_COLUMNS = (
    *("number", "called_on", "starts_on", "marked_on", "private_lines"),
    *("clear_on", "expires_on", "renewed_on", "dug_from", "dug_until"),
)
_COLOURS_A_LINE = 3


@dataclass(frozen=True)
class AddUtilities(Add):
    """Adds the utilities that usually answer a locate ticket, each without its answer yet."""

    ticket_id: str

    @property
    def at(self) -> CellRef:
        """The address of the first line that adds answers."""
        return CellRef("utility_answer", "", "add utility answer")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add them: the first one's answer is asked for first."""
        return CellRef("utility_answer", usual.add_utilities(open_job, self.ticket_id), "answer")

    def add_typed(self, open_job: OpenJob, text: str) -> CellRef:
        """Nothing is typed here: several rows are added at once."""
        raise RefusedError("Press Enter to add them, then answer each.")


def before_digging(job: LoadedJob, system: System) -> tuple[Section, ...]:
    """Permits, tickets and their answers, then the sign-off that lets the crew dig."""
    permits = table_section(
        job.permits,
        Permit,
        system,
        "Permits",
        (("kind", 14), ("number", 18), ("issued_on", 10), ("expires_on", 10)),
        AddRow("permit", "permit", "kind"),
    )
    marks = tuple(_marks_rows(job))
    sign = sign_off_section(job, "dig", why=hand_digging(job), below=marks)
    return (permits, *_tickets(job, system), sign)


def _tickets(job: LoadedJob, system: System) -> tuple[Section, ...]:
    """Each ticket in the order of its days, and under them the answers of the utilities."""
    sections = []
    several = len(job.locate_tickets) > 1
    for count, ticket in enumerate(job.locate_tickets, start=1):
        make = CellMaker(LocateTicket, ticket.id, ticket, system)
        removable = ("locate_ticket", ticket.id)
        rows = [
            Row(row.label, row.cells, removable=removable) for row in make.form(*_COLUMNS, width=20)
        ]
        title = "Locate ticket" + (f" {count}" if several else "")
        sections.append(Section(title, tuple(rows), cautions=cautions_at("digging")))
    line = (add_line(AddRow("locate_ticket", "ticket", "number"), "+ a ticket"),)
    if not sections:
        title = "Locate tickets (nobody digs before the clear date)"
        return (Section(title, line, cautions=cautions_at("digging")),)
    return (*sections, Section("", line), _answers(job, system))


def open_before_digging(job: LoadedJob) -> Count:
    """How many cells these sections ask for, and how many of them are open."""
    answers = job.utility_answers if job.locate_tickets else ()
    tickets = blanks(LocateTicket, job.locate_tickets)
    return blanks(Permit, job.permits) + tickets + blanks(UtilityAnswer, answers)


def _answers(job: LoadedJob, system: System) -> Section:
    """What each utility answered; one line adds the usual ones."""
    several = len(job.locate_tickets) > 1
    rows: list[Row] = []
    for one in job.utility_answers:
        make = CellMaker(UtilityAnswer, one.id, one, system)
        cells = [make.cell("utility", 16), make.cell("answer", 14), make.cell("answered_on", 10)]
        if several:
            cells.append(link_cell(make, job, "ticket_id", 14))
        rows.append(Row(str(len(rows) + 1), tuple(cells), removable=("utility_answer", one.id)))
    wanting = [one for one in job.locate_tickets if utilities_wanted(job, one)]
    if wanting:
        # A ticket without any answer comes first: nothing is known of it.
        fewest = max(wanting, key=lambda ticket: len(utilities_wanted(job, ticket)))
        names = utilities_wanted(job, fewest)
        rows.append(add_line(AddUtilities(fewest.id), f"+ {', '.join(names)}"))
    rows.append(add_line(AddRow("utility_answer", "utility", "utility"), "+ another utility"))
    title = "What each utility answered to the ticket"
    return Section(title, tuple(rows), ("Utility", "Answer", "On", "Ticket"), label_width=4)


def hand_digging(job: LoadedJob) -> str:
    """How wide digging by hand is by the job's rules, in one sentence."""
    width = quantity(job, figure(job, "tolerance_in").value, SHORT_LENGTH)
    return f"Dig by hand: the line's own width and {width} each side."


def _marks_rows(job: LoadedJob) -> list[Row]:
    """Under the sign-off of digging: the width to dig by hand, and what each colour marks."""
    said = [f"{colour} {what}" for colour, what in MARK_COLOURS]
    starts = range(0, len(said), _COLOURS_A_LINE)
    lines = [", ".join(said[start : start + _COLOURS_A_LINE]) for start in starts]
    return [Row("", tail=f"  {line}") for line in (hand_digging(job), *lines)]
