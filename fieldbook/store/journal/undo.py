"""The changes that take an act back, from what the journal says was there before."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Boolean, Connection

from fieldbook.records.base import new_id, now
from fieldbook.records.values import Value
from fieldbook.store.changes import Act, Add, Change, Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.journal.apply import read_row, table_named
from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import latest_of_row, parents_of_change
from fieldbook.store.journal.origin import own_origins
from fieldbook.store.journal.reassert import reassert_cell, reassert_row, state_before


def reversing_changes(connection: Connection, act: Act, group_id: str) -> list[Change]:
    """The changes that take an act back, its last first.

    Raises BookError when another laptop has changed since what the act changed.
    """
    query = f"{SELECT_ENTRIES} WHERE job_id = ? AND act = ? ORDER BY n DESC"
    rows = connection.exec_driver_sql(query, (act.job_id, group_id))
    entries = [from_row(row) for row in rows]
    own = own_origins(connection)
    changes: list[Change] = []
    for entry in entries:
        if entry.table == "sign_off":
            changes.append(_sign_over(connection, entry))
            continue
        _refuse_others(connection, entry, own)
        change = _reversed(connection, entry)
        if change is not None and change not in changes:
            changes.append(change)
    return changes


def _refuse_others(connection: Connection, entry: Entry, own: set[str]) -> None:
    """Undo never takes back what another laptop entered since."""
    heads = parents_of_change(latest_of_row(connection, entry.table, entry.row_id), entry.op)
    for one in _named(connection, heads):
        if one.origin not in own and one.id not in entry.parents:
            raise BookError(
                f"This can't be taken back: {one.who or 'another laptop'} changed it since, on "
                "another laptop. Enter what it should be instead."
            )


def _named(connection: Connection, ids: Iterable[str]) -> list[Entry]:
    """The entries of these ids that are here."""
    query = f"{SELECT_ENTRIES} WHERE id = ?"
    rows = (connection.exec_driver_sql(query, (one,)).first() for one in ids)
    return [from_row(row) for row in rows if row is not None]


def _reversed(connection: Connection, entry: Entry) -> Change | None:
    """What makes a row again what it was before an entry; in conflict, where it was."""
    table, row_id = entry.table, entry.row_id
    state = state_before(connection, entry)
    if entry.op not in (ADD, DELETED):
        again = reassert_cell(connection, entry, state)
        before = (state.values or {}).get(entry.op)
        return again or Put(table, row_id, entry.op, _typed(table, entry.op, before))
    if state.values is not None:
        return reassert_row(connection, table, row_id, state, removed=True)
    return Remove(table, row_id) if entry.op == ADD else None


def _typed(table: str, column: str, value: Value) -> Value:
    """A value as the record has it: ticks are true and false, text is never nothing."""
    if value is None and not table_named(table).c[column].nullable:
        return ""
    if value is not None and isinstance(table_named(table).c[column].type, Boolean):
        return bool(value)
    return value


def _sign_over(connection: Connection, entry: Entry) -> Change:
    """A signature is never taken away: a later row says that it is withdrawn, or stands again."""
    row: dict[str, Any] = {**entry.row, "id": entry.row_id}
    head, made = _newest_signature(connection, row), new_id()
    if row["state"] == "signed":
        kept = {key: row.get(key) for key in ("job_id", "kind", "zone_id", "signed_by")}
        kept["signed_by"] = kept["signed_by"] or ""
        after = {"supersedes": head, "signed_at": now(), "state": "withdrawn"}
        return Add("sign_off", made, {**kept, **after})
    signed = read_row(connection, table_named("sign_off"), row.get("supersedes") or "") or row
    return Add("sign_off", made, {**signed, "id": made, "state": "signed", "supersedes": head})


def _newest_signature(connection: Connection, row: Mapping[str, Any]) -> str | None:
    """The sign-off of this kind and stretch that nothing supersedes."""
    rows = connection.exec_driver_sql(
        "SELECT id, supersedes FROM sign_off WHERE job_id = ? AND kind = ? AND zone_id IS ?",
        (row["job_id"], row.get("kind", ""), row.get("zone_id")),
    ).all()
    after = {one.supersedes for one in rows}
    return max((one.id for one in rows if one.id not in after), default=None)
