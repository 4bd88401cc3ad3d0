"""Say again what a row was, with all that was in conflict in it: what undo and keeping need.

An entry replaces every version it saw. What is to be in conflict once more is sealed a version
each, none of which has seen the other, so that every laptop finds them differing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from sqlalchemy import Connection

from fieldbook.records.column_values import column_accepts
from fieldbook.records.values import Value
from fieldbook.store.changes import Act, Reassert
from fieldbook.store.journal.append import append_entry
from fieldbook.store.journal.entry import ADD, DELETED, Entry
from fieldbook.store.journal.latest_versions import entries_of_row, latest_of_row, parents_of_change
from fieldbook.store.journal.merge import RowState, merge_row
from fieldbook.store.journal.origin import current_origin
from fieldbook.store.journal.receive import rebuild_rows


def state_before(connection: Connection, entry: Entry) -> RowState:
    """The row as whoever made an entry saw it."""
    known = {one.id: one for one in entries_of_row(connection, entry.table, entry.row_id)}
    return merge_row([known[one] for one in ancestors_of(known, [entry])], column_accepts)


def ancestors_of(known: dict[str, Entry], entries: Iterable[Entry]) -> set[str]:
    """The ids of all that these entries came after."""
    left = [parent for one in entries for parent in one.parents]
    before = set[str]()
    while left:
        one = left.pop()
        if one in known and one not in before:
            before.add(one)
            left.extend(known[one].parents)
    return before


def reassert_row(
    connection: Connection, table: str, row_id: str, state: RowState, *, removed: bool
) -> Reassert:
    """A row as it was: its columns, what differed, and with `removed` the removal in conflict."""
    differ = [one for one in state.conflicts if one.column not in ("", DELETED)]
    pending = any(one.column == DELETED for one in state.conflicts)
    known = {one.id: one for one in entries_of_row(connection, table, row_id)}
    cells = {one.column: _versions(known, one.column, one.heads) for one in differ}
    return Reassert(table, row_id, state.values or {}, cells, removed and pending)


def reassert_cell(connection: Connection, entry: Entry, state: RowState) -> Reassert | None:
    """The versions of the cell that an entry replaced, if they were in conflict."""
    known = {one.id: one for one in entries_of_row(connection, entry.table, entry.row_id)}
    for one in state.conflicts:
        if one.column == entry.op:
            cells = {one.column: _versions(known, one.column, one.heads)}
            return Reassert(entry.table, entry.row_id, None, cells)
    return None


def _versions(known: dict[str, Entry], column: str, heads: Iterable[str]) -> tuple[Value, ...]:
    """What these entries say of a column, each value once, the latest last."""
    said: list[Value] = []
    for entry in sorted((known[one] for one in heads), key=lambda one: one.recency, reverse=True):
        if entry.value_of(column) not in said:
            said.append(entry.value_of(column))
    return tuple(reversed(said))


def reassert(connection: Connection, act: Act, change: Reassert, book_format: int) -> None:
    """Seal it and make the row what it says, inside the caller's transaction."""
    own = current_origin(connection)
    table, row_id = change.table, change.row_id
    heads = latest_of_row(connection, table, row_id)

    def told(op: str, value: object, parents: list[str]) -> str:
        text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
        make_entry = (act.job_id, table, row_id, op, text)
        return append_entry(connection, own, act, make_entry, book_format, parents)

    above = parents_of_change(heads, ADD)
    row = [] if change.row is None else [told(ADD, dict(change.row), above)]
    if change.removed:
        told(DELETED, None, above)
    for column, versions in change.cells.items():
        replaced = row or parents_of_change(heads, column)
        for version in versions:
            told(column, version, replaced)
    own.keep(connection)
    rebuild_rows(connection, [(table, row_id)])


Known = Mapping[str, Entry]
"""The entries of one row by their ids."""


def original_entries(known: Known, entries: Iterable[Entry], column: str) -> list[Entry]:
    """These entries, each that only says again what was said of the column replaced by those."""
    found: dict[str, Entry] = {}
    for entry in entries:
        told = _said_before(known, entry, column) if is_reassertion(known, entry) else []
        for one in original_entries(known, told, column) if told else [entry]:
            found.setdefault(one.id, one)
    return list(found.values())


def is_reassertion(known: Known, entry: Entry) -> bool:
    """Whether it is one of several that an act sealed beside each other."""
    return any(
        one.act == entry.act
        and one.parents == entry.parents
        and one.id != entry.id
        and (one.op == entry.op or {one.op, entry.op} == {ADD, DELETED})
        for one in known.values()
    )


def _said_before(known: Known, entry: Entry, column: str) -> list[Entry]:
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
    return sorted(found, key=lambda one: one.recency, reverse=True)


def _same(one: Entry, entry: Entry, column: str) -> bool:
    if DELETED in (one.op, entry.op):
        return one.op == entry.op
    return one.op in (ADD, column) and one.value_of(column) == entry.value_of(column)
