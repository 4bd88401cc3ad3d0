"""Two rows into one, cell by cell.

Nothing is chosen in silence: where both hold a value and the two differ, the cell becomes an open
conflict, as if two laptops had entered it, and F6 asks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from fieldbook.actions.joining.moved_rows import NO_CELLS
from fieldbook.records.base import Record, columns_of, facts_of
from fieldbook.records.column_values import column_accepts
from fieldbook.records.conflict import CELL, REMOVED, UNREADABLE, Conflict
from fieldbook.records.known_by import KNOWN_BY, folded
from fieldbook.records.loaded_job import RECORDS
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value
from fieldbook.store.changes import Change, Keep, Put, Reassert

Versions = Mapping[tuple[str, str, str], tuple[Value, ...]]
"""The values of each cell in conflict, by table, row and column; the one shown comes last."""


def versions_in_conflict(conflicts: Iterable[Conflict]) -> Versions:
    """The values between which nobody has chosen yet, and those that can't be read here."""
    return {
        (one.table, one.row_id, one.column): tuple(v.value for v in reversed(one.versions))
        for one in conflicts
        if one.kind in (CELL, UNREADABLE)
    }


def removals_in_conflict(conflicts: Iterable[Conflict]) -> set[str]:
    """The rows that stay though one laptop removed them."""
    return {one.row_id for one in conflicts if one.kind == REMOVED}


def joined_cells(
    table: str,
    kept: Record | Job,
    other: Record | Job,
    versions: Versions,
    stored: Mapping[str, Value],
) -> Iterator[Put | Reassert]:
    """The changes that put what `other` holds into `kept`, which keeps its id.

    `stored` is what the book holds of `kept` by column: its links may have moved since.
    """
    for column in columns_of(RECORDS[table]):
        if column in NO_CELLS:
            continue
        own = versions.get((table, kept.id, column), (getattr(kept, column),))
        others = versions.get((table, other.id, column), (getattr(other, column),))
        found = _apart(table, column, others, own)
        value = found[0] if found else getattr(kept, column)
        if len(found) > 1 or not column_accepts(table, column, value or None):
            yield Reassert(table, kept.id, None, {column: tuple(map(_as_entered, found))})
        elif not _same(table, column, value, stored[column]):
            yield Put(table, kept.id, column, value)


def still_in_conflict(table: str, row_id: str, new_id: str, versions: Versions) -> Iterator[Change]:
    """The changes that open the conflicts of a row again where it has a new id."""
    for (in_table, of_row, column), held in versions.items():
        if (in_table, of_row) == (table, row_id):
            yield Reassert(table, new_id, None, {column: tuple(map(_as_entered, held))})


def _apart(
    table: str, column: str, others: tuple[Value, ...], own: tuple[Value, ...]
) -> list[Value]:
    """The values that differ, the one that is shown last. A blank gives way to a value.

    A blank that is one version of a conflict was chosen by somebody, and stays.
    """
    settled = len(others) == len(own) == 1
    found: list[Value] = []
    for value in (*reversed(own), *reversed(others)):
        if settled and value in (None, ""):
            continue
        if not any(_same(table, column, value, there) for there in found):
            found.append(value)
    return found[::-1]


def _same(table: str, column: str, first: Value, second: Value) -> bool:
    if first in (None, "") or second in (None, ""):
        return first in (None, "") and second in (None, "")
    if column in (KNOWN_BY[table].columns if table in KNOWN_BY else ()):
        return folded(table, first) == folded(table, second)
    return first == second


def _as_entered(value: Value) -> Value:
    """A value as an entry has it: a tick as 1 or 0, nothing for a blank text."""
    return int(value) if isinstance(value, bool) else value if value != "" else None


def count_differing(changes: Iterable[Change]) -> int:
    """In how many cells both held a value and the two differ."""
    return sum(
        len(values) > 1
        for change in changes
        if isinstance(change, Reassert)
        for values in change.cells.values()
    )


def entered_again(table: str, row: Record | Job) -> Change:
    """An entry on a row that changes nothing.

    A removal counts only if it has seen every entry of the row. So where another laptop removes
    this row at the same time, as the one that it takes for the second, the row stays, and a
    conflict shows it. The cell is the row's number or name, by which `store/journal/joined.py`
    finds it, else one that no person types.
    """
    columns = [name for name in columns_of(RECORDS[table]) if name not in NO_CELLS]
    held = [name for name in columns if getattr(row, name) not in (None, "")]
    facts = facts_of(RECORDS[table])
    hidden = [name for name in held if name in facts and facts[name].kind == "hidden"]
    own = [KNOWN_BY[table].column] if table in KNOWN_BY else []
    column = [*own, *hidden, *held, *columns][0]
    return Reassert(table, row.id, None, {column: (_as_entered(getattr(row, column)),)})


def kept_though_removed(table: str, row: Record | Job, removed: set[str]) -> Iterator[Change]:
    """The change that settles another laptop's removal of a row that stays."""
    if row.id in removed:
        yield Keep(table, row.id)
