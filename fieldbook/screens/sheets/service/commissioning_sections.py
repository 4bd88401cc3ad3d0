"""What is measured at a start-up: each zone's flow, the pressure at heads, and the list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import ClassVar

from fieldbook.actions.keymap import KeyWords
from fieldbook.actions.measuring import add_measurement, add_reading
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.checks.measured.check_commissioning import NO_ZONE, START_UP_TICKS
from fieldbook.checks.measured.compared import PressureCompared, ZoneCompared, compared
from fieldbook.checks.measured.flow_readings import in_order, newest_first
from fieldbook.checks.measured.measured_words import compared_words
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.commissioning import (
    Commissioning,
    HeadReading,
    ZoneMeasurement,
)
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import Add, AddRow
from fieldbook.screens.sheets.sheet import Cell, CellMaker, Mood, Row, Section, add_line
from fieldbook.units import FLOW, PRESSURE, System

_MEASURED = (
    ("measured_on", 10),
    ("static_psi", 8),
    ("dial", 10),
    ("dial_start", 9),
    ("dial_stop", 9),
    ("dial_s", 7),
    ("flow_gpm", 9),
    ("read_by", 11),
    ("flow_off_pct", 5),
    ("dial_read_to", 6),
    ("meter_off_pct", 5),
    ("gauge_span_psi", 8),
    ("gauge_grade", 5),
)
_READ = (
    ("psi", 8),
    ("above_ft", 8),
    ("gauge_span_psi", 8),
    ("gauge_grade", 5),
    ("gauge_at", 14),
)
_MOODS: dict[str, Mood] = {"agrees": "good", "differs": "bad", "can't tell": "tight"}


@dataclass(frozen=True)
class AddReading(Add):
    """Adds a pressure at a head of a zone that was measured."""

    measurement_id: str
    keys: ClassVar[KeyWords] = (("Enter", "add"), ("type", "the pressure at the next head"))

    @property
    def at(self) -> CellRef:
        """The line's own address: each measurement has one."""
        return CellRef("head_reading", self.measurement_id, "add reading")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add the reading of the next head."""
        row = open_job.job.find(ZoneMeasurement, self.measurement_id)
        assert row is not None
        return CellRef("head_reading", add_reading(open_job, row), "psi")

    @property
    def first_fact(self) -> Fact:
        """The pressure."""
        return facts_of(HeadReading)["psi"]


def commissioning_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """The sections, once there is a zone to be started."""
    if not job.zones:
        return
    yield _flows(job, system)
    if job.zone_measurements:
        yield _pressures(job, system)
    yield _list(job, system)


def _flows(job: LoadedJob, system: System) -> Section:
    """Every measurement in order, with what it says of the record."""
    rows = []
    for row in in_order(job):
        make = CellMaker(ZoneMeasurement, row.id, row, system)
        cells = (link_cell(make, job, "zone_id", 5), *(make.cell(*column) for column in _MEASURED))
        found = compared(job).get(row.id)
        lacks = f"not compared: {NO_ZONE} is missing"
        tail, mood = _said(job, found) if found is not None else (lacks, "")
        removable = ("zone_measurement", row.id)
        # Where the columns are scrolled the name of the row still says which zone it is.
        label = _zone_number(job, row.zone_id)
        rows.append(Row(label, cells, tail=tail, tail_mood=mood, removable=removable))
    adds = AddRow("zone_measurement", "measured zone", "static_psi", add_measurement)
    rows.append(add_line(adds, "+ a measured zone"))
    heads = ("Zone", *(facts_of(ZoneMeasurement)[column].label for column, _ in _MEASURED))
    title = "Measured flow: one zone at a time, everything else off"
    return Section(title, tuple(rows), heads, label_width=4)


def _said(job: LoadedJob, found: ZoneCompared) -> tuple[str, Mood]:
    """What follows a measurement: both figures and the answer, else what is missing."""
    flow = found.reading.figure if found.reading is not None else None
    words = compared_words(job, flow, found.worked_out, found.agreement, FLOW)
    if found.agreement is not None:
        return words, _MOODS[found.agreement.word]
    why = found.refusal or f"not compared: {found.missing[0].words} is missing"
    return f"{words}; {why}" if words else why, ""


def _pressures(job: LoadedJob, system: System) -> Section:
    """The readings under the number of their zone; the newest measurement of a zone takes more."""
    rows: list[Row] = []
    for zone in job.zones:
        for count, measured in enumerate(newest_first(job, zone.id)):
            found = compared(job)[measured.id]
            for pressure in found.pressures:
                rows.append(_pressure_row(job, system, measured, pressure))
            if not count:
                words = f"+ a pressure at a head of zone {zone.number or '?'}"
                rows.append(add_line(AddReading(measured.id), words))
    heads = ("Head", *(facts_of(HeadReading)[column].label for column, _ in _READ))
    return Section("Pressure at heads, while their zone ran", tuple(rows), heads, label_width=11)


def _pressure_row(
    job: LoadedJob, system: System, measured: ZoneMeasurement, found: PressureCompared
) -> Row:
    make = CellMaker(HeadReading, found.row.id, found.row, system)
    cells = (_head_cell(make, job, measured), *(make.cell(*column) for column in _READ))
    says = found.agreement
    words = compared_words(job, found.measured, found.worked_out, says, PRESSURE)
    label = f"{_zone_number(job, measured.zone_id)} {(measured.measured_on or '')[5:]}"
    mood = _MOODS[says.word] if says is not None else ""
    return Row(
        label.strip(), cells, tail=words, tail_mood=mood, removable=("head_reading", found.row.id)
    )


def _zone_number(job: LoadedJob, zone_id: str | None) -> str:
    zone = job.zone(zone_id)
    return str(zone.number) if zone is not None and zone.number is not None else "?"


def _head_cell(make: CellMaker, job: LoadedJob, measured: ZoneMeasurement) -> Cell:
    """The head that was read: one of those at the ends of the zone's runs."""
    cell = link_cell(make, job, "run_id", 7)
    ends = {run.id for run in job.runs_of(measured.zone_id) if job.head_at(run.id) is not None}
    return replace(cell, options=tuple(one for one in cell.options if one.value in ends))


def _list(job: LoadedJob, system: System) -> Section:
    """The list of the start-up, in the order of the work."""
    row = job.commissioning
    row_id = row.id if row is not None else once_id(job.job.id, "commissioning")
    visit = visit_under_way(job, date.today())
    seed = {"visit_id": visit.id} if visit is not None else {}
    make = CellMaker(Commissioning, row_id, row, system, seed)
    columns = ("held_on", "held_by", "static_psi", *START_UP_TICKS, "static_after_psi", "note")
    return Section("Start-up list", tuple(make.form(*columns, width=34)), label_width=25)
