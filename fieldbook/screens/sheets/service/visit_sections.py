"""The visits to a property, the newest first."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.visits import Visit
from fieldbook.screens.sheets.presses import AddRow
from fieldbook.screens.sheets.sheet import Section, table_section
from fieldbook.units import System

_COLUMNS = (
    ("held_on", 10),
    ("reason", 13),
    ("who", 10),
    ("asked_by", 24),
    ("found", 30),
    ("done", 30),
    ("hours", 6),
    ("next_due", 10),
    ("next_reason", 13),
    ("note", 30),
    ("ended", 5),
)


def visit_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """All visits as a table."""
    visits = sorted(job.visits, key=lambda visit: (visit.held_on or "", visit.id), reverse=True)
    adds = AddRow("visit", "visit", "held_on")
    yield table_section(visits, Visit, system, "Visits", _COLUMNS, adds)
