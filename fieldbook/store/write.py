"""The one place that writes: apply changes and their log entries in one transaction."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Table, select
from sqlmodel import SQLModel

from fieldbook.records.base import new_id, now, table_of
from fieldbook.records.entry import Entry
from fieldbook.store.change import Add, Change, Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.rows import delete_row, insert_row, select_rows, update_row

_ENTRY = table_of(Entry)


@dataclass
class Act:
    """One thing done: its changes are kept, logged and undone together."""

    job_id: str
    by: str
    what: str
    kind: str = "do"
    target: str = ""
    group_id: str = field(default_factory=new_id)
    at: str = field(default_factory=now)


def apply(connection: Connection, act: Act, changes: Sequence[Change]) -> int:
    """Apply `changes` inside the caller's transaction; returns how many entries were logged."""
    logged = 0
    for change in changes:
        if isinstance(change, Put):
            logged += _put(connection, act, change)
        elif isinstance(change, Add):
            logged += _add(connection, act, change.table, change.row_id, change.values)
        else:
            logged += _remove(connection, act, change)
    return logged


def insert_rows(
    connection: Connection, rows: Mapping[str, Mapping[str, Mapping[str, Any]]]
) -> None:
    """Insert whole rows by table, jobs first; what a table has no column for is left out."""
    for name in sorted(rows, key=lambda one: one != "job"):
        table = table_named(name)
        for held in rows[name].values():
            values = {key: value for key, value in held.items() if key in table.c}
            for column in table.c:
                if column.name not in values and not column.nullable:
                    values[column.name] = ""
            insert_row(connection, name, values)


def table_named(name: str) -> Table:
    """The SQLAlchemy table of a name the record uses."""
    return SQLModel.metadata.tables[name]


def read_row(connection: Connection, table: Table, row_id: str) -> dict[str, Any] | None:
    """A row as a dict, or None."""
    return next(select_rows(connection, table, "id", row_id), None)


def _put(connection: Connection, act: Act, change: Put) -> int:
    table = table_named(change.table)
    row = read_row(connection, table, change.row_id)
    if row is None:
        values = {**change.seed, change.column: change.value}
        return _add(connection, act, change.table, change.row_id, values)
    old = row[change.column]
    if old == change.value and type(old) is type(change.value):
        return 0
    stamp = {"entered_by": act.by, "entered_at": act.at}
    changed = {change.column: change.value, **stamp}
    update_row(connection, change.table, change.row_id, changed)
    _log(connection, act, change.table, change.row_id, change.column, old, change.value)
    return 1


def _add(
    connection: Connection, act: Act, name: str, row_id: str, values: Mapping[str, Any]
) -> int:
    table = table_named(name)
    row = {"entered_by": act.by, "entered_at": act.at, **values, "id": row_id}
    if "job_id" in table.c:
        row.setdefault("job_id", act.job_id)
    for column in table.c:
        if column.name not in row and not column.nullable:
            row[column.name] = ""
    insert_row(connection, name, row)
    _log(connection, act, name, row_id, "", None, row)
    return 1


def _remove(connection: Connection, act: Act, change: Remove) -> int:
    table = table_named(change.table)
    row = read_row(connection, table, change.row_id)
    if row is None:
        return 0
    delete_row(connection, change.table, change.row_id)
    _log(connection, act, change.table, change.row_id, "", row, None)
    return 1


def _log(
    connection: Connection, act: Act, table: str, row_id: str, column: str, old: object, new: object
) -> None:
    entry = {
        "id": new_id(),
        "group_id": act.group_id,
        "kind": act.kind,
        "target": act.target,
        "what": act.what,
        "job_id": act.job_id,
        "by": act.by,
        "at": act.at,
        "table": table,
        "row_id": row_id,
        "column": column,
        "old": json.dumps(old, ensure_ascii=False),
        "new": json.dumps(new, ensure_ascii=False),
    }
    insert_row(connection, "entry", entry)


def reverse(connection: Connection, group_id: str) -> list[Change]:
    """The changes that take a logged group back, last first."""
    rows = connection.execute(
        select(_ENTRY).where(_ENTRY.c.group_id == group_id).order_by(_ENTRY.c.id.desc())
    ).mappings()
    found = [dict(row) for row in rows]
    return [
        _sign_over(connection, one) if one["table"] == "sign_off" else _reverse_one(one)
        for one in found
    ]


def _sign_over(connection: Connection, entry: Mapping[str, Any]) -> Change:
    """A signature is never taken away: a later row says that it is withdrawn, or stands again."""
    row: dict[str, Any] = json.loads(entry["new"])
    head, made = _newest_signature(connection, row), new_id()
    if row["state"] == "signed":
        kept = {key: row[key] for key in ("job_id", "kind", "zone_id", "signed_by")}
        after = {"supersedes": head, "signed_at": now(), "state": "withdrawn"}
        return Add("sign_off", made, {**kept, **after})
    signed = read_row(connection, table_named("sign_off"), row["supersedes"] or "") or row
    return Add("sign_off", made, {**signed, "id": made, "state": "signed", "supersedes": head})


def _newest_signature(connection: Connection, row: Mapping[str, Any]) -> str | None:
    """The sign-off of this kind and stretch that nothing supersedes."""
    table = table_named("sign_off")
    same = [table.c.kind == row["kind"], table.c.zone_id.is_not_distinct_from(row["zone_id"])]
    rows = connection.execute(
        select(table.c.id, table.c.supersedes).where(table.c.job_id == row["job_id"], *same)
    ).all()
    after = {one.supersedes for one in rows}
    return max((one.id for one in rows if one.id not in after), default=None)


def _reverse_one(entry: Mapping[str, Any]) -> Change:
    table, row_id = entry["table"], entry["row_id"]
    if entry["column"]:
        return Put(table, row_id, entry["column"], json.loads(entry["old"]))
    if entry["new"] == "null":
        return Add(table, row_id, json.loads(entry["old"]))
    if entry["old"] == "null":
        return Remove(table, row_id)
    raise BookError("The log holds an entry that can't be undone.")
