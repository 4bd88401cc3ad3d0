"""The texts a property can be found by: address, customer, names, serials, notes, papers."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.records.base import Record, facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.job import Job


def words_of_job(job: LoadedJob) -> list[tuple[str, str]]:
    """Every typed text of a job with what it is; each only once."""
    found: dict[tuple[str, str], None] = dict.fromkeys(_texts(job.job, ""))
    for table, rows in job.tables().items():
        for row in rows:
            found.update(dict.fromkeys(_texts(row, TABLES[table].title)))
    return list(found)


def _texts(row: Record | Job, title: str) -> Iterator[tuple[str, str]]:
    for column, fact in facts_of(type(row)).items():
        value = getattr(row, column)
        if fact.kind == "text" and isinstance(value, str) and value:
            label = fact.label.lower()
            yield label if label == title else f"{title} {label}".strip(), value
