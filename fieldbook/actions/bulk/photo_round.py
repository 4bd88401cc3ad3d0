"""The round of photos: each thing that ought to have one, in the order of the work.

What is buried is photographed while the trench is open: tees, crossings, boxes, then each stretch
before it is filled in. A photo is attached to the row of the thing and named by what it shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.actions.files.photos import is_picture_name
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import (
    assembly_name,
    box_name,
    cable_name,
    run_name,
    short,
    stretch_name,
)
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import backfill_id, once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.attachments import Attachment

_TEE_FEEDS = 2
"""A run that feeds so many others ends in a tee."""


@dataclass(frozen=True)
class Shot:
    """One photo that ought to be there: the cell of its row, and what it is to show."""

    at: CellRef
    shows: str


def shots(job: LoadedJob) -> list[Shot]:
    """Every photo that a job ought to have, in the order of the work."""
    stretches = [*([None] if job.runs_of(None) else []), *(zone.id for zone in job.zones)]
    return [
        *_assemblies(job),
        *_tees(job, None),
        *_crossings(job),
        *_boxes(job),
        *(shot for zone in job.zones for shot in _tees(job, zone.id)),
        *(_trench(job, zone_id) for zone_id in stretches),
        *_controller(job),
    ]


def missing_shots(job: LoadedJob) -> list[Shot]:
    """The photos that are not attached yet, in the order of the work."""
    there = {file.of_row for file in job.attachments if is_photo(file)}
    return [shot for shot in shots(job) if shot.at.row_id not in there]


def next_shot(job: LoadedJob, here: CellRef | None) -> tuple[Shot, int]:
    """The missing photo after the row `here`, round the end, and how many are missing.

    Raises RefusedError where none is.
    """
    every, missing = shots(job), missing_shots(job)
    if not every:
        raise RefusedError("Nothing to photograph is entered yet: boxes, trenches, controller.")
    if not missing:
        raise RefusedError("Each box, tee, crossing, trench, assembly and controller has a photo.")
    rows = [shot.at.row_id for shot in every]
    position = rows.index(here.row_id) if here is not None and here.row_id in rows else -1
    later = [shot for shot in missing if rows.index(shot.at.row_id) > position]
    return (later or missing)[0], len(missing)


def shot_of(job: LoadedJob, row_id: str) -> Shot | None:
    """The photo that a row ought to have."""
    return next((shot for shot in shots(job) if shot.at.row_id == row_id), None)


def is_photo(file: Attachment) -> bool:
    """Whether an attached file is a photo, by its name or by the time its camera wrote in it."""
    return bool(file.taken_at) or is_picture_name(file.name)


def _assemblies(job: LoadedJob) -> Iterator[Shot]:
    for assembly in job.backflow_assemblies:
        at = CellRef("backflow_assembly", assembly.id, "kind")
        yield Shot(at, f"{assembly_name(assembly)} with its critical level")


def _tees(job: LoadedJob, zone_id: str | None) -> Iterator[Shot]:
    runs = job.runs_of(zone_id)
    fed = [run.after for run in runs if run.after is not None]
    for run in runs:
        if run.number is not None and fed.count(run.number) >= _TEE_FEEDS:
            yield Shot(CellRef("pipe_run", run.id, "length_ft"), f"tee after {run_name(job, run)}")


def _crossings(job: LoadedJob) -> Iterator[Shot]:
    """Sleeves under drives and walks, and cables under a drive."""
    for tie in job.ties:
        if tie.thing == "sleeve":
            shows = f"sleeve {short(tie.name)}".rstrip() + " and what crosses in it"
            yield Shot(CellRef("tie", tie.id, "thing"), shows)
    for cable in job.cables:
        if cable.under_driveway is True:
            at = CellRef("cable", cable.id, "under_driveway")
            yield Shot(at, f"{cable_name(cable)} under the drive")


def _boxes(job: LoadedJob) -> Iterator[Shot]:
    for box in job.valve_boxes:
        yield Shot(CellRef("valve_box", box.id, "location"), f"{box_name(box)}, lid off")


def _trench(job: LoadedJob, zone_id: str | None) -> Shot:
    stretch = job.backfill_of(zone_id)
    row_id = stretch.id if stretch is not None else backfill_id(job.job.id, zone_id)
    shows = f"trench of {stretch_name(job, zone_id)}, open"
    return Shot(CellRef("backfill", row_id, "cover_in"), shows)


def _controller(job: LoadedJob) -> Iterator[Shot]:
    if job.controller is not None or job.terminals:
        row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
        yield Shot(
            CellRef("controller", row_id, "location"), "controller, door open, wires in sight"
        )
