"""Fill a column: the value of one cell into others of the same column, as one act."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fieldbook.actions.bulk.observed import refuse_repeating
from fieldbook.actions.cells import fact_at, value_at
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.values import Value, shown
from fieldbook.store.changes import Change, Put


@dataclass(frozen=True)
class Target:
    """A cell that is filled; `seed` is what its row is made with if it does not exist yet."""

    at: CellRef
    seed: Mapping[str, Value] = field(default_factory=dict)


def fill(open_job: OpenJob, source: CellRef, targets: Sequence[Target]) -> str:
    """Enter the value of `source` in every target, as one act; returns it as a crew reads it.

    Raises RefusedError where the value is blank, where it is observed at each thing anew, and where
    there is no target.
    """
    value, fact = value_to_fill(open_job, source), fact_at(source)
    if not targets:
        raise RefusedError("There is no row below to fill: add one first.")
    changes: list[Change] = [
        Put(target.at.table, target.at.row_id, target.at.column, value, dict(target.seed))
        for target in targets
    ]
    words = "the same" if fact.kind == "link" else shown(fact, value, open_job.system)
    rows = "1 row" if len(targets) == 1 else f"{len(targets)} rows"
    open_job.commit(changes, f"{fact.label.lower()} {words} in {rows}")
    return words


def value_to_fill(open_job: OpenJob, source: CellRef) -> Value:
    """The value of a cell that may be filled into others. Raises RefusedError as `fill` does."""
    refuse_repeating(source)
    value = value_at(open_job, source)
    if value is None or value == "":
        label = fact_at(source).label
        raise RefusedError(f"{label} is blank there, so there is nothing to fill down.")
    return value
