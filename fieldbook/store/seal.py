"""Seal what was caught into the journal: content-hash ids in a chain, in the same transaction."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from typing import Any

from sqlalchemy import Connection, delete, func, insert, select

from fieldbook.records.base import new_id, now, table_of
from fieldbook.records.journal import JournalEntry, Origin, Outbox
from fieldbook.store.capture import ADD, DELETED
from fieldbook.store.rows import insert_row

_JOURNAL, _OUTBOX, _ORIGIN = table_of(JournalEntry), table_of(Outbox), table_of(Origin)
FIELDS = tuple(column.name for column in _JOURNAL.columns if column.name != "id")


def origin_of(connection: Connection) -> str:
    """The origin this book writes as; made when there is none."""
    found = connection.execute(select(_ORIGIN.c.id)).scalar()
    if found is None:
        found = new_id()
        connection.execute(insert(_ORIGIN).values(id=found, since=now()))
    return str(found)


def seal(connection: Connection, who: str, book_format: int) -> None:
    """Seal everything in the outbox as `who`'s, inside the caller's transaction."""
    caught = connection.execute(select(_OUTBOX).order_by(_OUTBOX.c.id)).mappings().all()
    if not caught:
        return
    origin, wall = origin_of(connection), now()
    seq, prev = last_of(connection, origin)
    rows = []
    for one in caught:
        seq += 1
        entry = {
            "origin": origin,
            "seq": seq,
            "prev": prev,
            "wall": wall,
            "who": who,
            "job_id": _job_of(connection, dict(one)),
            "table": one["table"],
            "row_id": one["row_id"],
            "op": one["op"],
            "value": one["value"],
            "format": book_format,
        }
        prev = entry_id(entry)
        rows.append({"id": prev, **entry})
    for row in rows:
        insert_row(connection, "journal", row)
    connection.execute(delete(_OUTBOX))


def last_of(connection: Connection, origin: str) -> tuple[int, str]:
    """The number and id of an origin's last entry; 0 and nothing before the first."""
    seq = connection.execute(
        select(func.max(_JOURNAL.c.seq)).where(_JOURNAL.c.origin == origin)
    ).scalar()
    if seq is None:
        return 0, ""
    query = select(_JOURNAL.c.id).where(_JOURNAL.c.origin == origin, _JOURNAL.c.seq == seq)
    return int(seq), str(connection.execute(query).scalar_one())


def entry_id(entry: Mapping[str, Any]) -> str:
    """The SHA-256 of an entry's fields as JSON."""
    told = json.dumps([entry[name] for name in FIELDS], ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(told.encode("utf-8")).hexdigest()


def entries(connection: Connection, origin: str, after: int = 0) -> Iterator[dict[str, Any]]:
    """An origin's entries after a number, in order."""
    query = select(_JOURNAL).where(_JOURNAL.c.origin == origin, _JOURNAL.c.seq > after)
    for row in connection.execute(query.order_by(_JOURNAL.c.seq)).mappings():
        yield dict(row)


def _job_of(connection: Connection, caught: Mapping[str, Any]) -> str:
    """The job that a caught change belongs to."""
    if caught["table"] == "job":
        return str(caught["row_id"])
    if caught["op"] == ADD:
        return str(json.loads(caught["value"]).get("job_id", ""))
    if caught["op"] == DELETED:
        return str(json.loads(caught["value"]))
    found = connection.exec_driver_sql(
        f'SELECT job_id FROM "{caught["table"]}" WHERE id = ?', (caught["row_id"],)
    ).scalar()
    return str(found or "")
