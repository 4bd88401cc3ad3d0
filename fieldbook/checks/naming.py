"""How any row of a job is named in a sentence, such as "zone 3 (lawn)" or "the flush of zone 3"."""

from __future__ import annotations

from fieldbook.checks.common.naming import (
    assembly_name,
    box_name,
    cable_name,
    run_name,
    short,
    terminal_name,
    valve_name,
    zone_name,
    zone_word,
)
from fieldbook.records.base import Record
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.backflow import BackflowAssembly
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.wires import Cable, Conductor, Valve, ValveBox
from fieldbook.records.tables.zones import Head, Zone

_OF_A_STRETCH = ("flush", "backfill", "pressure_test", "sign_off")


def row_name(job: LoadedJob, table: str, row_id: str) -> str:
    """A row, whether or not it is there."""
    row = job.row(row_id)
    if table == "job":
        return "the property"
    title = TABLES[table].title if table in TABLES else table.replace("_", " ")
    return f"a {title} that was removed" if row is None else _named(job, table, row)


def _named(job: LoadedJob, table: str, row: Record) -> str:
    match row:
        case Zone():
            found = zone_name(row)
        case PipeRun():
            found = run_name(job, row)
        case Valve():
            found = valve_name(job, row)
        case Terminal():
            found = terminal_name(row)
        case ValveBox():
            found = box_name(row)
        case Cable():
            found = cable_name(row)
        case BackflowAssembly():
            found = assembly_name(row)
        case _:
            found = _of_another(job, table, row)
    return found


def _of_another(job: LoadedJob, table: str, row: Record) -> str:
    """A row known by what it belongs to, or by its own name or number."""
    title = type(row).title
    if isinstance(row, Conductor):
        cable = job.row(row.cable_id)
        whose = cable_name(cable) if isinstance(cable, Cable) else "a cable that was removed"
        return f"conductor {row.position or '?'} of {whose}"
    if isinstance(row, Head):
        run = job.row(row.run_id)
        return f"the head of {run_name(job, run)}" if isinstance(run, PipeRun) else "a head"
    if table in _OF_A_STRETCH:
        zone_id = getattr(row, "zone_id", None)
        whose = "the mainline" if zone_id is None else zone_word(job.zone(zone_id))
        return f"the {title} of {whose}"
    if type(row).once:
        return f"the {title}"
    own = getattr(row, "number", None) or getattr(row, "name", None) or getattr(row, "text", None)
    return f"{title} {short(str(own))}" if own else f"a {title}"
