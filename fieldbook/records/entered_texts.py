"""The texts of a job that a person typed: they are shown as they are in every language."""

from __future__ import annotations

from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import RECORDS, LoadedJob

_TYPED = ("text", "colours")


def entered_texts(job: LoadedJob) -> frozenset[str]:
    """Every text that was typed into a row of the job, such as names, locations and notes."""
    found: set[str] = set()
    held = job.tables()
    for table, record in RECORDS.items():
        columns = [name for name, fact in facts_of(record).items() if fact.kind in _TYPED]
        rows = (job.job,) if table == "job" else held[table]
        for row in rows:
            found.update(str(getattr(row, column) or "") for column in columns)
    return frozenset(filter(None, (text.strip() for text in found)))
