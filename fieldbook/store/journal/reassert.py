"""Say again what a row was, with all that was in conflict in it: what undo and keeping need.

An entry replaces every version it saw. What is to be in conflict once more is sealed a version
each, none of which has seen the other, so that every laptop finds them differing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from sqlalchemy import Connection

from fieldbook.records.column_values import readable
from fieldbook.records.values import Value
from fieldbook.store.changes import Act, Again
from fieldbook.store.journal.append import seal_one
from fieldbook.store.journal.entry import ADD, DELETED, Sealed
from fieldbook.store.journal.heads import entries_of, heads_of, replaced_by
from fieldbook.store.journal.merge import RowState, row_state
from fieldbook.store.journal.origin import writing
from fieldbook.store.journal.receive import bring_rows


def state_before(connection: Connection, entry: Sealed) -> RowState:
    """The row as whoever made an entry saw it."""
    known = {one.id: one for one in entries_of(connection, entry.table, entry.row_id)}
    return row_state([known[one] for one in came_before(known, [entry])], readable)


def came_before(known: dict[str, Sealed], entries: Iterable[Sealed]) -> set[str]:
    """The ids of all that these entries came after."""
    left = [parent for one in entries for parent in one.parents]
    before = set[str]()
    while left:
        one = left.pop()
        if one in known and one not in before:
            before.add(one)
            left.extend(known[one].parents)
    return before


def whole_row(
    connection: Connection, table: str, row_id: str, state: RowState, *, removed: bool
) -> Again:
    """A row as it was: its columns, what differed, and with `removed` the removal in conflict."""
    differ = [one for one in state.conflicts if one.column not in ("", DELETED)]
    pending = any(one.column == DELETED for one in state.conflicts)
    known = {one.id: one for one in entries_of(connection, table, row_id)}
    cells = {one.column: _versions(known, one.column, one.heads) for one in differ}
    return Again(table, row_id, state.values or {}, cells, removed and pending)


def one_cell(connection: Connection, entry: Sealed, state: RowState) -> Again | None:
    """The versions of the cell that an entry replaced, if they were in conflict."""
    known = {one.id: one for one in entries_of(connection, entry.table, entry.row_id)}
    for one in state.conflicts:
        if one.column == entry.op:
            cells = {one.column: _versions(known, one.column, one.heads)}
            return Again(entry.table, entry.row_id, None, cells)
    return None


def _versions(known: dict[str, Sealed], column: str, heads: Iterable[str]) -> tuple[Value, ...]:
    """What these entries say of a column, each value once, the latest last."""
    said: list[Value] = []
    for entry in sorted((known[one] for one in heads), key=lambda one: one.age, reverse=True):
        if entry.said(column) not in said:
            said.append(entry.said(column))
    return tuple(reversed(said))


def say_again(connection: Connection, act: Act, change: Again, book_format: int) -> None:
    """Seal it and make the row what it says, inside the caller's transaction."""
    own = writing(connection)
    table, row_id = change.table, change.row_id
    heads = heads_of(connection, table, row_id)

    def told(op: str, value: object, parents: list[str]) -> str:
        text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
        sealed = (act.job_id, table, row_id, op, text)
        return seal_one(connection, own, act, sealed, book_format, parents)

    above = replaced_by(heads, ADD)
    row = [] if change.row is None else [told(ADD, dict(change.row), above)]
    if change.removed:
        told(DELETED, None, above)
    for column, versions in change.cells.items():
        replaced = row or replaced_by(heads, column)
        for version in versions:
            told(column, version, replaced)
    own.keep(connection)
    bring_rows(connection, [(table, row_id)])


Known = Mapping[str, Sealed]
"""The entries of one row by their ids."""


def originals(known: Known, entries: Iterable[Sealed], column: str) -> list[Sealed]:
    """These entries, each that only says again what was said of the column replaced by those."""
    found: dict[str, Sealed] = {}
    for entry in entries:
        told = _said_before(known, entry, column) if is_again(known, entry) else []
        for one in originals(known, told, column) if told else [entry]:
            found.setdefault(one.id, one)
    return list(found.values())


def is_again(known: Known, entry: Sealed) -> bool:
    """Whether it is one of several that an act sealed beside each other."""
    return any(
        one.act == entry.act
        and one.parents == entry.parents
        and one.id != entry.id
        and (one.op == entry.op or {one.op, entry.op} == {ADD, DELETED})
        for one in known.values()
    )


def _said_before(known: Known, entry: Sealed, column: str) -> list[Sealed]:
    """The nearest before its act, and before the act it undid, that say the same; latest first."""
    acts = {entry.act, entry.target} - {""}
    left, seen, found = list(entry.parents), set[str](), []
    while left:
        one = known.get(left.pop())
        if one is None or one.id in seen:
            continue
        seen.add(one.id)
        if {one.act, one.target} & acts:
            left.extend(one.parents)
        elif _same(one, entry, column):
            found.append(one)
    return sorted(found, key=lambda one: one.age, reverse=True)


def _same(one: Sealed, entry: Sealed, column: str) -> bool:
    if DELETED in (one.op, entry.op):
        return one.op == entry.op
    return one.op in (ADD, column) and one.said(column) == entry.said(column)
