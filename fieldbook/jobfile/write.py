"""Write a loaded job as a job file, always the same bytes for the same record."""

from __future__ import annotations

import json
from collections.abc import Mapping

from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value


def write_job(job: LoadedJob) -> str:
    """The text of a job file: keys in one order, what is not entered left out."""
    document: dict[str, object] = {FORMAT_KEY: FORMAT, JOB_KEY: _row(JOB_KEY, job.job)}
    for table, rows in job.tables().items():
        written = [_row(table, row) for row in rows]
        if written:
            document[FIELD_OF[table]] = written if many(table) else written[0]
    return json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def _row(table: str, row: Record | Job) -> dict[str, Value]:
    """A row's id and every column that holds something."""
    held: dict[str, Value] = {"id": getattr(row, "id")}  # noqa: B009
    for column in columns_of(table):
        value: Value = getattr(row, column)
        if value not in (None, ""):
            held[column] = value
    return held


FORMAT = 1
FORMAT_KEY = "fieldbook"
JOB_KEY = "job"
STAMPS = ("entered_by", "entered_at")
"""Who made a row's newest entry, and when; filled in on import where they are absent."""
TABLE_OF: Mapping[str, str] = {name: table for table, name in FIELD_OF.items()}
KEYS = (FORMAT_KEY, JOB_KEY, *TABLE_OF)


def columns_of(table: str) -> Mapping[str, Fact]:
    """The columns a row of `table` ("job" too) has in a file, besides its id."""
    record: type[Record] | type[Job] = Job if table == JOB_KEY else TABLES[table]
    return {name: fact for name, fact in facts_of(record).items() if name != "job_id"}


def many(table: str) -> bool:
    """Whether a job has a list of these rows rather than at most one."""
    return table != JOB_KEY and not TABLES[table].once
