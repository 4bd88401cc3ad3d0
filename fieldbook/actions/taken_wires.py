"""Where a conductor or a zone is used already: which valve, which box, which terminal."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import (
    box_name,
    cable_name,
    sentence,
    terminal_name,
    valve_name,
    zone_name,
)
from fieldbook.checks.finding import CellRef
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable, Splice, Valve, ValveBox


def cable_at(job: LoadedJob, at: CellRef) -> Cable | None:
    """The cable that the wire of a cell belongs to; the only one where the row is not there yet."""
    row = job.row(at.row_id)
    if isinstance(row, Cable):
        return row
    if isinstance(row, Splice):
        held = job.row(row.to_cable_id if at.column == "to_colour" else row.cable_id)
        return held if isinstance(held, Cable) else None
    if isinstance(row, Valve | Terminal):
        return job.cable_of(row)
    return job.cables[0] if len(job.cables) == 1 else None


def where_taken(job: LoadedJob, at: CellRef, colour: str) -> str:
    """The sentence that says where a colour is used besides a cell; empty where it is free."""
    cable = cable_at(job, at)
    ends = _at_controller if at.table == "terminal" else _at_boxes
    where = next(ends(job, at, colour, cable), "") if cable is not None else ""
    return f"{sentence(colour)} is {where} already." if where else ""


def _at_controller(job: LoadedJob, at: CellRef, colour: str, cable: Cable) -> Iterator[str]:
    for end in job.terminals:
        if end.id != at.row_id and end.colour == colour and job.cable_of(end) == cable:
            yield f"under {terminal_name(job, end)}"


def _at_boxes(job: LoadedJob, at: CellRef, colour: str, cable: Cable) -> Iterator[str]:
    for valve in job.valves:
        if valve.id != at.row_id and valve.colour == colour and job.cable_of(valve) == cable:
            yield f"at {valve_name(job, valve)}{_in_box(job, valve.box_id)}"
    if cable.id != at.row_id and cable.common_colour == colour:
        yield f"the common of {cable_name(cable)}"
    for splice in job.splices:
        here = (splice.cable_id, splice.colour), (splice.to_cable_id, splice.to_colour)
        if splice.id != at.row_id and (cable.id, colour) in here:
            yield f"in a splice{_in_box(job, splice.box_id)}"


def _in_box(job: LoadedJob, box_id: str | None) -> str:
    box = job.row(box_id)
    return f" in {box_name(box)}" if isinstance(box, ValveBox) else ""


def where_zone_runs(job: LoadedJob, terminal_id: str) -> str:
    """The sentence that names another terminal with the zone of this one; empty where none has."""
    terminal = job.row(terminal_id)
    zone = job.terminal_zone(terminal) if isinstance(terminal, Terminal) else None
    if zone is None:
        return ""
    for other in job.terminals:
        if other.id != terminal_id and job.terminal_zone(other) == zone:
            return f"{sentence(zone_name(zone))} is on {terminal_name(job, other)} already."
    return ""
