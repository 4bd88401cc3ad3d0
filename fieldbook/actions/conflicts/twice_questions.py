"""The question about a number or name given twice: one keeps it, or both are one thing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from fieldbook.actions.cell_history import minute_of
from fieldbook.actions.conflicts.question import TWICE, Option, Question
from fieldbook.actions.joining.join_rows import Pair, join_changes, pair_of, runs_meet
from fieldbook.actions.joining.same_cells import count_differing
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.rows import free_names
from fieldbook.checks.common.naming import listed, row_name, sentence
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import facts_of
from fieldbook.records.known_by import NUMBERED, Duplicate
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.store.changes import Change, Put

_MOST_JOINED = 3
"""Of more rows than these, only the first is offered to be joined with each other."""


def twice_question(job: LoadedJob, double: Duplicate) -> Question:
    """Rows with the same number or name: one keeps it, or two of them are joined."""
    fact = facts_of(TABLES[double.table])[double.column]
    names = _distinct_names(job, double)
    explanation = f"{sentence(listed(list(names.values())))} have the same {double.column}."
    if double.table == "zone":
        explanation += f" Terminal {double.value} runs the one that keeps the number."
    options: list[Option] = []
    if double.table in NUMBERED:
        free = free_names(job, double.table, len(names) - 1)
        options += [_keeps_number(job, double, names, row_id, free) for row_id in names]
    # What is printed on a thing, such as a decoder's address, isn't given anew but read again.
    typed = double.table not in NUMBERED and fact.kind in ("text", "whole")
    if typed:
        explanation += f" What is typed is for {names[double.row_ids[-1]]}."
    notes: list[str] = []
    for first, second in _pairs(double.row_ids):
        try:
            pair = pair_of(job, double.table, first, second)
            options += _joins(job, names, pair)
        except RefusedError as why:
            notes.append(f"{sentence(names[first])} and {names[second]}: {why}")
    return Question(
        TWICE,
        f"{fact.label} {double.value}, given twice",
        explanation,
        CellRef(double.table, double.row_ids[-1], double.column),
        tuple(options),
        tuple(notes),
        typed,
    )


def _pairs(row_ids: Sequence[str]) -> Iterator[tuple[str, str]]:
    if len(row_ids) <= _MOST_JOINED:
        yield from combinations(row_ids, 2)
    else:
        yield from ((row_ids[0], other) for other in row_ids[1:])


def _distinct_names(job: LoadedJob, double: Duplicate) -> dict[str, str]:
    """The names of the rows by id, with who entered each where the names are alike."""
    names = {row_id: row_name(job, double.table, row_id) for row_id in double.row_ids}
    if len(set(names.values())) == len(names):
        return names
    who = {row_id: getattr(job.row(row_id), "entered_by", "") or "?" for row_id in names}
    return {row_id: f"{name} of {who[row_id]}" for row_id, name in names.items()}


def _keeps_number(
    job: LoadedJob,
    double: Duplicate,
    names: dict[str, str],
    kept: str,
    free: Sequence[int | str],
) -> Option:
    others = [row_id for row_id in double.row_ids if row_id != kept]
    given = list(zip(others, free, strict=False))
    changes = tuple(Put(double.table, row_id, double.column, number) for row_id, number in given)
    become = listed([f"{names[row_id]} becomes {number}" for row_id, number in given])
    kept_words = f"{double.value} for {names[kept]}; {become}"
    by = (_entered(job, kept),)
    return Option(f"keep {kept_words}", by, changes, become, f"Kept {kept_words}.")


def _joins(job: LoadedJob, names: dict[str, str], pair: Pair) -> Iterator[Option]:
    """Two rows joined; where both have pipe runs of the same numbers, in either way."""
    meet = runs_meet(job, pair)
    both = f"the same thing: join {names[pair.other]} with {names[pair.kept]}"
    words = f"{both}; runs with the same number are one" if meet else both
    yield _join(job, names, pair, words, join_changes(job, pair))
    if meet:
        words = f"{both}; its runs are others, and get new numbers"
        yield _join(job, names, pair, words, join_changes(job, pair, own_runs=True))


def _join(
    job: LoadedJob, names: dict[str, str], pair: Pair, words: str, changes: list[Change]
) -> Option:
    other, kept = names[pair.other], names[pair.kept]
    by = (_entered(job, pair.kept), _entered(job, pair.other))
    differ = count_differing(changes)
    done = f"Joined {other} with {kept}."
    if differ:
        done += " In 1 cell the two differ." if differ == 1 else f" {differ} cells differ."
    return Option(words, by, tuple(changes), f"{other} joined with {kept}", done)


def _entered(job: LoadedJob, row_id: str) -> str:
    row = job.row(row_id)
    return f"entered by {row.entered_by}, {minute_of(row.entered_at)}" if row is not None else ""
