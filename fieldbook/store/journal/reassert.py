"""Reassert: append entries that bring a row back to an earlier state with its conflicts open.

An entry made here supersedes every version it saw, and so settles a conflict. To open the conflict
again, `reassert` appends one entry for each version, all with the same parents. None of them
supersedes another, so every laptop finds that they differ.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from fieldbook.records.column_values import column_accepts
from fieldbook.records.values import Value
from fieldbook.store.changes import Act, Reassert
from fieldbook.store.journal.append import RowChange, append_entry
from fieldbook.store.journal.entry import ADD, DELETED, Entry
from fieldbook.store.journal.latest_versions import (
    entries_of_row,
    latest_of_row,
    parents_of_change,
)
from fieldbook.store.journal.merge import RowState, merge_row
from fieldbook.store.journal.origin import current_origin
from fieldbook.store.journal.row_rebuilding import rebuild_rows
from fieldbook.store.sqlite.book_connection import Connection

EntriesById = Mapping[str, Entry]
"""The entries of one row, by id."""


def entries_by_id(connection: Connection, table: str, row_id: str) -> EntriesById:
    """The entries of a row, by id."""
    return {entry.id: entry for entry in entries_of_row(connection, table, row_id)}


def state_before(connection: Connection, entry: Entry) -> RowState:
    """The row as the author of an entry saw it."""
    known = entries_by_id(connection, entry.table, entry.row_id)
    return merge_row([known[entry_id] for entry_id in ancestors_of(known, [entry])], column_accepts)


def ancestors_of(known: EntriesById, entries: Iterable[Entry]) -> set[str]:
    """The ids of all entries that these supersede."""
    left = [parent for entry in entries for parent in entry.parents]
    found = set[str]()
    while left:
        entry_id = left.pop()
        if entry_id in known and entry_id not in found:
            found.add(entry_id)
            left.extend(known[entry_id].parents)
    return found


def reassert_row(
    connection: Connection, table: str, row_id: str, state: RowState, *, removed: bool
) -> Reassert:
    """The change that brings a row back to a state: its values and the conflicts in its cells.

    With `removed` also the removal that is in conflict with the row, if there is one.
    """
    known = entries_by_id(connection, table, row_id)
    cells = {
        conflict.column: _values(known, conflict.column, conflict.entry_ids)
        for conflict in state.conflicts
        if conflict.column not in ("", DELETED)
    }
    uncounted = any(conflict.column == DELETED for conflict in state.conflicts)
    return Reassert(table, row_id, state.values or {}, cells, removed and uncounted)


def reassert_cell(connection: Connection, entry: Entry, state: RowState) -> Reassert | None:
    """The change that opens again the conflict that an entry settled in its cell, if it did."""
    for conflict in state.conflicts:
        if conflict.column == entry.op:
            known = entries_by_id(connection, entry.table, entry.row_id)
            cells = {entry.op: _values(known, entry.op, conflict.entry_ids)}
            return Reassert(entry.table, entry.row_id, None, cells)
    return None


def _values(known: EntriesById, column: str, entry_ids: Iterable[str]) -> tuple[Value, ...]:
    """The different values that these entries give a column, the newest last."""
    values: list[Value] = []
    entries = [known[entry_id] for entry_id in entry_ids]
    for entry in sorted(entries, key=lambda entry: entry.recency, reverse=True):
        if entry.value_of(column) not in values:
            values.append(entry.value_of(column))
    return tuple(reversed(values))


def reassert(connection: Connection, act: Act, change: Reassert) -> None:
    """Append the entries of a Reassert and rebuild its row, inside the caller's transaction."""
    own = current_origin(connection)
    table, row_id = change.table, change.row_id
    latest = latest_of_row(connection, table, row_id)
    # An act that joins two properties is one of the first, and changes the second's own row too.
    job_id = row_id if table == "job" else act.job_id

    def append(op: str, value: object, parents: list[str]) -> str:
        text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
        row_change = RowChange(job_id, table, row_id, op, text)
        return append_entry(connection, own, act, row_change, parents)

    whole_row = parents_of_change(latest, ADD)
    added = [] if change.row is None else [append(ADD, dict(change.row), whole_row)]
    if change.removed:
        append(DELETED, None, whole_row)
    for column, versions in change.cells.items():
        parents = added or parents_of_change(latest, column)
        for version in versions:
            append(column, version, parents)
    own.save(connection)
    # `append_entry` stored only the last of them as the latest version; the merge finds all.
    rebuild_rows(connection, [(table, row_id)])


def original_entries(known: EntriesById, entries: Iterable[Entry], column: str) -> list[Entry]:
    """Replace entries that only reassert a value by those that first gave it, and their authors."""
    found: dict[str, Entry] = {}
    for entry in entries:
        earlier = _same_value_before(known, entry, column) if is_reassertion(known, entry) else []
        for original in original_entries(known, earlier, column) if earlier else [entry]:
            found.setdefault(original.id, original)
    return list(found.values())


def is_reassertion(known: EntriesById, entry: Entry) -> bool:
    """Whether `reassert` appended the entry beside others of the same act and parents."""
    return any(
        other.act == entry.act
        and other.parents == entry.parents
        and other.id != entry.id
        and (other.op == entry.op or {other.op, entry.op} == {ADD, DELETED})
        for other in known.values()
    )


def _same_value_before(known: EntriesById, entry: Entry, column: str) -> list[Entry]:
    """The nearest ancestors with the same value, newest first.

    Entries of the same act, or of the act that it undid, are passed through.
    """
    acts = {entry.act, entry.target} - {""}
    left, seen, found = list(entry.parents), set[str](), []
    while left:
        ancestor = known.get(left.pop())
        if ancestor is None or ancestor.id in seen:
            continue
        seen.add(ancestor.id)
        if {ancestor.act, ancestor.target} & acts:
            left.extend(ancestor.parents)
        elif _gives_same(ancestor, entry, column):
            found.append(ancestor)
    return sorted(found, key=lambda entry: entry.recency, reverse=True)


def _gives_same(ancestor: Entry, entry: Entry, column: str) -> bool:
    if DELETED in (ancestor.op, entry.op):
        return ancestor.op == entry.op
    return ancestor.op in (ADD, column) and ancestor.value_of(column) == entry.value_of(column)
