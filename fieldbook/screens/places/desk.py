"""The desk: the customer, the local rules, how the zones stand, the notes."""

from __future__ import annotations

from fieldbook.records.job import Job, Note
from fieldbook.records.loaded import LoadedJob, once_id
from fieldbook.records.local_rules import LocalRules
from fieldbook.screens.places.sheet import CellMaker, Row, Section, Sheet, add_row
from fieldbook.units import System


def desk(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the desk."""
    return Sheet((_property(job, system), _rules(job, system), _notes(job, system)))


def _property(job: LoadedJob, system: System) -> Section:
    make = CellMaker(Job, "job", job.job.id, job.job, system)
    rows = make.form("address", "customer", "phone", "access", "units", width=50)
    return Section("Property", tuple(rows), label_width=12)


def _rules(job: LoadedJob, system: System) -> Section:
    row_id = job.local_rules.id if job.local_rules else once_id(job.job.id, "local_rules")
    make = CellMaker(LocalRules, "local_rules", row_id, job.local_rules, system)
    rows = make.form(
        "backflow_height_in",
        "backflow_code",
        "mainline_cover_in",
        "lateral_cover_in",
        "cover_code",
        "rain_sensor_required",
        "rain_sensor_code",
    )
    return Section("Local rules (blank: generic default)", tuple(rows))


def _notes(job: LoadedJob, system: System) -> Section:
    rows = []
    for note in job.notes:
        make = CellMaker(Note, "note", note.id, note, system)
        by = f"{note.entered_by} {note.entered_at[:10]}".strip()
        cells = (make.cell("place", 12), make.cell("text", 50))
        rows.append(Row(by, cells, removable=("note", note.id)))
    rows.append(add_row("add note", "note", None, "+ a note"))
    return Section("Notes", tuple(rows), ("Place", "Note"), label_width=15)
