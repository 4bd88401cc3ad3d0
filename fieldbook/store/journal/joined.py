"""What the journal says of rows that were joined (`actions/joining`).

An act that joins two rows enters the number or name of the first again, and removes the second.
"""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.records.base import facts_of
from fieldbook.records.ids import natural_row_id
from fieldbook.records.known_by import KNOWN_BY, folded
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.values import Value
from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import entries_of_row
from fieldbook.store.sqlite.book_connection import Connection

_OF_ACT = f'{SELECT_ENTRIES} WHERE job_id = ? AND act = ? AND origin = ? AND "table" = ? AND op = ?'


def joined_into(
    connection: Connection, job: LoadedJob, removal: Entry, values: Mapping[str, Value]
) -> str:
    """The id of the row with which the act of a removal joined the removed one.

    `values` are those the row had. Empty where it was only removed, or the other is gone too.
    """
    known = KNOWN_BY.get(removal.table)
    if known is None:
        found = _of_joined(connection, job, removal, values)
        return found if found != removal.row_id and job.row(found) is not None else ""
    own = folded(removal.table, values.get(known.column))
    rows = {
        entry.row_id
        for entry in _of_act(connection, removal, known.column)
        if folded(removal.table, entry.value_of(known.column)) == own
    }
    there = [row_id for row_id in rows if row_id != removal.row_id and job.row(row_id) is not None]
    return there[0] if len(there) == 1 else ""


def _of_joined(
    connection: Connection, job: LoadedJob, removal: Entry, values: Mapping[str, Value]
) -> str:
    """The id that a row made from what it is has, where that was joined in the same act."""
    moved = dict(values)
    for column, fact in facts_of(TABLES[removal.table]).items():
        target = values.get(column)
        if fact.links_to in ("", "job", removal.table) or not isinstance(target, str):
            continue
        for entry in entries_of_row(connection, fact.links_to, target):
            if entry.op == DELETED and entry.act == removal.act:
                moved[column] = joined_into(connection, job, entry, _held(connection, entry))
    return natural_row_id(job.job.id, removal.table, moved) or ""


def _held(connection: Connection, removal: Entry) -> dict[str, Value]:
    """What a removed row held, roughly: the newest value of each cell."""
    held: dict[str, Value] = {}
    entries = entries_of_row(connection, removal.table, removal.row_id)
    for entry in sorted(entries, key=lambda entry: entry.recency):
        if entry.op == ADD:
            held |= entry.row
        elif entry.op != DELETED:
            held[entry.op] = entry.value_of(entry.op)
    return held


def first_entered(connection: Connection, entry: Entry, column: str) -> Entry:
    """The entry that gave a value to the row which the act of `entry` joined with this one.

    The entry itself where its value came from nowhere else: a conflict names who entered a value,
    not who joined the rows.
    """
    for removal in _of_act(connection, entry, DELETED):
        there = entries_of_row(connection, removal.table, removal.row_id)
        giving = [
            other
            for other in there
            if other.op in (ADD, column) and other.value_of(column) == entry.value_of(column)
        ]
        if giving and removal.row_id != entry.row_id:
            return max(giving, key=lambda other: other.recency)
    return entry


def _of_act(connection: Connection, entry: Entry, op: str) -> list[Entry]:
    """The entries of the same act on the same table with an operation."""
    values = (entry.job_id, entry.act, entry.origin, entry.table, op)
    return [from_row(row) for row in connection.run(_OF_ACT, values).all()]
