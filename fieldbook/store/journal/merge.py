"""Merge: work out a row from the set of its entries, in whatever order they arrived.

The entries of a row form a graph: each names as parents the entries that its author saw and
replaced. An entry supersedes its parents, their parents and so on: all of its ancestors. These
rules hold, so that two laptops with the same entries show the same row:

- An entry waits, and has no effect, until all of its parents are here and wait no longer. An entry
  without parents that is not an addition waits too: there is no row that it could change.
- A cell shows its newest entry that no other entry of the cell supersedes. If several such entries
  remain and their values differ, the cell is in conflict. Equal values are no conflict.
- A clock only chooses which of several remaining entries is shown. It never discards one.
- A removal counts only if it and every addition or change of the row know of each other: each of
  these is an ancestor of the removal, or was made later by somebody who had seen the removal.
- A removal that counts supersedes its ancestors. One that does not count leaves the row as it is,
  and the row is in conflict until a later entry supersedes the removal.
- A row exists while one of its additions is superseded neither by another addition nor by a
  removal that counts.
- A value that its column cannot hold is not shown. If no other value remains, that is a conflict.
- Rows of a table in NEVER_CHANGED are evidence. The first addition is shown for ever, and anything
  else that was entered about the row is a conflict.
- A removal of a row of a table in NEVER_REMOVED never counts.
- Who entered the row, and when, is taken from the newest entry that shows.

The rows that the office's hub shows to SQL are worked out here too (`office/derived/`).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from operator import attrgetter
from typing import Literal

from fieldbook.records.values import Value
from fieldbook.store.journal.entry import ADD, DELETED, Entry

NEVER_CHANGED = frozenset({"sign_off"})
NEVER_REMOVED = frozenset({"job"})
"""A property is taken off the board instead."""
STAMPS = ("entered_by", "entered_at")
"""The columns that say who entered a row and when. They are no cells: no entry sets them alone."""
_NOT_PLAIN = frozenset({ADD, DELETED, "", "job_id", *STAMPS})
"""What an entry may do besides setting a cell."""
_recency = attrgetter("clock", "id")
"""`Entry.recency`, which sorts faster."""
Kind = Literal["cell", "removed", "unreadable", "evidence"]
Readable = Callable[[str, str, object], bool]
"""Whether a table's column can hold a value."""
LatestVersions = Mapping[str, Sequence[str]]
"""The ids of the entries that the next change of a row supersedes, by column.

Under "" are those of every column that is not listed, under "_deleted" the removals.
"""


@dataclass(frozen=True)
class CellConflict:
    """The entries that are in conflict over one cell.

    `column` is "_deleted" for a removal that does not count, and "" for evidence.
    """

    column: str
    kind: Kind
    entry_ids: tuple[str, ...]


@dataclass(frozen=True)
class RowState:
    """A row as its entries leave it; `values` is None when there is no such row.

    `waiting` are the ids of the entries that wait for a parent.
    """

    values: dict[str, Value] | None
    latest: LatestVersions
    conflicts: tuple[CellConflict, ...] = ()
    waiting: tuple[str, ...] = ()


@dataclass
class _Graph:
    """The entries of a row that do not wait, parents first, known by their position.

    The ancestors of an entry are a set of positions, held as the bits of one integer: a union is
    then one operation however long the history is.
    """

    entries: list[Entry] = field(default_factory=list)
    rows: list[dict[str, Value]] = field(default_factory=list)
    ancestors: list[int] = field(default_factory=list)

    def add(self, entry: Entry, ancestors: int) -> None:
        self.entries.append(entry)
        self.rows.append(entry.row)
        self.ancestors.append(ancestors)

    def with_op(self, op: str) -> list[int]:
        """The positions of the entries with this operation."""
        return [at for at, entry in enumerate(self.entries) if entry.op == op]

    def value_of(self, at: int, column: str) -> Value:
        """The value that an entry gives a column."""
        entry = self.entries[at]
        return self.rows[at].get(column) if entry.op == ADD else entry.value_of(column)

    def latest(self, chosen: Iterable[int], also: Iterable[int] = ()) -> list[int]:
        """Those of `chosen` that no entry of `chosen` or `also` supersedes."""
        chosen = list(chosen)
        superseded = 0
        for at in (*chosen, *also):
            superseded |= self.ancestors[at]
        return [at for at in chosen if not superseded >> at & 1]

    def ids(self, positions: Iterable[int]) -> tuple[str, ...]:
        """The ids of entries, sorted so that every laptop has them in the same order."""
        return tuple(sorted(self.entries[at].id for at in positions))


def merge_row(entries: Iterable[Entry], readable: Readable) -> RowState:
    """Merge the entries of one row, which may be in any order and hold duplicates."""
    entries = list(entries)
    plain = _merge_plain(entries, readable) if entries else None
    if plain is not None:
        return plain
    graph, waiting = _build_graph(entries)
    table = graph.entries[0].table if graph.entries else ""
    if table in NEVER_CHANGED:
        return _merge_evidence(graph, waiting, readable)
    removals = graph.with_op(DELETED)
    counted = [] if table in NEVER_REMOVED else [at for at in removals if _saw_all(graph, at)]
    additions = graph.latest(graph.with_op(ADD), counted)
    if not additions:
        return RowState(None, {DELETED: graph.ids(graph.latest(removals))}, (), waiting)
    by_column = _entries_by_column(graph)
    cells = {column: graph.latest(by_column[column], counted) for column in sorted(by_column)}
    values, conflicts = _show_cells(graph, cells, readable)
    values.update(_stamps(graph.entries[at] for at in {*additions, *chain(*cells.values())}))
    latest = {"": graph.ids(additions)}
    for column, positions in cells.items():
        if not set(positions) <= set(additions):
            latest[column] = graph.ids(positions)
    # Where a removal that counts is superseded by nothing no addition is left: these do not count.
    uncounted = graph.latest(removals, range(len(graph.entries)))
    if uncounted:
        latest[DELETED] = graph.ids(uncounted)
        conflicts.append(CellConflict(DELETED, "removed", latest[DELETED]))
    return RowState(values, latest, tuple(conflicts), waiting)


def _merge_plain(entries: list[Entry], readable: Readable) -> RowState | None:
    """The row of an addition and of changes that each replaced the one before: nearly every row.

    None where there is more to look at. The result is that of the whole merge, which takes several
    times as long.
    """
    first, *changes = sorted(entries, key=_recency) if len(entries) > 1 else entries
    if first.op != ADD or first.parents or first.table in NEVER_CHANGED:
        return None
    newest: dict[str, Entry] = {}
    for entry in changes:
        if entry.op in _NOT_PLAIN or entry.parents != (newest.get(entry.op, first).id,):
            return None
        newest[entry.op] = entry
    row, values = first.row, dict[str, Value]()
    for column in sorted({*row, *newest}):
        value = json.loads(newest[column].value) if column in newest else row[column]
        if value is None or column in STAMPS:
            continue
        if not readable(first.table, column, value):
            return None
        values[column] = value
    last = max((first, *newest.values()), key=_recency)
    values.update(_stamps_of(last, row if last is first else {}))
    latest = {column: (newest[column].id,) for column in sorted(newest)}
    return RowState(values, {"": (first.id,), **latest})


def _build_graph(entries: Iterable[Entry]) -> tuple[_Graph, tuple[str, ...]]:
    """Put entries behind their parents; also returns the ids of those that wait.

    Passes over what is left until a pass places nothing. Sorting first makes the result the same
    whatever order the entries came in.
    """
    left = sorted(set(entries), key=lambda entry: entry.recency)
    graph, position = _Graph(), dict[str, int]()
    while True:
        later = []
        for entry in left:
            rootless = not entry.parents and entry.op != ADD
            if rootless or any(parent not in position for parent in entry.parents):
                later.append(entry)
                continue
            ancestors = 0
            for parent in entry.parents:
                ancestors |= graph.ancestors[position[parent]] | 1 << position[parent]
            position[entry.id] = len(graph.entries)
            graph.add(entry, ancestors)
        if len(later) == len(left):
            return graph, tuple(sorted(entry.id for entry in later))
        left = later


def _saw_all(graph: _Graph, removal: int) -> bool:
    """Whether every entry but removals is an ancestor of this removal, or has it as an ancestor."""
    return all(
        entry.op == DELETED
        or graph.ancestors[removal] >> at & 1
        or graph.ancestors[at] >> removal & 1
        for at, entry in enumerate(graph.entries)
    )


def _entries_by_column(graph: _Graph) -> dict[str, list[int]]:
    """For each column the entries that give it a value."""
    found: dict[str, list[int]] = {}
    for at, entry in enumerate(graph.entries):
        if entry.op == DELETED:
            continue
        for column in graph.rows[at] if entry.op == ADD else (entry.op,):
            # A row never moves to another property: only its addition says which it belongs to.
            if column not in STAMPS and (column != "job_id" or entry.op == ADD):
                found.setdefault(column, []).append(at)
    return found


def _show_cells(
    graph: _Graph, cells: Mapping[str, Sequence[int]], readable: Readable
) -> tuple[dict[str, Value], list[CellConflict]]:
    """The values that a row shows, and the cells in conflict."""
    values: dict[str, Value] = {}
    conflicts: list[CellConflict] = []
    for column, latest in cells.items():
        if not latest:
            continue
        value, kind = _show_cell(graph, latest, column, readable)
        if value is not None:
            values[column] = value
        if kind is not None:
            conflicts.append(CellConflict(column, kind, graph.ids(latest)))
    return values, conflicts


def _show_cell(
    graph: _Graph, latest: Sequence[int], column: str, readable: Readable
) -> tuple[Value, Kind | None]:
    """The value that a cell shows, and how it is in conflict, if it is."""
    newest_first = sorted(latest, key=lambda at: graph.entries[at].recency, reverse=True)
    table = graph.entries[latest[0]].table
    entered = [graph.value_of(at, column) for at in newest_first]
    possible = [value for value in entered if readable(table, column, value)]
    shown = possible[0] if possible else None
    if any(value != entered[0] for value in entered):
        return shown, "cell"
    return shown, None if possible else "unreadable"


def _stamps(entries: Iterable[Entry]) -> dict[str, Value]:
    """Who entered the row, and when: of the newest of these entries."""
    newest = max(entries, key=lambda entry: entry.recency)
    return _stamps_of(newest, newest.row)


def _stamps_of(entry: Entry, row: Mapping[str, Value]) -> dict[str, Value]:
    """Who entered a row, and when, by an entry with this `row`."""
    # A row that was imported from a job file keeps who entered it there, and when.
    return {
        "entered_by": row.get("entered_by", entry.who),
        "entered_at": row.get("entered_at", entry.wall),
    }


def _merge_evidence(graph: _Graph, waiting: tuple[str, ...], readable: Readable) -> RowState:
    """The first addition of a row that is evidence, in conflict with whatever differs from it."""
    additions = [graph.entries[at] for at in graph.with_op(ADD)]
    if not additions:
        return RowState(None, {}, (), waiting)
    first = min(additions, key=lambda entry: entry.recency)
    values: dict[str, Value] = {
        column: value
        for column, value in first.row.items()
        if readable(first.table, column, value) and value is not None
    }
    values.update(_stamps([first]))
    others = sorted(
        entry.id for entry in graph.entries if entry.op != ADD or entry.row != first.row
    )
    conflicts = (CellConflict("", "evidence", (first.id, *others)),) if others else ()
    return RowState(values, {"": [first.id]}, conflicts, waiting)
