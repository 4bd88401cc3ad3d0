"""Copy a zone: its laterals, sprinkler heads and valve, without what is observed on each anew."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.rows import free_names
from fieldbook.actions.usual import repeated_columns
from fieldbook.records.base import Record, new_id
from fieldbook.records.ids import head_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change

_ZONE = ("waters", "head_kind", "design_flow_gpm", "needed_psi", "pressure_h", "backflow_id")
_RUN = (
    *("number", "after", "size", "pipe_class", "rating_psi", "length_ft", "rise_ft"),
    *("fittings_ft", "fittings_k"),
)
_VALVE = (
    *("kind", "make", "model", "box_id", "cable_id", "splice_kind", "coil_kind"),
    *("loss_psi", "cv", "regulator_psi", "filter_curve", "main_run"),
)
"""What is alike on zones that are laid alike. A column that is not named here is not copied: wire
colours, ohms, ticks, wire lengths, elevations, soil and sun are seen or measured on each zone.
"""
MOST_COPIES = 50


def copy_zone(open_job: OpenJob, zone_id: str, count: int = 1) -> list[str]:
    """Add `count` zones like this one, as one act; returns their ids.

    Each gets the next free number and no name. Raises RefusedError where there is no such zone, or
    no number is left.
    """
    job = open_job.job
    zone = job.zone(zone_id)
    if zone is None:
        raise RefusedError("Move to a zone first, or to a row of one: that zone is copied.")
    if not 1 <= count <= MOST_COPIES:
        raise RefusedError(f"A zone is copied 1 to {MOST_COPIES} times at once.")
    numbers = free_names(job, "zone", count)
    if len(numbers) < count:
        raise RefusedError("No zone number up to 200 is free for that many copies.")
    ids = [new_id() for _ in range(count)]
    changes: list[Change] = []
    for copy_id, number in zip(ids, numbers, strict=True):
        values = _same(zone, _ZONE) | {"number": number, "name": ""}
        changes += [Add("zone", copy_id, values), *_contents(job, zone, copy_id)]
    copies = "a copy" if count == 1 else f"{count} copies"
    open_job.commit(changes, f"{copies} of zone {zone.number or '?'}")
    return ids


def _contents(job: LoadedJob, zone: Zone, copy_id: str) -> list[Change]:
    """The runs, sprinkler heads and valve of the copy."""
    changes: list[Change] = []
    for run in job.runs_of(zone.id):
        run_id, head = new_id(), job.head_at(run.id)
        changes.append(Add("pipe_run", run_id, _same(run, _RUN) | {"zone_id": copy_id}))
        if head is not None:
            changes.append(
                Add("head", head_id(run_id), _same(head, repeated_columns()) | {"run_id": run_id})
            )
    valve = job.valve_of(zone.id)
    if valve is not None:
        changes.append(Add("valve", valve_id(copy_id), _same(valve, _VALVE) | {"zone_id": copy_id}))
    return changes


def _same(row: Record, columns: Sequence[str]) -> dict[str, Value]:
    return {column: getattr(row, column) for column in columns}
