"""Where each row goes when the row it hangs on becomes another.

A row hangs on another by its id: in a column that links to it, or in a hidden text that holds ids,
such as the row that a photo belongs to. A row whose id is made from what it is, such as a zone's
valve, gets the id that it has there, and what hangs on it moves too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from fieldbook.records.base import Record, columns_of
from fieldbook.records.ids import natural_row_id
from fieldbook.records.known_by import KNOWN_BY, key_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.visits import VisitChange
from fieldbook.records.values import Value
from fieldbook.store.journal.merge import NEVER_CHANGED, STAMPS

Moves = Mapping[str, str]
"""The new id of each row that becomes another, by its old id."""
NO_CELLS = frozenset({"id", "job_id", *STAMPS})
"""Columns that say nothing of the thing itself."""
_ID = re.compile(r"[\w-]+")


def all_moves(job: LoadedJob, first: Moves, apart: frozenset[str] = frozenset()) -> dict[str, str]:
    """These moves and those that follow from them.

    Rows that are known by the same number or name within what becomes one, such as run 1 of two
    zones, are one too; not those of the tables in `apart`.
    """
    moves = dict(first)
    while more := dict(_more_moves(job, moves, apart)):
        moves |= more
    return moves


def _more_moves(job: LoadedJob, moves: Moves, apart: frozenset[str]) -> Iterator[tuple[str, str]]:
    for table, rows in movable_rows(job):
        for row in rows:
            if row.id in moves or not (changed := changed_cells(job, table, row, moves)):
                continue
            values = {**row.values(), **changed}
            natural = None if TABLES[table].once else natural_row_id(job.job.id, table, values)
            if natural is not None and natural != row.id:
                yield row.id, natural
            elif table not in apart and (twin := _twin(table, rows, row, changed)) is not None:
                yield row.id, twin


def movable_rows(job: LoadedJob) -> Iterator[tuple[str, tuple[Record, ...]]]:
    """The rows by table, but for evidence: what is signed never changes."""
    return ((table, rows) for table, rows in job.tables().items() if table not in NEVER_CHANGED)


def _twin(
    table: str, rows: tuple[Record, ...], row: Record, changed: Mapping[str, Value]
) -> str | None:
    """The row that already is where this one goes, under the same number or name."""
    known = KNOWN_BY.get(table)
    if known is None or not set(known.within) & set(changed):
        return None
    key = key_of(table, row.with_values(**changed))
    found = (other.id for other in rows if other.id != row.id and key_of(table, other) == key)
    return next(found, None) if key is not None else None


def changed_cells(job: LoadedJob, table: str, row: Record, moves: Moves) -> dict[str, Value]:
    """The cells of a row that name a moved row, as they become. A link to the row itself goes."""
    own = moves.get(row.id, row.id)
    changed: dict[str, Value] = {}
    for column in link_columns(table):
        value = getattr(row, column)
        if not isinstance(value, str) or not value:
            continue
        new = _ID.sub(lambda found: moves.get(found[0], found[0]), value)
        if new != value:
            blank = None if columns_of(TABLES[table])[column].optional else ""
            changed[column] = blank if new == own else new
    if isinstance(row, VisitChange) and row.of_row in moves and not row.of_column:
        # That a row came or went on a visit stays true of that row, unless it only gets a new id.
        return changed if job.row(moves[row.of_row]) is None else {}
    return changed


def link_columns(table: str) -> Iterator[str]:
    """The columns of a table that may hold the id of another row."""
    for name, column in columns_of(TABLES[table]).items():
        fact = column.fact
        if name in NO_CELLS or column.kind is not str or fact is None:
            continue
        if fact.links_to or fact.kind == "hidden":
            yield name
