"""The visits to a property, the newest first, and what belongs to the one in work."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from fieldbook.checks.common.naming import short
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.checks.service.visit_summary import ChangeWords, VisitSummary, visit_summaries
from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.visits import Visit, VisitChange, VisitStep
from fieldbook.screens.sheets.service.visit_presses import AddToVisit, StartVisit
from fieldbook.screens.sheets.sheet import (
    CellMaker,
    Row,
    Section,
    add_line,
)
from fieldbook.units import System

_COLUMNS = (
    ("ended", 5),
    ("asked_by", 26),
    ("found", 30),
    ("done", 30),
    ("next_due", 10),
    ("next_reason", 13),
    ("hours", 6),
    ("who", 10),
    ("note", 30),
    ("reason", 13),
    ("held_on", 10),
)
_NOTE = 30
_CHANGE = (("what", 13), ("why", 24), ("warranty", 8), ("before", 16), ("after", 16))
_TYPED = 3
"""Of a change of the record the first so many columns are typed; the others are in the journal."""
_LONGEST_VALUES = 34
_NOT_YET = "Changes count as made on a visit once the property is handed over."


def visit_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """All visits as a table, then the steps and the changes of the visit under way or the last."""
    summaries = visit_summaries(job)
    yield _visits(job, system, summaries)
    if not summaries:
        return
    under_way = visit_under_way(job, date.today())
    shown = next((one for one in summaries if one.visit == under_way), summaries[0])
    yield _steps(shown, system)
    if shown.changes or job.signed("handover") is not None:
        yield _changes(shown, system)


def _visits(job: LoadedJob, system: System, summaries: tuple[VisitSummary, ...]) -> Section:
    rows = []
    for one in summaries:
        make = CellMaker(Visit, one.visit.id, one.visit, system)
        cells = tuple(make.cell(column, width) for column, width in _COLUMNS)
        rows.append(
            Row(
                one.visit.held_on or "no date",
                cells,
                removable=("visit", one.visit.id),
                beside=one.visit.reason or "",
                tail=f"  {one.in_short}" if one.in_short else "",
            )
        )
    rows.append(add_line(StartVisit(), "+ a visit today: choose why"))
    if job.signed("handover") is None:
        rows.append(Row("", tail=f"  {_NOT_YET}"))
    return Section("Visits", tuple(rows), _heads(Visit, _COLUMNS), label_width=30)


def _heads(
    record: type[Visit | VisitChange], columns: tuple[tuple[str, int], ...]
) -> tuple[str, ...]:
    facts = facts_of(record)
    return tuple(facts[column].label for column, _ in columns)


def _steps(one: VisitSummary, system: System) -> Section:
    rows = []
    for step in one.steps:
        make = CellMaker(VisitStep, step.id, step, system)
        cells = (make.cell("done"), make.cell("note", _NOTE))
        label = step.step or f"step {step.number or ''}"
        rows.append(Row(label, cells, removable=("visit_step", step.id)))
    adds = AddToVisit(one.visit.id, "visit_step", ("step", "done"), "step")
    rows.append(add_line(adds, "+ a step"))
    title = f"Steps of the visit of {one.title}"
    return Section(title, tuple(rows), ("Done", "Note"), label_width=64)


def _changes(one: VisitSummary, system: System) -> Section:
    """What changed on the visit; of a change of the record only its kind and why are entered."""
    rows = [_change(words, system) for words in one.changes]
    adds = AddToVisit(one.visit.id, "visit_change", ("thing", "what"), "other work")
    rows.append(add_line(adds, "+ other work on this visit: type the thing"))
    title = f"Changed on the visit of {one.title}"
    return Section(title, tuple(rows), _heads(VisitChange, _CHANGE), label_width=40)


def _change(words: ChangeWords, system: System) -> Row:
    change = words.change
    make = CellMaker(VisitChange, change.id, change, system)
    label = f"{words.thing}, {words.column.lower()}" if words.column else words.thing
    if not (change.was or change.became):
        return Row(label, make.cells(**dict(_CHANGE)), removable=("visit_change", change.id))
    # What the record held and holds stands in the journal too: nobody types it here.
    cells = make.cells(**dict(_CHANGE[:_TYPED]))
    values = f"{words.before or 'nothing'} -> {words.after or 'nothing'}"
    return Row(label, cells, beside=short(values, _LONGEST_VALUES))
