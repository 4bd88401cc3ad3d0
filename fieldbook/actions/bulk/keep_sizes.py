"""Keep the sizes that were worked out for the laterals of a zone, all of them as one act."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.water.advice.lateral_sizes import LateralSizes
from fieldbook.records.tables.zones import Zone
from fieldbook.store.changes import Put


def keep_sizes(open_job: OpenJob, zone: Zone, found: LateralSizes) -> int:
    """Enter the sizes; returns how many runs changed. Raises RefusedError where none would."""
    changes = [
        Put(table, row_id, column, value)
        for (table, row_id), values in found.changes.items()
        for column, value in values.items()
        if open_job.job.row(row_id) is not None
    ]
    if not changes:
        raise RefusedError("Its laterals have these sizes already.")
    open_job.commit(changes, f"sizes of the laterals of {zone_word(zone)}")
    return len(changes)
