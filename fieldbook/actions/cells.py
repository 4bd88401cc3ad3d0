"""Enter a value in a cell: from typed text, from a pick, or from a tick."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value, ValueRefusedError, from_text, shown
from fieldbook.store.changes import Put


def fact_at(at: CellRef) -> Fact:
    """What is known about a cell's column."""
    record = Job if at.table == "job" else TABLES[at.table]
    return facts_of(record)[at.column]


def value_at(open_job: OpenJob, at: CellRef) -> Value:
    """The value a cell holds now; None where its row does not exist yet."""
    row: Record | Job | None = (
        open_job.job.job if at.table == "job" else open_job.job.row(at.row_id)
    )
    value: Value = getattr(row, at.column) if row is not None else None
    return value


def enter_text(
    open_job: OpenJob, at: CellRef, text: str, seed: Mapping[str, Value] | None = None
) -> Value:
    """Keep what was typed into a cell; raises RefusedError, and the old value stays."""
    fact = fact_at(at)
    try:
        value = from_text(fact, text, open_job.system)
    except ValueRefusedError as why:
        raise RefusedError(str(why)) from why
    enter(open_job, at, value, seed)
    return value


def enter(
    open_job: OpenJob, at: CellRef, value: Value, seed: Mapping[str, Value] | None = None
) -> bool:
    """Keep a value in a cell, as one act; False when it was there already."""
    fact = fact_at(at)
    if at.table == "sign_off" or at.column in ("signed_by", "signed_at"):
        raise RefusedError("Only a sign-off writes here: sign with Space.")
    what = f"{fact.label.lower()} {shown(fact, value, open_job.system) or 'cleared'}"
    if fact.kind == "link":
        what = fact.label.lower()
    return open_job.keep([Put(at.table, at.row_id, at.column, value, dict(seed or {}))], what)


def next_tick(value: Value) -> bool | None:
    """The tick after this one: not looked at, yes, no, and round again."""
    if value is None:
        return True
    return False if value is True else None


def turn_tick(
    open_job: OpenJob, at: CellRef, seed: Mapping[str, Value] | None = None
) -> bool | None:
    """Turn a tick on to its next state; returns that state."""
    value = next_tick(value_at(open_job, at))
    enter(open_job, at, value, seed)
    return value
