"""Bring up a book of formats 1 to 6: its log of changes becomes entries of the journal.

These books kept every change in a table of their own, `entry`, and knew no other laptop. What rows
hold and the log does not explain was written by another program, and is appended as such.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.changes import Act, another_program
from fieldbook.store.journal.append import RowChange, append_entry, append_outbox
from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.latest_versions import state_of
from fieldbook.store.journal.origin import current_origin
from fieldbook.store.journal.row_rebuilding import rebuild_rows, table_row
from fieldbook.store.journal.triggers import capture_current
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.row_statements import column_list

FIRST_WITH_JOURNAL = 7
"""The first format whose journal is that of today."""
DROPPED = ("entry", "journal", "outbox", "origin", "board_line", "words")
"""Tables of an older format that are dropped: today's of the same name hold something else."""
_LOG = (
    "SELECT group_id, kind, target, what, job_id, by, at, row_id, new, "
    'entry."table", entry."column" FROM entry ORDER BY id'
)
_ADD_TO_OUTBOX = 'INSERT INTO outbox (job_id, "table", row_id, op, value) VALUES (?, ?, ?, ?, ?)'


@dataclass(frozen=True)
class OldEntry:
    """A change as an older book kept it, and the act it was part of."""

    act: Act
    change: RowChange


def read_log(connection: Connection) -> list[OldEntry]:
    """Read the log of an older book, oldest first, and drop the tables that are replaced."""
    tables = "SELECT name FROM sqlite_schema WHERE type = 'table'"
    here = {row[0] for row in connection.run(tables)}
    log: list[OldEntry] = []
    if "entry" in here:
        log = [_from_log(row) for row in connection.run(_LOG).dicts()]
    for name in DROPPED:
        if name in here:
            connection.run(f'DROP TABLE "{name}"')
    return log


def _from_log(row: Mapping[str, Any]) -> OldEntry:
    acted = (row[name] for name in ("job_id", "by", "what", "kind", "target", "group_id", "at"))
    act = Act(*acted)
    if row["column"]:
        op, value = row["column"], _cell_json(json.loads(row["new"]))
    elif row["new"] == "null":
        op, value = DELETED, "null"
    else:
        op, value = ADD, _row_json(json.loads(row["new"]))
    return OldEntry(act, RowChange(act.job_id, row["table"], row["row_id"], op, value))


def from_old_text(line: Mapping[str, Any]) -> OldEntry | None:
    """The change in a line of a text journal of the first kind.

    None for a line that says only who changed a row and when: that follows from the others.
    """
    op, value = line["op"], json.loads(line["value"])
    if op in ("entered_by", "entered_at"):
        return None
    # Such a line names no act, so each is an act of its own, which undo leaves alone.
    act = Act(line["job_id"], line["who"], "", "other", "", line["id"][:32], line["wall"])
    held = _row_json(value) if op == ADD else "null" if op == DELETED else _cell_json(value)
    return OldEntry(act, RowChange(act.job_id, line["table"], line["row_id"], op, held))


def _row_json(row: Mapping[str, Any]) -> str:
    """An added row as the triggers of today capture it: without its id and blank columns."""
    kept = {
        key: int(value) if isinstance(value, bool) else value
        for key, value in row.items()
        if key != "id" and value not in (None, "")
    }
    return json.dumps(kept, ensure_ascii=False, separators=(",", ":"))


def _cell_json(value: object) -> str:
    return json.dumps(int(value) if isinstance(value, bool) else value, ensure_ascii=False)


def append_old_log(connection: Connection, log: Iterable[OldEntry]) -> None:
    """Append an old log to the journal as this book's own entries."""
    own = current_origin(connection)
    for old in log:
        append_entry(connection, own, old.act, old.change)
    own.save(connection)


def append_differences(connection: Connection) -> None:
    """Append what another program wrote: where rows are not what their entries make them."""
    connection.run("DELETE FROM outbox")
    rows = list(_capture_differences(connection))
    append_outbox(connection, another_program())
    rebuild_rows(connection, rows)


def _capture_differences(connection: Connection) -> Iterator[tuple[str, str]]:
    """Add each difference to the outbox; yields the rows (table, id) that have one."""
    for table, record in RECORDS.items():
        every_id = f'SELECT id FROM "{table}" UNION SELECT row_id FROM journal WHERE "table" = ?'
        by_id = f'SELECT {column_list(record)} FROM "{table}" WHERE id = ?'
        for (row_id,) in connection.run(every_id, (table,)).all():
            values = state_of(connection, table, row_id).values
            of_entries = None if values is None else table_row(table, row_id, values)
            row = next(connection.run(by_id, (row_id,)).dicts(), None)
            if row == of_entries:
                continue
            if row is None:
                removal = (str((values or {}).get("job_id", "")), table, row_id, DELETED, "null")
                connection.run(_ADD_TO_OUTBOX, removal)
            else:
                _capture_cells(connection, table, row, of_entries)
            yield table, row_id


def _capture_cells(
    connection: Connection, table: str, row: Mapping[str, Any], of_entries: Mapping[str, Any] | None
) -> None:
    if of_entries is None:
        capture_current(connection, table, row["id"], "")
        return
    for column, value in row.items():
        if value != of_entries[column] and column not in ("entered_by", "entered_at", "job_id"):
            capture_current(connection, table, row["id"], column)
