"""The controller: what is under each terminal, the tests, and the controller itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.circuits import expected_of, reading_of
from fieldbook.papers.wire_map import sign
from fieldbook.papers.wire_pictures import leads_to
from fieldbook.records.fact import Fact
from fieldbook.records.ids import once_id, terminal_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Controller, Terminal
from fieldbook.records.tables.zones import Zone
from fieldbook.records.values import Value
from fieldbook.screens.sheets.options import (
    default_cable,
    link_cell,
    terminal_options,
    zone_label,
)
from fieldbook.screens.sheets.presses import TypeOhms, TypeWhatRan
from fieldbook.screens.sheets.sheet import (
    Asked,
    Cell,
    CellMaker,
    Count,
    Mood,
    Row,
    Section,
    Sheet,
    blanks,
)
from fieldbook.screens.sheets.sign_off_sections import sign_off_section
from fieldbook.trade.cautions import cautions_at
from fieldbook.units import System

_RAN = Fact(
    "text",
    "Ran",
    "Energise this terminal alone and type the zone that ran; 3 4 if two ran, 0 if none did. "
    "The mains side stays closed: it is a licensed electrician's work.",
)


@dataclass(frozen=True)
class _Slot:
    """A terminal that has a row on the sheet, whether anything of it is entered yet or not."""

    row_id: str
    label: str
    role: str
    number: int | None = None
    cable_id: str | None = None

    @property
    def seed(self) -> dict[str, Value]:
        """What the terminal is made with when its first value is entered."""
        seed: dict[str, Value] = {"role": self.role, "number": self.number}
        return {**seed, "cable_id": self.cable_id} if self.cable_id is not None else seed

    def known(self, job: LoadedJob) -> Terminal | None:
        """The terminal, once anything of it is entered."""
        row = job.row(self.row_id)
        return row if isinstance(row, Terminal) else None

    def zone(self, job: LoadedJob) -> Zone | None:
        """The zone the terminal is meant to run."""
        known = self.known(job)
        if known is not None:
            return job.terminal_zone(known)
        numbered = (zone for zone in job.zones if zone.number == self.number)
        return next(numbered, None) if self.role == "zone" else None

    def terminal(self, job: LoadedJob) -> Terminal:
        """The terminal as it is entered, else as the first value will make it."""
        return self.known(job) or Terminal(
            id=self.row_id,
            job_id=job.job.id,
            role=self.role,
            number=self.number,
            cable_id=self.cable_id,
        )


def controller(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the controller."""
    return Sheet(
        (
            _terminals(job, system),
            _controller(job, system),
            sign_off_section(job, "energise"),
            _tests(job, system),
        )
    )


def open_at_controller(job: LoadedJob) -> Count:
    """How many cells the sheet asks for and how many are open, counted without building it."""
    count = blanks(Controller, [job.controller], _asked_of_controller(job))
    for slot in (*_expected(job), *_unexpected(job)):
        count += blanks(Terminal, [slot.known(job)], _asked_of_terminal(job, slot))
    return count


def _controller(job: LoadedJob, system: System) -> Section:
    row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
    asked = _asked_of_controller(job)
    make = CellMaker(Controller, row_id, job.controller, system, asked=asked)
    rows = make.form(
        "location",
        "make",
        "model",
        "serial",
        "stations",
        "outdoors",
        "outdoor_model",
        "powered_by",
        "supply_near",
        "wire_in_conduit",
        "rain_sensor",
        "transformer_va",
        "output_v",
        "pull_in_v",
        "inrush_a",
        "holding_a",
        "relay_a",
        "soil_deg_f",
    )
    return Section("Controller", tuple(rows), cautions=cautions_at("controller"))


def _asked_of_controller(job: LoadedJob) -> Asked:
    """An outdoor model matters only outdoors, a power supply only where no battery feeds it."""
    held = job.controller
    return {
        "outdoor_model": held is not None and held.outdoors is True,
        "supply_near": held is None or held.powered_by != "battery",
    }


def _terminals(job: LoadedJob, system: System) -> Section:
    slots = (*_expected(job), *_unexpected(job))
    rows = tuple(_terminal(job, system, slot) for slot in slots)
    heads = ("Wire", "Zone", "Cable")
    return Section("Under each terminal", rows, heads, 15, cautions_at("controller"))


def _expected(job: LoadedJob) -> Iterator[_Slot]:
    """The terminals the job should have: commons, the master valve, one a zone or station."""
    several = len(job.cables) > 1
    for cable in job.own_commons():
        label = f"Common, cable {cable.name}" if several else "Common"
        row_id = terminal_id(job.job.id, "common", cable.id)
        yield _Slot(row_id, label, "common", cable_id=cable.id)
    if job.master_valve() is not None:
        yield _Slot(terminal_id(job.job.id, "master"), "Master valve", "master")
    stations = job.controller.stations if job.controller else None
    count = max([stations or 0, *(zone.number or 0 for zone in job.zones)])
    for number in range(1, count + 1):
        row_id = terminal_id(job.job.id, "zone", number)
        yield _Slot(row_id, f"Terminal {number}", "zone", number)


def _unexpected(job: LoadedJob) -> Iterator[_Slot]:
    """Terminals that were entered although the job should not have them."""
    expected = {slot.row_id for slot in _expected(job)}
    for end in job.terminals:
        if end.id not in expected:
            label = f"{end.role} {end.number or ''}".strip()
            yield _Slot(end.id, label, end.role, end.number, end.cable_id)


def _terminal(job: LoadedJob, system: System, slot: _Slot) -> Row:
    end, asked = slot.terminal(job), _asked_of_terminal(job, slot)
    make = CellMaker(Terminal, slot.row_id, slot.known(job), system, slot.seed, asked)
    cable, zone = default_cable(job, end), slot.zone(job)
    cells = [make.cell("colour", 16, options=terminal_options(job, slot.row_id, cable))]
    if end.role == "zone":
        cells.append(link_cell(make, job, "zone_id", 17, zone_label(zone) if zone else ""))
        cells.append(link_cell(make, job, "cable_id", 5, cable.name if cable else ""))
    tail, mood = _at_the_box(job, end)
    return Row(slot.label, tuple(cells), tail=tail, tail_mood=mood)


def _asked_of_terminal(job: LoadedJob, slot: _Slot) -> Asked:
    """A terminal that runs no zone may stay empty."""
    return {"colour": slot.role != "zone" or slot.zone(job) is not None}


def _tests(job: LoadedJob, system: System) -> Section:
    """Energise each terminal and type what ran; read its ohms with the power off."""
    rows = []
    for slot in _expected(job):
        if slot.role == "common":
            continue
        terminal, at = slot.known(job), CellRef("terminal", slot.row_id, "ran")
        ran = Cell(at, _RAN, _ran(job, terminal), 9, press=TypeWhatRan(at, slot.seed))
        make = CellMaker(Terminal, slot.row_id, terminal, system, slot.seed)
        ohms = ("day_1_ohm", 11), ("now_ohm", 10)
        cells = (ran, *(_ohms(make, slot, column, width) for column, width in ohms))
        rows.append(Row(slot.label, cells, tail=_reads(job, terminal)))
    if not rows:
        rows.append(Row("", (), tail="Zones and terminals come first."))
    title = "Test: energise one, type the zone that ran (0: none)"
    return Section(title, tuple(rows), ("Ran", "Ohms, day 1", "Ohms now"), label_width=15)


def _ohms(make: CellMaker, slot: _Slot, column: str, width: int) -> Cell:
    """A reading: what is typed is kept as a test too."""
    cell = make.cell(column, width)
    return replace(cell, press=TypeOhms(cell.at, slot.seed))


def _ran(job: LoadedJob, terminal: Terminal | None) -> str:
    if terminal is None:
        return ""
    zones = [job.zone(zone_id) for zone_id in (terminal.ran_zone_id, terminal.ran_also_id)]
    ran = [str(zone.number or "?") for zone in zones if zone is not None]
    # Two laptops may have entered both; a flag asks for a new test.
    return " ".join([*ran, "0"] if terminal.ran_nothing else ran)


def _reads(job: LoadedJob, terminal: Terminal | None) -> str:
    """What the latest reading means, or what it should be."""
    if terminal is None:
        return ""
    reading = reading_of(job, terminal)
    if reading is not None:
        return reading.meaning
    expected = expected_of(job, terminal)
    return f"should read {expected:.1f} ohm" if expected is not None else ""


_SURE: Mapping[str, Mood] = {"=": "good", "?": "tight"}
"""The mood of a sign of the wire map; by colours alone a wire is not proven, and has none."""


def _at_the_box(job: LoadedJob, end: Terminal) -> tuple[str, Mood]:
    """Where this terminal's conductor goes, behind the wire map's sign of how sure that is."""
    if not end.colour or job.cable_of(end) is None:
        return "", ""
    leads, sure = leads_to(job, end), sign(job, end)
    if leads == "-":
        return "  its other end is not entered", ""
    return f"{sure} {leads}", _SURE.get(sure, "")
