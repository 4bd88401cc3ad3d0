"""The changes that take an act back, from what the journal says was there before."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Boolean, Connection

from fieldbook.records.base import new_id, now
from fieldbook.records.readable import readable
from fieldbook.records.values import Value
from fieldbook.store.act import Act
from fieldbook.store.change import Add, Change, Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.heads import entries_of, heads_of, replaced_by
from fieldbook.store.merge import row_state
from fieldbook.store.origin import own_origins
from fieldbook.store.sealed import ADD, DELETED, SELECT, Sealed, from_row
from fieldbook.store.write import read_row, table_named


def reverse(connection: Connection, act: Act, group_id: str) -> list[Change]:
    """The changes that take an act back, its last first.

    What a removed row held in columns unknown here goes to `act.verbatim`. Raises BookError when
    another laptop has changed since what the act changed.
    """
    query = f"{SELECT} WHERE job_id = ? AND act = ? ORDER BY n DESC"
    rows = connection.exec_driver_sql(query, (act.job_id, group_id))
    entries = [from_row(row) for row in rows]
    own = own_origins(connection)
    changes: list[Change] = []
    for entry in entries:
        if entry.table == "sign_off":
            changes.append(_sign_over(connection, entry))
            continue
        _refuse_others(connection, entry, own)
        changes.append(_reversed(connection, act, entry))
    return changes


def _refuse_others(connection: Connection, entry: Sealed, own: set[str]) -> None:
    """Undo never takes back what another laptop entered since."""
    heads = replaced_by(heads_of(connection, entry.table, entry.row_id), entry.op)
    for one in _named(connection, heads):
        if one.origin not in own and one.id not in entry.parents:
            raise BookError(
                f"This can't be taken back: {one.who or 'another laptop'} changed it since, on "
                "another laptop. Enter what it should be instead."
            )


def _named(connection: Connection, ids: Iterable[str]) -> list[Sealed]:
    """The entries of these ids that are here."""
    query = f"{SELECT} WHERE id = ?"
    rows = (connection.exec_driver_sql(query, (one,)).first() for one in ids)
    return [from_row(row) for row in rows if row is not None]


def _reversed(connection: Connection, act: Act, entry: Sealed) -> Change:
    table, row_id = entry.table, entry.row_id
    if entry.op == ADD:
        return Remove(table, row_id)
    if entry.op != DELETED:
        return Put(table, row_id, entry.op, _value_before(connection, entry))
    values = _row_before(connection, entry)
    known = table_named(table).c
    act.verbatim[table, row_id] = {key: one for key, one in values.items() if key not in known}
    held = {key: _typed(table, key, one) for key, one in values.items() if key in known}
    return Add(table, row_id, held)


def _value_before(connection: Connection, entry: Sealed) -> Value:
    """What the cell showed before an entry: the latest of what it replaced."""
    replaced = sorted(_named(connection, entry.parents), key=lambda one: one.age)
    said = [one.said(entry.op) for one in replaced]
    fit = [value for value in said if readable(entry.table, entry.op, value)]
    before = fit[-1] if fit else None
    if before is None and not table_named(entry.table).c[entry.op].nullable:
        return ""
    return _typed(entry.table, entry.op, before)


def _row_before(connection: Connection, removal: Sealed) -> dict[str, Value]:
    """The row as it was when it was removed."""
    known = {one.id: one for one in entries_of(connection, removal.table, removal.row_id)}
    left, before = list(removal.parents), set[str]()
    while left:
        one = left.pop()
        if one in known and one not in before:
            before.add(one)
            left.extend(known[one].parents)
    return row_state([known[one] for one in before], readable).values or {}


def _typed(table: str, column: str, value: Value) -> Value:
    """A value as the record has it: ticks are true and false."""
    if value is not None and isinstance(table_named(table).c[column].type, Boolean):
        return bool(value)
    return value


def _sign_over(connection: Connection, entry: Sealed) -> Change:
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
