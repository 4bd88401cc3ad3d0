"""The desk's papers: the crew's licences, and the files attached to all rows."""

from __future__ import annotations

from fieldbook.checks.finding import CellRef
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.permits import CrewMember
from fieldbook.screens.sheets.options import attached_to
from fieldbook.screens.sheets.presses import AddRow, OpenFile
from fieldbook.screens.sheets.sheet import (
    CellMaker,
    Count,
    Row,
    Section,
    blanks,
    press_cell,
    table_section,
)
from fieldbook.units import System


def licences(job: LoadedJob, system: System) -> Section:
    """The crew, and the licence that each works under."""
    return table_section(
        job.crew,
        CrewMember,
        system,
        "Crew and licences",
        (("name", 22), ("role", 15), ("licence", 20), ("expires_on", 10)),
        AddRow("crew_member", "crew member", "name"),
    )


def open_on_papers(job: LoadedJob) -> Count:
    """How many cells these sections ask for, and how many of them are open."""
    return blanks(CrewMember, job.crew) + blanks(Attachment, job.attachments)


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
