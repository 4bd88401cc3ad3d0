"""Settle what laptops entered differently: every open question of a property, and its answers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from fieldbook.actions import cells, log_wires
from fieldbook.actions.conflicts.address_questions import address_questions
from fieldbook.actions.conflicts.cell_questions import cell_question, unreadable_question
from fieldbook.actions.conflicts.question import Question
from fieldbook.actions.conflicts.row_questions import (
    evidence_question,
    lost_questions,
    removed_question,
)
from fieldbook.actions.conflicts.twice_questions import twice_question
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import listed, row_name, short
from fieldbook.checks.finding import CellRef
from fieldbook.records.conflict import BROKEN_LINK, CELL, EVIDENCE, REMOVED, UNREADABLE, Conflict
from fieldbook.records.known_by import duplicates
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Valve
from fieldbook.records.values import Value, shown

_ASKS: Mapping[str, Callable[[LoadedJob, Conflict, str], Question]] = {
    CELL: cell_question,
    UNREADABLE: unreadable_question,
    REMOVED: removed_question,
    EVIDENCE: evidence_question,
}
NOTHING_DIFFERS = "Nothing differs: what the laptops entered fits together."


def questions(job: LoadedJob, own: str) -> tuple[Question, ...]:
    """Everything in a job that waits for a choice, what can be answered here first.

    `own` is the origin of this laptop.
    """
    lost = [conflict for conflict in job.conflicts if conflict.kind == BROKEN_LINK]
    others = [conflict for conflict in job.conflicts if conflict.kind != BROKEN_LINK]
    asked = [_ASKS[conflict.kind](job, conflict, own) for conflict in others]
    asked += lost_questions(job, lost, own)
    twice = [twice_question(job, double) for double in duplicates(job)]
    # Joined in opposite directions, both stay, and to join them again settles more than to remove.
    rows = {row_id for double in duplicates(job) for row_id in double.row_ids}
    first = any(conflict.kind == REMOVED and conflict.row_id in rows for conflict in others)
    asked = [*twice, *asked] if first else [*asked, *twice]
    return tuple(sorted(asked, key=lambda question: not question.open))


def questions_of(open_job: OpenJob) -> tuple[Question, ...]:
    """The questions of the open property."""
    asked = (*address_questions(open_job), *questions(open_job.job, open_job.book.origin))
    return tuple(sorted(asked, key=lambda question: not question.open))


def choose(open_job: OpenJob, question: Question, number: int) -> str:
    """Answer a question with its option 1, 2 ..., as one act; returns the sentence to show.

    Raises RefusedError where there is no such option, or it changes nothing any more.
    """
    if not 1 <= number <= len(question.options):
        raise RefusedError(f"There is no {number} to choose here.")
    option = question.options[number - 1]
    if option.job_id in ("", open_job.job_id):
        changed = open_job.commit(option.changes, option.what)
    else:
        book = open_job.book
        changed = book.commit(option.job_id, option.changes, by=open_job.by, what=option.what)
        open_job.refresh()
    if not changed:
        raise RefusedError("Nothing changed: it is so already.")
    return option.done


def answer_typed(open_job: OpenJob, question: Question, text: str) -> str:
    """Answer a question with a value typed as in the sheet, as one act; returns the sentence.

    Raises RefusedError where nothing may be typed or the value is refused; all stays open then.
    """
    if not question.typed:
        raise RefusedError("Nothing can be typed here.")
    if not text.strip():
        raise RefusedError("Type a value, or Esc leaves it open.")
    job, at, fact = open_job.job, question.at, cells.fact_at(question.at)
    if fact.kind == "link":
        cells.enter(open_job, at, _row_typed(job, at, text))
    elif fact.kind == "colour":
        colour = log_wires.colour_seen(text, _free_colours(job, at))
        log_wires.log_wire(open_job, at, colour, "")
    else:
        cells.enter_text(open_job, at, text)
    value = cells.value_at(open_job, at)
    words = row_name(open_job.job, fact.links_to, str(value)) if fact.links_to else ""
    words = words or shown(fact, value, open_job.system)
    return f"Kept {short(words)} as {fact.label.lower()}."


def words_to_type(job: LoadedJob, question: Question) -> list[str]:
    """The words that may be typed, where only a few are accepted; else none."""
    fact = cells.fact_at(question.at)
    if fact.kind == "link":
        return [name for name, _ in _named_rows(job, fact.links_to)]
    if fact.kind == "tick":
        return ["yes", "no"]
    return _free_colours(job, question.at) if fact.kind == "colour" else list(fact.choices)


def _named_rows(job: LoadedJob, table: str) -> Iterator[tuple[str, str]]:
    """The rows of a table: the number or name that a crew knows each by, and its id."""
    for row in job.tables()[table]:
        name = getattr(row, "number", None) or getattr(row, "name", None)
        yield str(name or TABLES[table].title), row.id


def _row_typed(job: LoadedJob, at: CellRef, text: str) -> Value:
    """The id of the row whose number or name was typed, whole or by its beginning."""
    fact = cells.fact_at(at)
    rows = list(_named_rows(job, fact.links_to))
    found = cells.begun_by(text, rows)
    if len(found) == 1:
        return found[0]
    if not rows:
        raise RefusedError(f"There is no {TABLES[fact.links_to].title} yet: add one first.")
    raise RefusedError(f"{fact.label} takes one of {listed([name for name, _ in rows])}.")


def _free_colours(job: LoadedJob, at: CellRef) -> list[str]:
    """The colours still free for a wire end; none for a row that does not exist yet."""
    row = job.row(at.row_id)
    cable = job.cable_of(row) if isinstance(row, Valve | Terminal) else None
    if cable is None:
        return []
    free = log_wires.free_at_box if isinstance(row, Valve) else log_wires.free_at_controller
    return free(job, cable.id, at.row_id)
