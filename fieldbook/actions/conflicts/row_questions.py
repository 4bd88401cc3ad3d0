"""What a line asks that was removed on one laptop, names what is gone, or is signed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.actions.conflicts.authors import minute_of, said_by
from fieldbook.actions.conflicts.question import Option, Question
from fieldbook.actions.rows import whole_removal
from fieldbook.checks.common.naming import listed, row_name, sentence
from fieldbook.checks.desk.open_conflicts import (
    first_column,
    gone_name,
)
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Record, facts_of
from fieldbook.records.conflict import Conflict
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.store.changes import Change, Put, Restore

_SIGNED = "It was signed over, and sign-offs are evidence: it can only be put back."


def removed_question(job: LoadedJob, one: Conflict, own: str) -> Question:
    """Keep what another laptop removed, or remove it."""
    name, row = row_name(job, one.table, one.row_id), job.row(one.row_id)
    away = tuple(said_by(one, own) for one in one.versions if one.value == "removed")
    changed = tuple(said_by(one, own) for one in one.versions if one.value != "removed")
    back = (Restore(one.table, one.row_id),)
    by = tuple(f"changed by {line}" for line in changed)
    options = [Option("keep it, with what went with it", by, back, f"{name} kept", f"Kept {name}.")]
    changes = whole_removal(job, [(one.table, row)]) if row is not None else []
    if changes:
        by = tuple(f"removed by {line}" for line in away)
        done = f"Removed {name}."
        options.append(Option("remove it", by, tuple(changes), f"{name} removed", done))
    told = "One laptop removed it while another changed it: it stays until you choose."
    if not changes:
        told = f"{told} {_SIGNED}"
    at = CellRef(one.table, one.row_id, first_column(one.table))
    return Question(one.kind, sentence(name), told, at, at.place, tuple(options))


def evidence_question(job: LoadedJob, one: Conflict, own: str) -> Question:
    """Nothing to choose: who signed, and who changed it."""
    row = job.row(one.row_id)
    signed = f"signed by {said_by(one.versions[-1], own)}"
    if isinstance(row, SignOff):
        signed = f"signed by {row.signed_by or '?'}, {minute_of(row.signed_at)}"
    tried = [f"changed by {said_by(version, own)}" for version in one.versions[:-1]]
    told = "A signature stays as it was signed: there is nothing to choose. Ask who changed it."
    at = CellRef(one.table, one.row_id, "state")
    title = sentence(row_name(job, one.table, one.row_id))
    return Question(one.kind, title, told, at, at.place, (), (signed, *tried))


def lost_questions(job: LoadedJob, lost: Sequence[Conflict], own: str) -> Iterator[Question]:
    """One question for each row that is gone, about all that names it."""
    for gone in dict.fromkeys(one.gone for one in lost):
        yield _lost(job, [one for one in lost if one.gone == gone], own)


def _lost(job: LoadedJob, lost: Sequence[Conflict], own: str) -> Question:
    first = lost[0]
    gone, at = gone_name(first), CellRef(first.table, first.row_id, first.column)
    names = listed([row_name(job, one.table, one.row_id) for one in lost])
    by = said_by(first.versions[0], own)
    back = Option(
        f"put {gone} back, with what went with it",
        (f"removed by {by}",),
        (Restore(*first.gone),),
        f"{gone} put back",
        f"Put {gone} back.",
    )
    options = [back]
    told = f"It was removed while another laptop still used it: {names}."
    belongs = any(_fact(one).kind == "hidden" for one in lost)
    changes = _let_go(job, lost)
    if changes:
        words = f"remove {names} too" if belongs else f"leave it blank in {names}"
        options.append(Option(words, (), tuple(changes), f"{gone} let go", f"Let {gone} go."))
    else:
        told = f"{told} {_SIGNED}"
    title = f"What is left of {gone}" if belongs else f"What names {gone}, which is gone"
    return Question(first.kind, title, told, at, at.place, tuple(options))


def _let_go(job: LoadedJob, lost: Sequence[Conflict]) -> list[Change]:
    """What belonged to what is gone goes too; what merely names it is cleared."""
    rows: list[tuple[str, Record]] = []
    clear: list[Change] = []
    for one in lost:
        row = job.row(one.row_id)
        if row is not None and _fact(one).kind == "hidden":
            rows.append((one.table, row))
        elif row is not None:
            clear.append(Put(one.table, one.row_id, one.column, None))
    removed = whole_removal(job, rows)
    return [] if rows and not removed else [*clear, *removed]


def _fact(one: Conflict) -> Fact:
    return facts_of(TABLES[one.table])[one.column]
