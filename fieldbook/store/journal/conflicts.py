"""The conflicts of a job as the crew is asked about them, each with the versions that differ."""

from __future__ import annotations

import json
from collections.abc import Iterator

from fieldbook.records.column_values import column_accepts
from fieldbook.records.conflict import (
    BROKEN_LINK,
    EVIDENCE,
    REMOVED,
    BrokenLink,
    Conflict,
    ConflictKind,
    Version,
)
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.values import Value
from fieldbook.store.journal.entry import ADD, DELETED, Entry
from fieldbook.store.journal.joined import first_entered, joined_into
from fieldbook.store.journal.latest_versions import entries_of_row
from fieldbook.store.journal.reassert import (
    EntriesById,
    ancestors_of,
    entries_by_id,
    is_reassertion,
    original_entries,
    state_before,
)
from fieldbook.store.sqlite.book_connection import Connection

_OF_JOB = """
SELECT "table", row_id, "column", kind, heads FROM conflict
WHERE job_id = ? ORDER BY "table", row_id, "column"
"""
_ADDRESSES = """
SELECT DISTINCT job.address FROM conflict JOIN job ON job.id = conflict.job_id
WHERE job.off_board IS NOT 1 ORDER BY job.address
"""


def conflicts_of(connection: Connection, job_id: str) -> tuple[Conflict, ...]:
    """The cells and rows of a job that are in conflict."""
    rows = connection.run(_OF_JOB, (job_id,)).all()
    return tuple(_conflict(connection, *row) for row in rows)


def in_conflict(connection: Connection) -> list[str]:
    """The addresses of the jobs on the board that hold a conflict."""
    return [str(row[0]) for row in connection.run(_ADDRESSES)]


def broken_links_of(connection: Connection, job: LoadedJob) -> tuple[Conflict, ...]:
    """The rows of a job that link to a row which another laptop removed.

    Also files attached to a row that another laptop joined with one that is there.
    """
    found = []
    for link in (*job.broken_links(), *_files_of_nothing(job)):
        entries = entries_of_row(connection, link.to_table, link.to_row)
        removals = [entry for entry in entries if entry.op == DELETED]
        if removals:
            # Undoing a restore removes the row too, but is not the reason why it was removed.
            reasons = [entry for entry in removals if entry.kind != "undo"] or removals
            last = max(reasons, key=lambda entry: entry.recency)
            values = state_before(connection, last).values or {}
            name = values.get("number") or values.get("name")
            version = Version(name, last.who, last.wall, last.origin)
            gone = (link.to_table, link.to_row)
            joined = joined_into(connection, job, last, values)
            if joined or link.table != Attachment.table_name:
                found.append(
                    Conflict(
                        link.table, link.row_id, link.column, BROKEN_LINK, (version,), gone, joined
                    )
                )
    return tuple(found)


def _files_of_nothing(job: LoadedJob) -> Iterator[BrokenLink]:
    """Attached files of rows that the job doesn't have: a photo outlives what it shows."""
    for file in job.attachments:
        if file.of_table in TABLES and job.row(file.of_row) is None and file.of_row != job.job.id:
            yield BrokenLink("attachment", file.id, "of_row", file.of_table, file.of_row)


def _conflict(
    connection: Connection,
    table: str,
    row_id: str,
    column: str,
    kind: ConflictKind,
    entry_ids: str,
) -> Conflict:
    known = entries_by_id(connection, table, row_id)
    entries = [known[entry_id] for entry_id in json.loads(entry_ids)]
    entries.sort(key=lambda entry: entry.recency, reverse=True)
    if kind != EVIDENCE:
        entries = original_entries(known, entries, column)
    if kind not in (EVIDENCE, REMOVED):
        entries = [first_entered(connection, entry, column) for entry in entries]
    if kind == REMOVED:
        entries += _unseen_change(known, entries)
    versions = [_version(entry, column, kind) for entry in entries]
    # The version that is shown comes first: the newest whose value the column can hold.
    versions.sort(key=lambda version: not column_accepts(table, column, version.value))
    return Conflict(table, row_id, column, kind, tuple(versions))


def _unseen_change(known: EntriesById, removals: list[Entry]) -> list[Entry]:
    """The newest change that the removals did not see, if there is one.

    A change that a person made is preferred to one that undo or a restore made.
    """
    seen = ancestors_of(known, removals)
    unseen = [entry for entry in known.values() if entry.op != DELETED and entry.id not in seen]
    done = [entry for entry in unseen if entry.kind == "do" and not is_reassertion(known, entry)]
    unseen = [entry for entry in done if entry.op != ADD or not entry.parents] or done or unseen
    return [max(unseen, key=lambda entry: entry.recency)] if unseen else []


def _version(entry: Entry, column: str, kind: str) -> Version:
    value: Value
    if kind == REMOVED:
        value = "removed" if entry.op == DELETED else "changed"
    elif entry.op != ADD and not column:
        value = entry.value_of(entry.op)
    else:
        value = entry.value_of(column)
    return Version(value, entry.who, entry.wall, entry.origin)
