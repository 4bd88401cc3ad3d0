"""The desk's papers: permits, tickets, inspections, licences, sign-offs, attached files."""

from __future__ import annotations

from datetime import datetime

from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.holds import SIGN_OFFS, unmet
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.permits import CrewMember, Inspection, Permit
from fieldbook.screens.sheets.desk_digging import (
    digging,
    hand_digging,
    marks_rows,
    open_on_digging,
)
from fieldbook.screens.sheets.options import attached_to, signature_words
from fieldbook.screens.sheets.presses import AddRow, OpenFile, SignJob
from fieldbook.screens.sheets.sheet import (
    CellMaker,
    Row,
    Section,
    blanks,
    press_cell,
    table_section,
)
from fieldbook.units import System

_SIGNED = 23
"""The width of a signature: initials, day, and whether it is unproven or overridden."""


def groundwork(job: LoadedJob, system: System) -> tuple[Section, ...]:
    """Permits, the locate ticket, inspections, the crew's licences."""
    return (
        table_section(
            job.permits,
            Permit,
            system,
            "Permits",
            (("kind", 14), ("number", 18), ("issued_on", 10), ("expires_on", 10)),
            AddRow("permit", "permit", "kind"),
        ),
        *digging(job, system),
        table_section(
            job.inspections,
            Inspection,
            system,
            "Inspections",
            (("kind", 15), ("held_on", 10), ("result", 10), ("inspector", 20), ("number", 12)),
            AddRow("inspection", "inspection", "kind"),
        ),
        table_section(
            job.crew,
            CrewMember,
            system,
            "Crew and licences",
            (("name", 22), ("role", 15), ("licence", 20), ("expires_on", 10)),
            AddRow("crew_member", "crew member", "name"),
        ),
    )


def open_on_papers(job: LoadedJob) -> int:
    """How many cells of these sections still want a value."""
    return (
        blanks(Permit, job.permits)
        + open_on_digging(job)
        + blanks(Inspection, job.inspections)
        + blanks(CrewMember, job.crew)
        + blanks(Attachment, job.attachments)
    )


def sign_offs(job: LoadedJob) -> Section:
    """The sign-offs of the whole job, each with the holds it waits for."""
    rows: list[Row] = []
    now = datetime.now().astimezone()
    for kind, words in SIGN_OFFS.items():
        why = "Space signs, with your initials and the time; a hold that is not met says why not."
        if kind == "dig":
            why = f"{hand_digging(job)} Space signs; a hold that is not met says why not."
        text = signature_words(job, kind, None, _SIGNED) or _waits(job, kind, now)
        at = CellRef("sign_off", kind, "sign off")
        rows.append(Row(words, (press_cell(SignJob(kind), at, text, _SIGNED, why),)))
        if kind == "dig":
            rows += marks_rows(job)
    return Section("Sign-offs", tuple(rows), label_width=36)


def _waits(job: LoadedJob, kind: str, now: datetime) -> str:
    """How many holds a sign-off waits for."""
    waits = len(unmet(job, kind, None, now.replace(tzinfo=None)))
    return f"waits for {waits} hold{'s' if waits > 1 else ''}" if waits else "-"


def files(job: LoadedJob, system: System) -> Section:
    """The attached photos and papers of all rows."""
    rows: list[Row] = []
    for one in job.attachments:
        make = CellMaker(Attachment, one.id, one, system)
        why = "Enter shows it: when and where it was taken; o opens it outside."
        opens, at = OpenFile(one.id), CellRef("attachment", one.id, "file")
        shown = press_cell(opens, at, one.name, 22, why)
        # Two cells of a row open the file; the second needs an address of its own.
        at_other = CellRef("attachment", f"{one.id} of", "file")
        of = press_cell(opens, at_other, attached_to(job, one), 20, why)
        rows.append(Row(str(len(rows) + 1), (shown, make.cell("note", 26), of)))
    tail = "" if rows else "Ctrl+A on any line attaches a file to it."
    rows.append(Row("", (), tail=tail))
    heads = ("File", "What it shows")
    return Section("Photos and papers", tuple(rows), heads, label_width=4)
