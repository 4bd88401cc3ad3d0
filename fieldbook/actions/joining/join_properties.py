"""Make one property of two that are the same: all rows of the second are entered in the first too.

An entry never moves to another property, so the rows of the second are added anew to the first,
with who entered them and when. The second keeps all that it has, and leaves the board. A row that
is there once, such as the supply, meets that of the first cell by cell; any other gets an id made
of its own, so two laptops that join the same two add the same rows. Entries that reach the second
later, from a laptop that knew nothing of it, are a flag on the first; joining again brings them
over.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import dataclass

from fieldbook.actions.joining.moved_rows import changed_cells, movable_rows
from fieldbook.actions.joining.same_cells import (
    joined_cells,
    still_in_conflict,
    versions_in_conflict,
)
from fieldbook.actions.refused import RefusedError
from fieldbook.records.base import Record, natural_id
from fieldbook.records.ids import natural_row_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.neighbours import joined_text
from fieldbook.store.changes import Add, Change, Put, Reassert

BOTH_SIGNED = (
    "Both properties have sign-offs, which are evidence of each: keep both, and give one another "
    "address, such as with “rear”."
)
_OWN = frozenset({"address", "units", "off_board", "joined_with"})
"""Cells of a property that say nothing of it that the other lacks: how it is named and shown."""


@dataclass(frozen=True)
class TwoProperties:
    """`kept` stays on the board, the rows of `other` are added to it.

    `known` are the ids of all rows that `kept` has or had: a row that was brought over before, and
    removed there since, stays removed. `entries` counts those of `other`.
    """

    kept: LoadedJob
    other: LoadedJob
    known: Set[str] = frozenset()
    entries: int = 0


def which_stays(first: LoadedJob, second: LoadedJob) -> tuple[LoadedJob, LoadedJob]:
    """The property that stays on the board, and the other.

    One that was given up before stays so; one with sign-offs is kept, else the one that was added
    first. Raises RefusedError where both have sign-offs: these are evidence of the property that
    they name, and can't be entered in another.
    """
    first, second = sorted((first, second), key=lambda job: (bool(job.job.off_board), job.job.id))
    if not second.sign_offs:
        return first, second
    if first.sign_offs or second.job.off_board:
        raise RefusedError(BOTH_SIGNED)
    return second, first


def join_properties(two: TwoProperties) -> list[Change]:
    """The changes that enter all of the second property in the first, and take it off the board."""
    kept, other = two.kept, two.other
    moves = _new_ids(kept, other)
    versions = {**versions_in_conflict(kept.conflicts), **versions_in_conflict(other.conflicts)}
    changes: list[Change] = []
    for table, rows in movable_rows(other):
        for row in rows:
            moved = row.with_values(**changed_cells(other, table, row, moves), job_id=kept.job.id)
            there = kept.row(moves[row.id])
            if there is not None:
                changes += joined_cells(table, there, moved, versions, there.values())
            elif moves[row.id] not in two.known or not _is_copy(kept, row, moves[row.id]):
                values = {name: held for name, held in moved.values().items() if name != "id"}
                changes.append(Add(table, moves[row.id], values))
                changes += still_in_conflict(table, row.id, moves[row.id], versions)
    own = joined_cells("job", kept.job, other.job, versions, kept.job.values())
    changes += [change for change in own if not _cells_of(change) & _OWN]
    return [*changes, *_one_on_the_board(two)]


def _cells_of(change: Put | Reassert) -> Set[str]:
    return {change.column} if isinstance(change, Put) else set(change.cells)


def _one_on_the_board(two: TwoProperties) -> Iterator[Change]:
    """The first on the board and the second off it, in the order of their ids.

    Two laptops may join the same two in opposite directions. Whoever was later then is later for
    both cells, so that one of the two stays on the board.
    """
    kept, other = two.kept.job, two.other.job
    on: Change = Reassert("job", kept.id, None, {"off_board": (None,)})
    off: Change = Put("job", other.id, "off_board", True)
    if other.off_board:
        off = Reassert("job", other.id, None, {"off_board": (1,)})
    yield from (on, off) if kept.id < other.id else (off, on)
    yield Put("job", other.id, "joined_with", joined_text(kept.id, two.entries))


def _copy_id(job: LoadedJob, row_id: str) -> str:
    """The id in a property of a row that was brought over from another."""
    return natural_id(job.job.id, "joined", row_id)


def _is_copy(kept: LoadedJob, row: Record, new_id: str) -> bool:
    return new_id == _copy_id(kept, row.id)


def _new_ids(kept: LoadedJob, other: LoadedJob) -> dict[str, str]:
    """The id of each row of the second property in the first.

    A row that came from the first itself, as the two were joined the other way round, is its own.
    """
    back = {_copy_id(other, row.id): row.id for rows in kept.tables().values() for row in rows}
    moves = {other.job.id: kept.job.id}
    made: dict[str, tuple[str, Record]] = {}
    for table, rows in movable_rows(other):
        for row in rows:
            if natural_row_id(other.job.id, table, row.values()) is not None:
                made[row.id] = (table, row)
            else:
                moves[row.id] = back.get(row.id) or _copy_id(kept, row.id)
    # The id of such a row may be made from that of another: that one comes first.
    while made:
        ready = [row_id for row_id, (_, row) in made.items() if not _named(row) & made.keys()]
        for table, row in [made.pop(row_id) for row_id in ready or list(made)]:
            values = {**row.values(), **changed_cells(other, table, row, moves)}
            moves[row.id] = natural_row_id(kept.job.id, table, values) or row.id
    return moves


def _named(row: Record) -> set[str]:
    """Every text that a row holds, and so every id that it names."""
    return {held for name, held in row.values().items() if name != "id" and isinstance(held, str)}
