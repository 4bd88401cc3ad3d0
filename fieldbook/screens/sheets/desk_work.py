"""The desk's papers: permits, tickets, inspections, licences, sign-offs, attached files."""

from __future__ import annotations

from datetime import datetime

from fieldbook.checks.progress.holds import SIGN_OFFS, unmet
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.permits import CrewMember, Inspection, LocateTicket, Permit
from fieldbook.screens.sheets.options import attached_to
from fieldbook.screens.sheets.sheet import CellMaker, Mood, Row, Section, act_cell, table_section
from fieldbook.units import System


def groundwork(job: LoadedJob, system: System) -> tuple[Section, ...]:
    """Permits, the locate ticket, inspections, the crew's licences."""
    return (
        table_section(
            job.permits,
            Permit,
            system,
            "Permits",
            (("kind", 14), ("number", 18), ("issued_on", 10), ("expires_on", 10)),
            "permit",
        ),
        table_section(
            job.locate_tickets,
            LocateTicket,
            system,
            "Locate tickets (nobody digs before the clear date)",
            (
                ("number", 14),
                ("called_on", 10),
                ("clear_on", 10),
                ("expires_on", 10),
                ("dug_from", 10),
                ("dug_until", 10),
                ("renewed_on", 10),
            ),
            "ticket",
        ),
        table_section(
            job.inspections,
            Inspection,
            system,
            "Inspections",
            (("kind", 15), ("held_on", 10), ("result", 10), ("inspector", 20), ("number", 12)),
            "inspection",
        ),
        table_section(
            job.crew,
            CrewMember,
            system,
            "Crew and licences",
            (("name", 22), ("role", 15), ("licence", 20), ("expires_on", 10)),
            "crew member",
        ),
    )


def sign_offs(job: LoadedJob) -> Section:
    """The sign-offs of the whole job, each held back until its holds are met."""
    rows: list[Row] = []
    for kind, words in SIGN_OFFS.items():
        signed = job.signed(kind)
        text = "-"
        mood: Mood = ""
        if signed is not None:
            text = f"{signed.signed_by} {signed.signed_at[:10]}"
            text += " override" if signed.overridden else ""
            mood = "tight" if signed.overridden else "good"
        waits = len(unmet(job, kind, None, datetime.now())) if signed is None else 0
        tail = f"waits for {waits} hold{'s' if waits > 1 else ''}" if waits else ""
        why = "Space signs, with your initials and the time; a hold that is not met says why not."
        cell = act_cell("sign off", "sign_off", kind, text, 24, why, {"kind": kind})
        rows.append(Row(words, (cell,), tail=tail, mood=mood))
    return Section("Sign-offs", tuple(rows), ("Signed",), label_width=33)


def files(job: LoadedJob, system: System) -> Section:
    """Photos and papers, whatever they are attached to."""
    rows: list[Row] = []
    for one in job.attachments:
        make = CellMaker(Attachment, "attachment", one.id, one, system)
        why = "Enter shows it: when and where it was taken; o opens it outside."
        shown = act_cell("file", "attachment", one.id, one.name, 22, why, {"id": one.id})
        of = act_cell(
            "file", "attachment", f"{one.id} of", attached_to(job, one), 20, why, {"id": one.id}
        )
        rows.append(Row(str(len(rows) + 1), (shown, make.cell("note", 26), of)))
    tail = "" if rows else "Ctrl+A on any line attaches a file to it."
    rows.append(Row("", (), tail=tail))
    heads = ("File", "What it shows")
    return Section("Photos and papers", tuple(rows), heads, label_width=4)
