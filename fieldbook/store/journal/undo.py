"""Undo: the changes that take an act back, worked out from what the journal says was before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from fieldbook.records.base import columns_of, new_id, now
from fieldbook.records.loaded_job import RECORDS
from fieldbook.records.tables.sign_offs import SETTLED
from fieldbook.records.values import Value
from fieldbook.store.changes import Act, Add, Change, Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.journal.apply import read_row
from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import latest_of_row, parents_of_change
from fieldbook.store.journal.origin import own_origins
from fieldbook.store.journal.reassert import reassert_cell, reassert_row, state_before
from fieldbook.store.sqlite.book_connection import Connection


def reversing_changes(
    connection: Connection, act: Act, group_id: str, partners: Sequence[str] = ()
) -> list[Change]:
    """The changes that take back the act `group_id` on the job of `act`, in reverse order.

    `partners` are other properties that it may have changed, as an act does that joins two.

    Raises BookError when another laptop has since changed what the act changed.
    """
    marks = ", ".join("?" * (1 + len(partners)))
    query = f"{SELECT_ENTRIES} WHERE job_id IN ({marks}) AND act = ? ORDER BY n DESC"
    rows = connection.run(query, (act.job_id, *partners, group_id)).all()
    own = own_origins(connection)
    changes: list[Change] = []
    for entry in map(from_row, rows):
        if entry.table == "sign_off":
            change = _reverse_signature(connection, entry)
        else:
            _refuse_if_changed_elsewhere(connection, entry, own)
            change = _reversed(connection, entry)
        if change is not None and change not in changes:
            changes.append(change)
    return changes


def _refuse_if_changed_elsewhere(connection: Connection, entry: Entry, own: set[str]) -> None:
    """Raise BookError if an entry of another laptop came after this one."""
    latest = latest_of_row(connection, entry.table, entry.row_id)
    query = f"{SELECT_ENTRIES} WHERE id = ?"
    for entry_id in parents_of_change(latest, entry.op):
        row = connection.run(query, (entry_id,)).first()
        later = None if row is None else from_row(row)
        if later and later.origin not in own and later.id not in entry.parents:
            raise BookError(
                f"This can't be undone: {later.who or 'somebody'} changed it since on another "
                "laptop. Enter what it should be instead."
            )


def _reversed(connection: Connection, entry: Entry) -> Change | None:
    """The change that brings back what was before an entry, with the conflicts that were open."""
    table, row_id = entry.table, entry.row_id
    state = state_before(connection, entry)
    if entry.op not in (ADD, DELETED):
        before = (state.values or {}).get(entry.op)
        put = Put(table, row_id, entry.op, _stored_value(table, entry.op, before))
        return reassert_cell(connection, entry, state) or put
    if state.values is not None:
        return reassert_row(connection, table, row_id, state, removed=True)
    return Remove(table, row_id) if entry.op == ADD else None


def _stored_value(table: str, column: str, value: Value) -> Value:
    """A value of the journal as the table holds it: ticks as bool, blank text as ""."""
    kept = columns_of(RECORDS[table])[column]
    if value is None:
        return None if kept.optional else ""
    return bool(value) if kept.kind is bool else value


def _reverse_signature(connection: Connection, entry: Entry) -> Change | None:
    """Add a sign-off that withdraws the one of an entry, or that signs again what it withdrew.

    A sign-off is never changed or removed: a later row supersedes it. A rival that it settled stays
    settled (None).
    """
    row: dict[str, Any] = {**entry.row, "id": entry.row_id}
    if row["state"] == SETTLED:
        return None
    newest, made = _newest_signature(connection, row), new_id()
    if row["state"] == "signed":
        columns = {key: row.get(key) for key in ("job_id", "kind", "zone_id", "signed_by")}
        columns["signed_by"] = columns["signed_by"] or ""
        columns |= {"supersedes": newest, "signed_at": now(), "state": "withdrawn"}
        return Add("sign_off", made, columns)
    signed = read_row(connection, "sign_off", row.get("supersedes") or "") or row
    return Add("sign_off", made, {**signed, "id": made, "state": "signed", "supersedes": newest})


def _newest_signature(connection: Connection, row: Mapping[str, Any]) -> str | None:
    """The id of the sign-off of this kind and zone that no other supersedes."""
    rows = connection.run(
        "SELECT id, supersedes, state FROM sign_off WHERE job_id = ? AND kind = ? AND zone_id IS ?",
        (row["job_id"], row.get("kind", ""), row.get("zone_id")),
    ).all()
    superseded = {supersedes for _, supersedes, _ in rows}
    left = (row_id for row_id, _, state in rows if row_id not in superseded and state != SETTLED)
    return max(left, default=None)
