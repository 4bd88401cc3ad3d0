"""What an act changes of a handed-over record, kept as changes of the visit under way.

A cell has one row for each visit, so that a value tried and put back leaves nothing behind. A row
that came or went on a visit is kept whole, and what is entered in it later belongs to that.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from fieldbook.checks.common.naming import row_name
from fieldbook.checks.progress.before_visits import (
    kept_value,
    row_as_kept,
    same_value,
    visit_under_way,
)
from fieldbook.checks.progress.digests import COVERED_TABLES
from fieldbook.records.base import Record, natural_id
from fieldbook.records.conflict import CELL
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.visits import VisitChange
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put, Remove

_TABLE = VisitChange.table_name
_Cell = tuple[str, str, str]
"""Table, row and column; the column is "" for a row that came or went."""


def changes_on_visit(job: LoadedJob, changes: Sequence[Change], today: date) -> list[Change]:
    """The changes that keep what `changes` do to the record on the visit that is under way.

    A conflict that is settled belongs to the visit that left one of its values, even when that has
    ended. Nothing where no visit is under way, or the job is not handed over.
    """
    if job.signed("handover") is None or not job.visits:
        return []
    visit = visit_under_way(job, today)
    outcome = _Outcome(job)
    for change in changes:
        outcome.apply(change)
    found: list[Change] = []
    for visit_id, cells in _by_visit(job, visit.id if visit else None, outcome).items():
        found += _kept(job, visit_id, outcome, cells)
    return found


@dataclass
class _Outcome:
    """The rows that an act changes, as they are after it, and the cells that it set."""

    job: LoadedJob
    rows: dict[tuple[str, str], Record | None] = field(default_factory=dict)
    cells: dict[_Cell, None] = field(default_factory=dict)

    def apply(self, change: Change) -> None:
        """Take one change into account; those of other tables, and of restored rows, are none."""
        if not isinstance(change, Put | Add | Remove) or change.table not in COVERED_TABLES:
            return
        key = (change.table, change.row_id)
        row = self.rows.get(key, self.job.row(change.row_id))
        if isinstance(change, Remove):
            self.rows[key] = None
        elif isinstance(change, Put) and row is not None:
            self.rows[key] = row.with_values(**{change.column: change.value})
            self.cells[change.table, change.row_id, change.column] = None
        elif isinstance(change, Put):
            first = {**change.seed, change.column: change.value}
            self.rows[key] = self._new(change.table, change.row_id, first)
        else:
            self.rows[key] = self._new(change.table, change.row_id, change.values)

    def _new(self, table: str, row_id: str, values: Mapping[str, Value]) -> Record:
        filled: dict[str, Any] = {"job_id": self.job.job.id, **values, "id": row_id}
        return TABLES[table](**filled)


def _by_visit(job: LoadedJob, under_way: str | None, outcome: _Outcome) -> dict[str, list[_Cell]]:
    """The cells and whole rows that an act changed, by the visit that they belong to."""
    conflicts = {(one.table, one.row_id, one.column) for one in job.conflicts if one.kind == CELL}
    found: dict[str, list[_Cell]] = {}
    whole = [(*key, "") for key, row in outcome.rows.items() if row is None or not job.row(key[1])]
    for cell in [*whole, *outcome.cells]:
        visit_id = under_way
        if cell in conflicts:
            visit_id = under_way or _last_to_change(job, cell)
        if visit_id is not None:
            found.setdefault(visit_id, []).append(cell)
    return found


def _last_to_change(job: LoadedJob, cell: _Cell) -> str | None:
    """The visit of the newest change of a cell."""
    of_cell = [one for one in job.visit_changes if _cell_of(one) == cell]
    return max(of_cell, key=lambda one: one.entered_at).visit_id if of_cell else None


def _cell_of(change: VisitChange) -> _Cell:
    return change.of_table, change.of_row, change.of_column


def _kept(
    job: LoadedJob, visit_id: str, outcome: _Outcome, cells: Iterable[_Cell]
) -> Iterator[Change]:
    held = {
        _cell_of(one): one
        for one in job.visit_changes
        if one.visit_id == visit_id and (one.was or one.became)
    }
    done: set[tuple[str, str]] = set()
    for table, row_id, column in cells:
        row = (table, row_id)
        if not column or (*row, "") in held:
            if row not in done:
                done.add(row)
                yield from _whole_row(job, visit_id, held, row, outcome.rows[row])
        elif row not in done:
            before = getattr(job.row(row_id), column)
            after = getattr(outcome.rows[row], column)
            was = _as_json(before)
            yield from _one(job, visit_id, held, (*row, column), (was, _as_json(after)))


def _whole_row(
    job: LoadedJob,
    visit_id: str,
    held: Mapping[_Cell, VisitChange],
    key: tuple[str, str],
    after: Record | None,
) -> Iterator[Change]:
    """A row that came or went; what was kept of its cells before goes into it."""
    before, of_cells = job.row(key[1]), [one for at, one in held.items() if at[:2] == key and at[2]]
    yield from (Remove(_TABLE, one.id) for one in of_cells)
    if before is not None:
        before = before.with_values(**{one.of_column: kept_value(one.was) for one in of_cells})
    was = row_as_kept(before) if before is not None else ""
    became = row_as_kept(after) if after is not None else ""
    yield from _one(job, visit_id, held, (*key, ""), (was, became))


def _one(
    job: LoadedJob,
    visit_id: str,
    held: Mapping[_Cell, VisitChange],
    cell: _Cell,
    values: tuple[str, str],
) -> Iterator[Change]:
    """The row of one cell or whole row: made, brought up to date, or removed as nothing changed."""
    was, became = values
    known = held.get(cell)
    if known is not None:
        unchanged = same_value(kept_value(known.was), kept_value(became))
        if unchanged and not (known.why or known.warranty or known.what != _kind(cell, known.was)):
            yield Remove(_TABLE, known.id)
        else:
            yield Put(_TABLE, known.id, "became", became)
    elif not same_value(kept_value(was), kept_value(became)):
        table, row_id, column = cell
        yield Add(
            _TABLE,
            natural_id(visit_id, "change", table, row_id, column),
            {
                "visit_id": visit_id,
                "of_table": table,
                "of_row": row_id,
                "of_column": column,
                "was": was,
                "became": became,
                "thing": row_name(job, table, row_id) if job.row(row_id) else TABLES[table].title,
                "what": _kind(cell, was),
            },
        )


_REPLACED = {("head", "kind"), ("head", "nozzle_gpm"), ("head", "nozzle")}
_WIRES = ("valve", "terminal", "conductor", "splice", "cable", "decoder")


def _kind(cell: _Cell, was: str) -> str:
    """What a change most likely was, for the crew to correct. Common practice, no source."""
    table, _, column = cell
    if not column:
        return "removed" if was else "added"
    if (table, column) in _REPLACED:
        return "replaced"
    return "re-terminated" if table in _WIRES and "colour" in column else "adjusted"


def _as_json(value: Value) -> str:
    return json.dumps(value, ensure_ascii=False)
