"""Catch-can audits, and the cans of the newest audit of each zone, typed one after another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from fieldbook.actions.bulk.draft import DraftJob
from fieldbook.actions.cells import enter_text
from fieldbook.actions.keymap import KeyWords
from fieldbook.actions.measuring import add_audit, add_can, catches
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.checks.measured.audits import (
    AuditResult,
    audit_results,
    cans_of,
    caught_column,
    newest_audits,
)
from fieldbook.checks.measured.measured_words import result_words
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.audit import CatchAudit, CatchCan
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import AddRow
from fieldbook.screens.sheets.service.audit_press import OpenAudit
from fieldbook.screens.sheets.sheet import CellMaker, Mood, Row, Section, add_line, press_cell
from fieldbook.units import System

_AUDITED = (
    ("held_on", 10),
    ("run_min", 7),
    ("wind_mph", 7),
    ("caught_as", 7),
    ("throat_in", 7),
)
_RARELY = (("quarter_rule", 8), ("note", 24))
_OTHER_ZONES = ("zone_2_id", "zone_3_id")


@dataclass(frozen=True)
class AddCan(AddRow):
    """Adds a can, or as many as numbers are typed; the cursor then waits for the next one."""

    table: str = "catch_can"
    name: str = "can"
    first: str = "caught_ml"
    audit_id: str = ""
    keys: ClassVar[KeyWords] = (("type", "what each can holds"), ("Enter", "the next can"))

    @property
    def at(self) -> CellRef:
        """The line's own address: each audit has one."""
        return CellRef(self.table, self.audit_id, "add can")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add the next can, of a table or of what was typed.

        Enter alone is refused: pressed once too often it would leave a can that nobody read.
        """
        if not isinstance(open_job, DraftJob):
            raise RefusedError("Type what the can holds, then press Enter; 0 for a dry one.")
        audit = open_job.job.find(CatchAudit, self.audit_id)
        assert audit is not None
        return CellRef(self.table, add_can(open_job, audit), self.first)

    @property
    def empty(self) -> bool:
        """A can is there by its number."""
        return False

    def add_typed(self, open_job: OpenJob, text: str) -> CellRef:
        """Add a can for every catch that was typed, as one act.

        Returns the last cell of the last one, behind which the line for the next can is.
        """
        draft = DraftJob(open_job)
        typed, row_id = catches(text), ""
        for one in typed:
            at = self.add(draft)
            enter_text(draft, at, one)
            row_id = at.row_id
        draft.keep("can added" if len(typed) == 1 else f"{len(typed)} cans added")
        return CellRef(self.table, row_id, "out_ft")

    @property
    def first_fact(self) -> Fact:
        """What a can caught."""
        return facts_of(CatchCan)[self.first]


def audit_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """The sections, once there is a zone to be audited."""
    if not job.zones:
        return
    yield _audits(job, system)
    newest = [newest_audits(job, zone.id)[:1] for zone in job.zones]
    shown = {one.audit.id: one for found in newest for one in found}
    shown |= {one.audit.id: one for one in audit_results(job).values() if not one.zones}
    for result in shown.values():
        yield _cans(job, system, result)


def _audits(job: LoadedJob, system: System) -> Section:
    rows = []
    for result in audit_results(job).values():
        audit = result.audit
        make = CellMaker(CatchAudit, audit.id, audit, system)
        at = CellRef("catch_audit", audit.id, "drawing")
        why = "Enter draws the cans, the driest and the wettest marked."
        cells = (
            link_cell(make, job, "zone_id", 5),
            *(make.cell(*column) for column in _AUDITED),
            press_cell(OpenAudit(audit.id), at, "see", 7, why),
            *(make.cell(*column) for column in _RARELY),
            *(link_cell(make, job, column, 8) for column in _OTHER_ZONES),
        )
        mood: Mood = "good" if result.counts else "bad" if result.faults else ""
        removable = ("catch_audit", audit.id)
        tail = result_words(job, result)
        label = str(result.zones[0].number or "?") if result.zones else "?"
        rows.append(Row(label, cells, tail=tail, tail_mood=mood, removable=removable))
    adds = AddRow("catch_audit", "catch-can audit", "run_min", add_audit)
    rows.append(add_line(adds, "+ a catch-can audit"))
    facts = facts_of(CatchAudit)
    columns = (*_AUDITED, ("", 0), *_RARELY)
    labels = [facts[column].label if column else "Drawing" for column, _ in columns]
    heads = ("Zone", *labels, *(facts[column].label for column in _OTHER_ZONES))
    return Section("Catch-can audits", tuple(rows), heads, label_width=4)


def _cans(job: LoadedJob, system: System, result: AuditResult) -> Section:
    """The cans of an audit: what each caught, and where it stood if that is known."""
    column = caught_column(result.audit)
    rows = []
    for can in cans_of(job, result.audit):
        make = CellMaker(CatchCan, can.id, can, system)
        cells = (make.cell(column, 9), make.cell("along_ft", 9), make.cell("out_ft", 9))
        rows.append(Row(str(can.number or "?"), cells, removable=("catch_can", can.id)))
    adds = AddCan(first=column, audit_id=result.audit.id)
    words = "+ what the next can caught; several with blanks between"
    why = "Type what each can holds; Enter keeps it and waits for the next."
    rows.append(Row("", (press_cell(adds, adds.at, words, len(words), why),)))
    facts = facts_of(CatchCan)
    heads = tuple(facts[name].label for name in (column, "along_ft", "out_ft"))
    title = f"Cans of {result.where}, {result.audit.held_on or 'no day yet'}"
    return Section(title, tuple(rows), heads, label_width=5)
