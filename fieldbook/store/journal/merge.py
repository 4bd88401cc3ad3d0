"""What a row is, from the set of its entries: the same whichever order they came in.

An entry waits until all it replaced is here. Of what nothing has replaced, a cell shows the latest;
where these differ the cell is in conflict. A removal counts only if it saw everything that was
entered in the row, or what it did not see was made knowing of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from fieldbook.records.values import Value
from fieldbook.store.journal.entry import ADD, DELETED, Entry

NEVER_CHANGED = frozenset({"sign_off"})
"""Tables whose rows are evidence: of them only what was added counts."""
STAMPS = ("entered_by", "entered_at")
NEVER_REMOVED = frozenset({"job"})
"""Tables whose rows a removal never takes away: a property is taken off the board instead."""
Kind = Literal["cell", "removed", "unreadable", "evidence"]
Readable = Callable[[str, str, object], bool]
"""Whether a table's column can hold a value."""


@dataclass(frozen=True)
class Conflict:
    """Entries of one cell that differ (`column` "_deleted": a removal that did not count)."""

    column: str
    kind: Kind
    heads: tuple[str, ...]


@dataclass(frozen=True)
class RowState:
    """A row as its entries leave it.

    `values` is None when there is no such row. `heads` are the entries that the next change
    replaces: by column, under "" for columns not listed, under "_deleted" the removals.
    """

    values: dict[str, Value] | None
    heads: dict[str, list[str]]
    conflicts: tuple[Conflict, ...] = ()
    waiting: tuple[str, ...] = ()


@dataclass
class _Graph:
    """The entries that count, causes first, and for each those before it, as bits."""

    entries: list[Entry] = field(default_factory=list)
    rows: list[dict[str, Value]] = field(default_factory=list)
    before: list[int] = field(default_factory=list)

    def add(self, entry: Entry, before: int) -> None:
        """Put an entry after all that are here."""
        self.entries.append(entry)
        self.rows.append(entry.row)
        self.before.append(before)

    def said(self, number: int, column: str) -> Value:
        """What an entry says a column holds."""
        entry = self.entries[number]
        return self.rows[number].get(column) if entry.op == ADD else entry.value_of(column)

    def latest(self, chosen: Iterable[int], over: Iterable[int] = ()) -> list[int]:
        """Those of `chosen` that none of `chosen` or `over` came after."""
        chosen = list(chosen)
        seen = 0
        for number in (*chosen, *over):
            seen |= self.before[number]
        return [number for number in chosen if not seen >> number & 1]


def merge_row(entries: Iterable[Entry], readable: Readable) -> RowState:
    """The state of one row from all that is known of it. Entries of another row never count."""
    graph, waiting = _in_order(entries)
    if graph.entries and graph.entries[0].table in NEVER_CHANGED:
        return _evidence(graph, waiting, readable)
    removals = [no for no, one in enumerate(graph.entries) if one.op == DELETED]
    kept = bool(graph.entries) and graph.entries[0].table in NEVER_REMOVED
    counted = [no for no in removals if not kept and _saw_all(graph, no)]
    adds = [no for no, one in enumerate(graph.entries) if one.op == ADD]
    alive = graph.latest(adds, counted)
    if not alive:
        return RowState(None, _named(graph, {DELETED: graph.latest(removals)}), (), waiting)
    cells = {
        column: heads
        for column, writers in _writers(graph).items()
        if (heads := graph.latest(writers, counted))
    }
    pending = [no for no in graph.latest(range(len(graph.entries))) if no in removals]
    return _shown(graph, cells, alive, pending, waiting, readable)


def _shown(
    graph: _Graph,
    cells: Mapping[str, Sequence[int]],
    alive: Sequence[int],
    pending: Sequence[int],
    waiting: tuple[str, ...],
    readable: Readable,
) -> RowState:
    """The row that its cells' heads show, with what is in conflict."""
    values: dict[str, Value] = {}
    conflicts: list[Conflict] = []
    for column, heads in sorted(cells.items()):
        value, kind = _cell(graph, heads, column, readable)
        if value is not None:
            values[column] = value
        if kind is not None:
            conflicts.append(Conflict(column, kind, _ids(graph, heads)))
    if pending:
        conflicts.append(Conflict(DELETED, "removed", _ids(graph, pending)))
    values.update(_stamps([graph.entries[no] for no in {*alive, *_all(cells)}]))
    changed = {column: heads for column, heads in cells.items() if not set(heads) <= set(alive)}
    named = _named(graph, {"": alive, **changed, **({DELETED: pending} if pending else {})})
    return RowState(values, named, tuple(conflicts), waiting)


def _in_order(entries: Iterable[Entry]) -> tuple[_Graph, tuple[str, ...]]:
    """The entries whose parents are all here, causes first; and the ids of those that wait."""
    left = sorted(set(entries), key=lambda one: one.recency)
    graph, place = _Graph(), dict[str, int]()
    while True:
        later = []
        for one in left:
            rootless = not one.parents and one.op != ADD
            if rootless or any(parent not in place for parent in one.parents):
                later.append(one)
                continue
            bits = 0
            for parent in one.parents:
                bits |= graph.before[place[parent]] | 1 << place[parent]
            place[one.id] = len(graph.entries)
            graph.add(one, bits)
        if len(later) == len(left):
            return graph, tuple(sorted(one.id for one in later))
        left = later


def _saw_all(graph: _Graph, removal: int) -> bool:
    """Whether everything but removals was before this removal, or came after it."""
    return all(
        one.op == DELETED or graph.before[removal] >> no & 1 or graph.before[no] >> removal & 1
        for no, one in enumerate(graph.entries)
    )


def _writers(graph: _Graph) -> dict[str, list[int]]:
    """By column, the entries that say what it holds."""
    found: dict[str, list[int]] = {}
    for number, one in enumerate(graph.entries):
        columns = list(graph.rows[number]) if one.op == ADD else [one.op]
        for column in columns if one.op != DELETED else []:
            if column in STAMPS or (column == "job_id" and one.op != ADD):
                continue
            found.setdefault(column, []).append(number)
    return found


def _cell(
    graph: _Graph, heads: Sequence[int], column: str, readable: Readable
) -> tuple[Value, Kind | None]:
    """What a cell shows of its heads, and whether it is in conflict."""
    latest_first = sorted(heads, key=lambda no: graph.entries[no].recency, reverse=True)
    table = graph.entries[heads[0]].table
    said = [graph.said(no, column) for no in latest_first]
    fit = [value for value in said if readable(table, column, value)]
    value = fit[0] if fit else None
    if any(one != said[0] for one in said):
        return value, "cell"
    return value, None if fit else "unreadable"


def _stamps(heads: Iterable[Entry]) -> dict[str, Value]:
    """Who entered the row last, and when."""
    last = max(heads, key=lambda one: one.recency)
    told = last.row
    return {
        "entered_by": told.get("entered_by", last.who),
        "entered_at": told.get("entered_at", last.wall),
    }


def _evidence(graph: _Graph, waiting: tuple[str, ...], readable: Readable) -> RowState:
    """Evidence is what was added first; another version of it is a conflict, never shown for it."""
    adds = sorted((one for one in graph.entries if one.op == ADD), key=lambda one: one.recency)
    if not adds:
        return RowState(None, {}, (), waiting)
    first = adds[0]
    values: dict[str, Value] = {
        column: value
        for column, value in first.row.items()
        if readable(first.table, column, value) and value is not None
    }
    values.update(_stamps([first]))
    differ = [one.id for one in graph.entries if one.op != ADD or one.row != first.row]
    conflicts = (Conflict("", "evidence", (first.id, *sorted(differ))),) if differ else ()
    return RowState(values, {"": [first.id]}, conflicts, waiting)


def _named(graph: _Graph, heads: Mapping[str, Sequence[int]]) -> dict[str, list[str]]:
    return {column: list(_ids(graph, numbers)) for column, numbers in heads.items()}


def _ids(graph: _Graph, numbers: Iterable[int]) -> tuple[str, ...]:
    return tuple(sorted(graph.entries[no].id for no in numbers))


def _all(cells: Mapping[str, Sequence[int]]) -> set[int]:
    return {no for heads in cells.values() for no in heads}
