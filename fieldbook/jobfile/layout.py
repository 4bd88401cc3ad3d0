"""How a job file is laid out: its keys, and which columns a row has there."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import FIELD_OF, TABLES
from fieldbook.records.tables.job import Job

FORMAT = 1
FORMAT_KEY = "fieldbook"
JOB_KEY = "job"
STAMPS = ("entered_by", "entered_at")
"""Who made a row's newest entry, and when; filled in on import where they are absent."""
TABLE_OF: Mapping[str, str] = {name: table for table, name in FIELD_OF.items()}
KEYS = (FORMAT_KEY, JOB_KEY, *TABLE_OF)
LARGEST_BYTES = 5_000_000


class JobFileError(Exception):
    """A job file that can't be taken; one sentence that names the place inside it."""


def columns_of(table: str) -> Mapping[str, Fact]:
    """The columns a row of `table` ("job" too) has in a file, besides its id."""
    record: type[Record] | type[Job] = Job if table == JOB_KEY else TABLES[table]
    return {name: fact for name, fact in facts_of(record).items() if name != "job_id"}


def many(table: str) -> bool:
    """Whether a job has a list of these rows rather than at most one."""
    return table != JOB_KEY and not TABLES[table].once
