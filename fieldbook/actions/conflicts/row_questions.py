"""Questions about a whole row: removed on one laptop, orphaned or signed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.actions.cell_history import minute_of
from fieldbook.actions.conflicts.question import Option, Question, author_line
from fieldbook.actions.joining.join_rows import moving_changes
from fieldbook.actions.joining.moved_rows import all_moves
from fieldbook.actions.rows import whole_removal
from fieldbook.checks.common.naming import listed, row_name, sentence
from fieldbook.checks.desk.open_conflicts import first_column, gone_name
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Record, facts_of
from fieldbook.records.conflict import Conflict, Version
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.store.changes import Change, Put, Restore
from fieldbook.store.journal.merge import NEVER_CHANGED

_SIGNED = "It was signed over, and sign-offs are evidence: it can only be put back."


def removed_question(job: LoadedJob, conflict: Conflict, own: str) -> Question:
    """A row that one laptop removed while another changed it: keep it or remove it."""
    name = row_name(job, conflict.table, conflict.row_id)
    changed = [f"changed by {author_line(v, own)}" for v in conflict.versions if not _removes(v)]
    removed = [f"removed by {author_line(v, own)}" for v in conflict.versions if _removes(v)]
    restore = Restore(conflict.table, conflict.row_id)
    keep = "keep it, with what went with it"
    options = [Option(keep, tuple(changed), (restore,), f"{name} kept", f"Kept {name}.")]
    row = job.row(conflict.row_id)
    changes = tuple(whole_removal(job, [(conflict.table, row)])) if row is not None else ()
    explanation = "One laptop removed it while another changed it: it stays until you choose."
    if changes:
        done = f"Removed {name}."
        options.append(Option("remove it", tuple(removed), changes, f"{name} removed", done))
    else:
        explanation = f"{explanation} {_SIGNED}"
    at = CellRef(conflict.table, conflict.row_id, first_column(conflict.table))
    return Question(conflict.kind, sentence(name), explanation, at, tuple(options))


def _removes(version: Version) -> bool:
    return version.value == "removed"


def evidence_question(job: LoadedJob, conflict: Conflict, own: str) -> Question:
    """A sign-off that somebody tried to change: who signed and who tried, nothing to choose."""
    row = job.row(conflict.row_id)
    signed = f"signed by {author_line(conflict.versions[-1], own)}"
    if isinstance(row, SignOff):
        signed = f"signed by {row.signed_by or '?'}, {minute_of(row.signed_at)}"
    tried = [f"changed by {author_line(version, own)}" for version in conflict.versions[:-1]]
    return Question(
        conflict.kind,
        sentence(row_name(job, conflict.table, conflict.row_id)),
        "A signature stays as it was signed: there is nothing to choose. Ask who changed it.",
        CellRef(conflict.table, conflict.row_id, "state"),
        notes=(signed, *tried),
    )


def lost_questions(job: LoadedJob, lost: Sequence[Conflict], own: str) -> Iterator[Question]:
    """One question for each removed row that others still name: put it back, or let them go."""
    for gone in dict.fromkeys(conflict.gone for conflict in lost):
        yield _lost(job, [conflict for conflict in lost if conflict.gone == gone], own)


def _lost(job: LoadedJob, lost: Sequence[Conflict], own: str) -> Question:
    first = lost[0]
    gone = gone_name(first)
    rows = [row_name(job, conflict.table, conflict.row_id) for conflict in lost]
    names = listed(rows, most=3)
    by = (f"removed by {author_line(first.versions[0], own)}",)
    restore = Restore(*first.gone)
    words = f"put {gone} back, with what went with it"
    options = [Option(words, by, (restore,), f"{gone} put back", f"Put {gone} back.")]
    explanation = f"It was removed while another laptop still used it: {names}."
    if first.joined and not any(conflict.table in NEVER_CHANGED for conflict in lost):
        explanation = f"It was joined with another while a second laptop still used it: {names}."
        options.insert(0, _follow(job, first, names, own))
    belongs = any(_belongs(conflict) for conflict in lost)
    changes = tuple(_let_go(job, lost))
    if changes:
        words = f"remove {names} too" if belongs else f"leave it blank in {names}"
        options.append(Option(words, (), changes, f"{gone} let go", f"Let {gone} go."))
    else:
        explanation = f"{explanation} {_SIGNED}"
    title = f"What is left of {gone}" if belongs else f"What names {gone}, which is gone"
    at = CellRef(first.table, first.row_id, first.column)
    return Question(first.kind, title, explanation, at, tuple(options))


def _follow(job: LoadedJob, lost: Conflict, names: str, own: str) -> Option:
    """Move the rows to the row with which what they name was joined."""
    kept = row_name(job, lost.gone[0], lost.joined)
    by = (f"joined by {author_line(lost.versions[0], own)}",)
    changes = moving_changes(job, all_moves(job, {lost.gone[1]: lost.joined}))
    moved = f"{names} moved to {kept}"
    return Option(f"move {names} to {kept}", by, tuple(changes), moved, f"{sentence(moved)}.")


def _let_go(job: LoadedJob, lost: Sequence[Conflict]) -> list[Change]:
    """Remove the rows that belonged to what is gone, clear the links of rows that only name it."""
    rows: list[tuple[str, Record]] = []
    clear: list[Change] = []
    for conflict in lost:
        row = job.row(conflict.row_id)
        if row is not None and _belongs(conflict):
            rows.append((conflict.table, row))
        elif row is not None:
            clear.append(Put(conflict.table, conflict.row_id, conflict.column, None))
    removed = whole_removal(job, rows)
    return [] if rows and not removed else [*clear, *removed]


def _belongs(conflict: Conflict) -> bool:
    """Whether the row belongs to what is gone, as a run to its zone, rather than only name it."""
    return facts_of(TABLES[conflict.table])[conflict.column].kind == "hidden"
