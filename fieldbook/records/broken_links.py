"""Lines of what is gone: a run of a zone that another laptop removed meanwhile."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob

_LINKS = {
    table: [
        (name, fact.links_to)
        for name, fact in facts_of(record).items()
        if fact.links_to not in ("", "job", "sign_off")
    ]
    for table, record in TABLES.items()
}


@dataclass(frozen=True)
class Lost:
    """A row whose link leads to a row that is not there."""

    table: str
    row_id: str
    column: str
    to_table: str
    to_row: str


def lost(job: LoadedJob) -> list[Lost]:
    """Links of a job that lead nowhere."""
    found: list[Lost] = []
    for table, rows in job.tables().items():
        for row in rows:
            for name, to in _LINKS[table]:
                target = getattr(row, name)
                if target and target != job.job.id and job.row(target) is None:
                    found.append(Lost(table, row.id, name, to, target))
    return found
