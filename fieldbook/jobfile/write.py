"""Write a loaded job as a job file, always the same bytes for the same record."""

from __future__ import annotations

import json

from fieldbook.jobfile.schema import FORMAT, FORMAT_KEY, JOB_KEY, columns_of, many
from fieldbook.records.base import Record
from fieldbook.records.loaded_job import FIELD_OF, LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value


def write_job(job: LoadedJob) -> str:
    """The text of a job file: keys in a fixed order, without what is not entered."""
    document: dict[str, object] = {FORMAT_KEY: FORMAT, JOB_KEY: _row(JOB_KEY, job.job)}
    for table, rows in job.tables().items():
        written = [_row(table, row) for row in rows]
        if written:
            document[FIELD_OF[table]] = written if many(table) else written[0]
    return json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def _row(table: str, row: Record | Job) -> dict[str, Value]:
    """The id of a row and every column that is entered."""
    written: dict[str, Value] = {"id": row.id}
    for column in columns_of(table):
        value: Value = getattr(row, column)
        if value not in (None, ""):
            written[column] = value
    return written
