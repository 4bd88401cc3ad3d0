"""A copy of an open job in memory on which acts are tried, to be kept all at once or not at all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from fieldbook.actions.open_job import OpenJob
from fieldbook.records.base import Record
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put, Remove


class DraftJob(OpenJob):
    """An open job whose acts change only the loaded rows in memory, until `keep`.

    Every action works on it as on the job itself. Its flags stay those of the job as it is on disk.
    """

    def __init__(self, open_job: OpenJob) -> None:
        """Begin with the job as it is."""
        self._open_job = open_job
        self.book, self.by = open_job.book, open_job.by
        self.job, self.verdicts = open_job.job, open_job.verdicts
        self._changes: list[Change] = []

    def commit(self, changes: Sequence[Change], what: str) -> bool:
        """Make the changes in memory; `what` names the act only where an act is kept alone."""
        del what
        for change in changes:
            self.job = changed(self.job, change)
        self._changes += changes
        return bool(changes)

    def refresh(self) -> None:
        """Nothing: the draft is not on disk."""

    def keep(self, what: str) -> bool:
        """Commit everything that was tried as one act of the job; False if it changes nothing."""
        return self._open_job.commit(folded(self._changes, self._open_job.job), what)


def changed(job: LoadedJob, change: Change) -> LoadedJob:
    """The loaded job after one change; a change of another kind than these raises TypeError."""
    if isinstance(change, Put):
        return _put(job, change)
    if isinstance(change, Add):
        return _added(job, change.table, change.row_id, change.values)
    if isinstance(change, Remove):
        rows = [row for row in job.tables()[change.table] if row.id != change.row_id]
        return _with_rows(job, change.table, rows)
    raise TypeError(f"a draft can't make the change {change!r}")


def _put(job: LoadedJob, change: Put) -> LoadedJob:
    if change.table == "job":
        return replace(job, job=job.job.with_values(**{change.column: change.value}))
    if job.row(change.row_id) is None:
        values = {**change.seed, change.column: change.value}
        return _added(job, change.table, change.row_id, values)
    rows = [
        row.with_values(**{change.column: change.value}) if row.id == change.row_id else row
        for row in job.tables()[change.table]
    ]
    return _with_rows(job, change.table, rows)


def _added(job: LoadedJob, table: str, row_id: str, values: Mapping[str, Value]) -> LoadedJob:
    filled: dict[str, Any] = {"job_id": job.job.id, **values, "id": row_id}
    row = TABLES[table](**filled)
    return _with_rows(job, table, [*job.tables()[table], row])


def _with_rows(job: LoadedJob, table: str, rows: Sequence[Record]) -> LoadedJob:
    held: object = tuple(rows)
    if TABLES[table].once:
        held = rows[0] if rows else None
    return replace(job, **{FIELD_OF[table]: held})  # type: ignore[arg-type]


def folded(changes: Iterable[Change], job: LoadedJob) -> list[Change]:
    """The changes with each row added once and each cell set once, to the value it ends with.

    So the journal gets one entry for a new row, as if it had been typed whole.
    """
    adds: dict[tuple[str, str], dict[str, Value]] = {}
    puts: dict[tuple[str, str, str], Put] = {}
    removes: dict[tuple[str, str], Remove] = {}
    for change in changes:
        if isinstance(change, Add):
            adds[change.table, change.row_id] = dict(change.values)
        elif isinstance(change, Put):
            row = (change.table, change.row_id)
            if row not in adds and change.table != "job" and job.row(change.row_id) is None:
                adds[row] = dict(change.seed)
            if row in adds:
                adds[row][change.column] = change.value
            else:
                puts[*row, change.column] = change
        elif isinstance(change, Remove):
            row = (change.table, change.row_id)
            puts = {cell: put for cell, put in puts.items() if cell[:2] != row}
            if adds.pop(row, None) is None:
                removes[row] = change
    return [
        *removes.values(),
        *(Add(table, row_id, values) for (table, row_id), values in adds.items()),
        *puts.values(),
    ]
