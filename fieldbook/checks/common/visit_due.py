"""Which visit says when somebody comes next."""

from __future__ import annotations

from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.visits import Visit


def visit_that_names_next(job: LoadedJob) -> Visit | None:
    """The visit that says when the next one is due: the newest that names a day.

    A later visit without a day counts as the one that was due, if it is of that day or after it.
    """
    dated = [visit for visit in job.visits if day_of(visit.held_on) and day_of(visit.next_due)]
    newest = max(dated, key=lambda visit: (visit.held_on or "", visit.id), default=None)
    if newest is None:
        return None
    made = any(
        visit.id != newest.id and (visit.held_on or "") >= (newest.next_due or "")
        for visit in job.visits
        if day_of(visit.held_on)
    )
    return None if made else newest
