"""Make one thing of two rows of a property, with all that hangs on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fieldbook.actions.joining.moved_rows import (
    Moves,
    all_moves,
    changed_cells,
    link_columns,
    movable_rows,
)
from fieldbook.actions.joining.same_cells import (
    entered_again,
    joined_cells,
    kept_though_removed,
    removals_in_conflict,
    still_in_conflict,
    versions_in_conflict,
)
from fieldbook.actions.refused import RefusedError
from fieldbook.records.base import Record, facts_of
from fieldbook.records.known_by import KNOWN_BY
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put, Remove
from fieldbook.store.journal.merge import NEVER_CHANGED

BOTH_SIGNED = "Both were signed over, and sign-offs are evidence: give one another number."


@dataclass(frozen=True)
class Pair:
    """Two rows of a table that are one thing: `kept` stays, and `other` is given up."""

    table: str
    kept: str
    other: str


def pair_of(job: LoadedJob, table: str, first: str, second: str) -> Pair:
    """Which of two rows stays: the one that is signed over, else the one that was added first.

    So two laptops that join the same two mostly do the same. Raises RefusedError where both were
    signed over: a sign-off never changes, so it can't say of one row what was signed of another.
    """
    first, second = sorted((first, second))
    pair = Pair(table, first, second)
    if not _signed_among(job, _moves(job, pair)):
        return pair
    turned = Pair(table, second, first)
    if _signed_among(job, _moves(job, turned)):
        raise RefusedError(BOTH_SIGNED)
    return turned


def _moves(job: LoadedJob, pair: Pair, apart: frozenset[str] = frozenset()) -> dict[str, str]:
    return all_moves(job, {pair.other: pair.kept}, apart)


def _signed_among(job: LoadedJob, moves: Moves) -> bool:
    """Whether a row that is evidence names one of the rows that are given up."""
    return any(
        getattr(row, column) in moves
        for table in NEVER_CHANGED
        for row in job.tables()[table]
        for column in link_columns(table)
    )


def runs_meet(job: LoadedJob, pair: Pair) -> bool:
    """Whether two zones have pipe runs with the same number: one run each, or not."""
    if pair.table != "zone":
        return False
    numbers = [{run.number for run in job.runs_of(zone)} for zone in (pair.kept, pair.other)]
    return bool((numbers[0] & numbers[1]) - {None})


def join_changes(job: LoadedJob, pair: Pair, *, own_runs: bool = False) -> list[Change]:
    """The changes that make one of two rows, and move what hangs on the second to the first.

    `own_runs`: the pipe runs of the second zone are others than those of the first; they get free
    numbers, and each stays after the run that feeds it. Raises RefusedError where no number is
    left.
    """
    moves = _moves(job, pair, frozenset({"pipe_run"} if own_runs else ()))
    numbered = dict(_new_numbers(job, pair)) if own_runs else {}
    return moving_changes(job, moves, numbered)


def moving_changes(
    job: LoadedJob, moves: Moves, numbered: Mapping[str, Mapping[str, Value]] | None = None
) -> list[Change]:
    """The changes that carry out moves. `numbered` are cells that change besides, by row."""
    moving, gone = _Moving(job, moves), list[Change]()
    for table, rows in movable_rows(job):
        for row in rows:
            cells = {**changed_cells(job, table, row, moves), **(numbered or {}).get(row.id, {})}
            if row.id in moves:
                moving.move(table, row.with_values(**cells))
                gone.append(Remove(table, row.id))
            elif row.id not in moving.targets:
                moving.changes += [Put(table, row.id, name, held) for name, held in cells.items()]
    return [*moving.changes, *gone]


class _Moving:
    """The changes so far, and the rows as they are after them where others moved to."""

    def __init__(self, job: LoadedJob, moves: Moves) -> None:
        self._job, self._moves = job, moves
        self._versions = dict(versions_in_conflict(job.conflicts))
        self._removed = removals_in_conflict(job.conflicts)
        self._now: dict[str, Record] = {}
        self.targets = frozenset(moves.values())
        self.changes: list[Change] = []

    def move(self, table: str, row: Record) -> None:
        """Put a row, whose links have moved already, where its own move leads."""
        new_id = self._moves[row.id]
        there = self._now.get(new_id) or self._job.row(new_id)
        if there is None:
            self._now[new_id] = row.with_values(id=new_id)
            values = {name: held for name, held in row.values().items() if name != "id"}
            self.changes.append(Add(table, new_id, values))
            self.changes += still_in_conflict(table, row.id, new_id, self._versions)
            return
        kept = there.with_values(**changed_cells(self._job, table, there, self._moves))
        joined = [*joined_cells(table, kept, row, self._versions, there.values())]
        self.changes += kept_though_removed(table, kept, self._removed)
        self.changes += joined
        if not joined or table in KNOWN_BY:
            self.changes.append(entered_again(table, kept))
        for change in joined:
            if isinstance(change, Put):
                kept = kept.with_values(**{change.column: change.value})
            else:
                # A third row may go to the same place: its values join those that differ already.
                opened = {(table, new_id, name): held for name, held in change.cells.items()}
                self._versions.update(opened)
        self._now[new_id] = kept


def _new_numbers(job: LoadedJob, pair: Pair) -> Iterator[tuple[str, dict[str, Value]]]:
    """The numbers of the second zone's pipe runs, after the highest of the first's."""
    runs = job.runs_of(pair.other)
    last = max((run.number or 0 for run in job.runs_of(pair.kept)), default=0)
    new = {run.id: last + place for place, run in enumerate(runs, start=1)}
    by_number = {run.number: new[run.id] for run in reversed(runs) if run.number is not None}
    if last + len(runs) > facts_of(PipeRun)["number"].high:
        raise RefusedError("There is no number left for its pipe runs: remove some first.")
    for run in runs:
        after = by_number.get(run.after, run.after) if run.after is not None else None
        yield run.id, {"number": new[run.id], "after": after}
