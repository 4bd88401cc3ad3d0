"""Settle what laptops say differently: every open question, and the acts that answer it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires
from fieldbook.actions.conflicts.cell_questions import cell_question, unreadable_question
from fieldbook.actions.conflicts.question import TWICE, Option, Question
from fieldbook.actions.conflicts.row_questions import (
    evidence_question,
    lost_questions,
    removed_question,
)
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.rows import free_names
from fieldbook.checks.common.naming import listed, row_name, short
from fieldbook.checks.desk.duplicates import Double, doubles
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import facts_of
from fieldbook.records.conflict import CELL, EVIDENCE, LOST, REMOVED, UNREADABLE, Conflict
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Valve
from fieldbook.records.values import Value, shown
from fieldbook.store.changes import Change, Put

_ASKS: Mapping[str, Callable[[LoadedJob, Conflict, str], Question]] = {
    CELL: cell_question,
    UNREADABLE: unreadable_question,
    REMOVED: removed_question,
    EVIDENCE: evidence_question,
}
NONE = "Nothing differs: what the laptops entered fits together."


def questions(job: LoadedJob, own: str) -> tuple[Question, ...]:
    """Everything in a job that waits for a choice; `own` is the origin of this laptop."""
    lost = [one for one in job.conflicts if one.kind == LOST]
    asked = [_ASKS[one.kind](job, one, own) for one in job.conflicts if one.kind != LOST]
    asked += lost_questions(job, lost, own)
    asked += [_twice(job, double) for double in doubles(job)]
    # What can be answered comes first.
    return tuple(sorted(asked, key=lambda one: not one.open))


def questions_of(open_job: OpenJob) -> tuple[Question, ...]:
    """The questions of the open property."""
    return questions(open_job.job, open_job.book.origin)


def choose(open_job: OpenJob, question: Question, number: int) -> str:
    """Answer a question with its option 1, 2 ...; returns what was done, as a sentence."""
    if not 1 <= number <= len(question.options):
        raise RefusedError(f"There is no {number} to choose here.")
    option = question.options[number - 1]
    if not open_job.keep(option.changes, option.what):
        raise RefusedError("Nothing changed: it is so already.")
    return option.done


def enter_third(open_job: OpenJob, question: Question, text: str) -> str:
    """Answer with a value typed as in the sheet; raises RefusedError, and all stays open."""
    if not question.typed:
        raise RefusedError("Nothing can be typed here.")
    if not text.strip():
        raise RefusedError("Type a value, or Esc leaves it open.")
    at, fact = question.at, entering.fact_at(question.at)
    if fact.kind == "link":
        entering.enter(open_job, at, _row_meant(open_job.job, at, text))
    elif fact.kind == "colour":
        log_wires.log_wire(open_job, at, log_wires.colour_seen(text, _free(open_job.job, at)), "")
    else:
        entering.enter_text(open_job, at, text)
    value = entering.value_at(open_job, at)
    words = row_name(open_job.job, fact.links_to, str(value)) if fact.links_to else ""
    words = words or shown(fact, value, open_job.system)
    return f"Kept {short(words)} as {fact.label.lower()}."


def words_for(job: LoadedJob, question: Question) -> list[str]:
    """What may be typed, where it is one of a few."""
    fact = entering.fact_at(question.at)
    if fact.kind == "link":
        return [word for word, _ in _rows(job, fact.links_to)]
    if fact.kind == "tick":
        return ["yes", "no"]
    return _free(job, question.at) if fact.kind == "colour" else list(fact.choices)


def _rows(job: LoadedJob, table: str) -> Iterator[tuple[str, str]]:
    """The rows of a table by the number or name that a crew knows them by."""
    for row in job.tables()[table]:
        own = getattr(row, "number", None) or getattr(row, "name", None)
        yield str(own or TABLES[table].title), row.id


def _row_meant(job: LoadedJob, at: CellRef, text: str) -> Value:
    """The row that was typed, whole or by its beginning."""
    fact, typed = entering.fact_at(at), text.strip().casefold()
    rows = list(_rows(job, fact.links_to))
    found = [row_id for word, row_id in rows if word.casefold() == typed]
    found = found or [row_id for word, row_id in rows if word.casefold().startswith(typed)]
    if len(found) != 1:
        words = ", ".join(word for word, _ in rows)
        title = TABLES[fact.links_to].title
        none = f"There is no {title} yet: add one first."
        raise RefusedError(f"{fact.label} takes one of {words}." if words else none)
    return found[0]


def _free(job: LoadedJob, at: CellRef) -> list[str]:
    """The colours still free for a wire end."""
    row = job.row(at.row_id)
    if not isinstance(row, Valve | Terminal):
        return []
    cable = job.cable_of(row)
    if cable is None:
        return []
    free = log_wires.free_at_box if isinstance(row, Valve) else log_wires.free_at_controller
    return free(job, cable.id, row.id)


def _twice(job: LoadedJob, double: Double) -> Question:
    """Rows that have one number: each may keep it."""
    fact = facts_of(TABLES[double.table])[double.column]
    names = _names(job, double)
    free = free_names(job, double.table, len(names) - 1)
    options = tuple(_keeps(job, double, names, row_id, free) for row_id in names)
    told = f"{listed(list(names.values()))} have the same {double.column}."
    if double.table == "zone":
        told += f" Terminal {double.value} runs the one that keeps the number."
    at = CellRef(double.table, double.row_ids[-1], double.column)
    title = f"{fact.label} {double.value}, given twice"
    return Question(TWICE, title, told[:1].upper() + told[1:], at, at.place, options)


def _names(job: LoadedJob, double: Double) -> dict[str, str]:
    """The rows of a double by id; those of one name also by who entered them."""
    names = {row_id: row_name(job, double.table, row_id) for row_id in double.row_ids}
    if len(set(names.values())) == len(names):
        return names
    who = {row_id: getattr(job.row(row_id), "entered_by", "") or "?" for row_id in names}
    return {row_id: f"{name} of {who[row_id]}" for row_id, name in names.items()}


def _keeps(
    job: LoadedJob, double: Double, names: dict[str, str], kept: str, free: Sequence[int | str]
) -> Option:
    others = [row_id for row_id in double.row_ids if row_id != kept]
    given = list(zip(others, free, strict=False))
    changes: list[Change] = [
        Put(double.table, row_id, double.column, number) for row_id, number in given
    ]
    become = listed([f"{names[row_id]} becomes {number}" for row_id, number in given])
    row = job.row(kept)
    entered = f"entered by {row.entered_by}, {row.entered_at[:16]}" if row is not None else ""
    words = f"keep {double.value} for {names[kept]}; {become}"
    done = f"Kept {double.value} for {names[kept]}; {become}."
    return Option(words, (entered.replace("T", " "),), tuple(changes), f"{become}", done)
