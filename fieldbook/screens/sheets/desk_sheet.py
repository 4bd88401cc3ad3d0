"""The desk: rules, crew, hydraulic check, papers, notes, what the owner agreed to, handover."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fieldbook.checks.desk.owner_shown import WALK_THROUGH
from fieldbook.checks.finding import CellRef
from fieldbook.checks.water.zone_status import ZoneStatus, zone_statuses
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.job import Note
from fieldbook.records.tables.local_rules import LocalRules
from fieldbook.records.tables.supply import Supply
from fieldbook.screens.sheets.desk_papers import files, licences, open_on_papers
from fieldbook.screens.sheets.handing_over.owner_sections import (
    change_orders,
    open_with_owner,
    punch_list,
    walk_through,
    warranties,
)
from fieldbook.screens.sheets.handing_over.truck_section import load_list
from fieldbook.screens.sheets.options import zone_label
from fieldbook.screens.sheets.presses import AddRow, ChooseRuleSet, OpenZone
from fieldbook.screens.sheets.sheet import (
    CellMaker,
    Count,
    Mood,
    Row,
    Section,
    Sheet,
    add_line,
    blanks,
    press_cell,
)
from fieldbook.screens.sheets.sign_off_sections import sign_off_section
from fieldbook.screens.sheets.watering.weather_sections import rebate_papers, weather
from fieldbook.screens.widgets.terminal_cells import right
from fieldbook.units import FLOW, PRESSURE, Measure, System, show

_WATER_HEADS = ("Stands", "   Margin", "   Lowest", "At run", "     Draws", "   Allowed")
_SIGNS = {"good": "+", "tight": "~", "doubtful": "?", "open": "-"}
"""Before the word, so that no colour is needed; what is wrong has "!"."""
_MOODS: Mapping[str, Mood] = {"good": "good", "tight": "tight", "doubtful": "tight", "open": ""}


def desk(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the desk."""
    return Sheet(
        (
            _rules(job, system),
            licences(job, system),
            *_water(job, system),
            sign_off_section(job, "price"),
            change_orders(job, system),
            *load_list(job, system),
            files(job, system),
            _notes(job, system),
            punch_list(job, system),
            *walk_through(job, system),
            sign_off_section(job, WALK_THROUGH, "handover", "close"),
            warranties(job, system),
            *weather(job, system),
            rebate_papers(job, system),
        )
    )


def open_at_desk(job: LoadedJob) -> Count:
    """How many cells the sheet asks for and how many are open, counted without building it."""
    return open_on_papers(job) + blanks(Note, job.notes) + open_with_owner(job)


def _water(job: LoadedJob, system: System) -> tuple[Section, ...]:
    """How the water of each zone stands, and by which law friction is worked out."""
    row_id = job.supply.id if job.supply else once_id(job.job.id, "supply")
    make = CellMaker(Supply, row_id, job.supply, system)
    law = Section("Friction", tuple(make.form("friction_law", "water_deg_f", "pipe_bores")))
    rows = [_status(status, system) for status in zone_statuses(job)]
    if not rows:
        return (law,)
    title = "Hydraulic check (Enter on a zone shows its page)"
    return (Section(title, tuple(rows), _WATER_HEADS, label_width=16), law)


def _status(status: ZoneStatus, system: System) -> Row:
    worst = status.worst
    allowed = status.available.flow_gpm if status.available else None
    texts = {
        "water": f"{_SIGNS.get(status.word, '!')} {status.word}",
        "margin": _figure(worst.margin_psi if worst else None, PRESSURE, system),
        "lowest": _figure(worst.result.psi if worst else None, PRESSURE, system),
        "at run": f"run {worst.rows.run.number or '?'}" if worst else "",
        "draws": _figure(status.flow_gpm, FLOW, system, 10),
        "allowed": _figure(allowed, FLOW, system, 10),
    }
    why = "What it draws against what the street allows, its worst head, and what mends it."
    cells = [
        press_cell(OpenZone(status.zone.id), CellRef("zone", status.zone.id, column), text, 6, why)
        for column, text in texts.items()
    ]
    cells[0] = replace(cells[0], mood=_MOODS.get(status.word, "bad"))
    return Row(zone_label(status.zone), tuple(cells))


def _figure(value: float | None, measure: Measure, system: System, width: int = 9) -> str:
    return right("" if value is None else show(value, measure, system), width)


def _rules(job: LoadedJob, system: System) -> Section:
    row_id = job.local_rules.id if job.local_rules else once_id(job.job.id, "local_rules")
    make = CellMaker(LocalRules, row_id, job.local_rules, system)
    name = job.local_rules.rule_set if job.local_rules else ""
    why = "Enter chooses one of the firm's rule sets for this job. F3 compares it with another."
    at = CellRef("local_rules", row_id, "rule set")
    chosen = press_cell(ChooseRuleSet(), at, name or "generic", 34, why)
    rows = make.form(
        "backflow_height_in",
        "backflow_code",
        "mainline_cover_in",
        "lateral_cover_in",
        "cover_code",
        "rain_sensor_required",
        "rain_sensor_code",
    )
    title = "Local rules (blank: as the rule set says)"
    return Section(title, (Row("Rule set", (chosen,)), *rows))


def _notes(job: LoadedJob, system: System) -> Section:
    rows = []
    for note in job.notes:
        make = CellMaker(Note, note.id, note, system)
        by = f"{note.entered_by} {note.entered_at[:10]}".strip()
        cells = (make.cell("place", 12), make.cell("text", 50))
        rows.append(Row(by, cells, removable=("note", note.id)))
    rows.append(add_line(AddRow("note", "note", "text"), "+ a note"))
    return Section("Notes", tuple(rows), ("Place", "Note"), label_width=15)
