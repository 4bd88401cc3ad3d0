"""The terminals of each controller: what is under them, and their tests, as rows of a sheet.

A terminal has a row whether anything of it is entered yet or not. On a cable it takes a colour, on
a two-wire path an address; a battery controller beside its valves takes only the zone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from fieldbook.checks.common.naming import controller_name
from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.circuits import expected_of, reading_of
from fieldbook.checks.wire.ends import second_commons
from fieldbook.checks.wire.wire_links import link_of
from fieldbook.checks.wire.zone_feeds import feed_of, is_at_valves, master_decoder
from fieldbook.papers.wire_signs import SIGNS
from fieldbook.records.fact import Fact
from fieldbook.records.ids import terminal_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import OtherController, Terminal
from fieldbook.records.tables.wires import Cable
from fieldbook.records.tables.zones import Zone
from fieldbook.records.values import Value
from fieldbook.screens.sheets.options import (
    default_cable,
    link_cell,
    terminal_options,
    zone_label,
)
from fieldbook.screens.sheets.presses import TypeOhms, TypeWhatRan
from fieldbook.screens.sheets.sheet import Asked, Cell, CellMaker, Count, Mood, Row, Section, blanks
from fieldbook.trade.cautions import cautions_at
from fieldbook.units import System

_RAN = Fact(
    "text",
    "Ran",
    "Energise this terminal alone and type the zone that ran; 3 4 if two ran, 0 if none did. "
    "The mains side stays closed: it is a licensed electrician's work.",
)
_SURE: Mapping[str, Mood] = {"proven": "good", "doubt": "tight", "wrong": "bad"}
"""The mood of a link; by colours alone it is not proven, and has none."""


@dataclass(frozen=True)
class Slot:
    """A terminal that has a row on the sheet, whether anything of it is entered yet or not."""

    row_id: str
    label: str
    role: str
    number: int | None = None
    cable_id: str | None = None
    controller_id: str | None = None

    @property
    def seed(self) -> dict[str, Value]:
        """What the terminal is made with when its first value is entered."""
        seed: dict[str, Value] = {"role": self.role, "number": self.number}
        if self.cable_id is not None:
            seed["cable_id"] = self.cable_id
        if self.controller_id is not None:
            seed["controller_id"] = self.controller_id
        return seed

    def known(self, job: LoadedJob) -> Terminal | None:
        """The terminal, once anything of it is entered."""
        row = job.row(self.row_id)
        return row if isinstance(row, Terminal) else None

    def zone(self, job: LoadedJob) -> Zone | None:
        """The zone the terminal is meant to run."""
        return job.terminal_zone(self.terminal(job))

    def terminal(self, job: LoadedJob) -> Terminal:
        """The terminal as it is entered, else as the first value will make it."""
        return self.known(job) or Terminal(
            id=self.row_id,
            job_id=job.job.id,
            role=self.role,
            number=self.number,
            cable_id=self.cable_id,
            controller_id=self.controller_id,
        )


def terminal_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """What is under each terminal, a section for each controller."""
    for other in (None, *job.other_controllers):
        rows = tuple(_terminal(job, system, slot) for slot in slots_of(job, other))
        if not rows and other is not None:
            rows = (Row("", (), tail="Enter how many terminals it has."),)
        heads = {"colour": ("Wire", "Zone", "Cable"), "zone": ("Zone",)}.get(
            _takes(job, other), ("Address", "Output", "Zone")
        )
        if _takes(job, other) == "both":
            heads = ("Wire", "Zone", "Cable", "Address", "Output")
        of = f", {controller_name(other)}" if other is not None else ""
        cautions = cautions_at("controller") if other is None else ()
        yield Section(f"Under each terminal{of}", rows, heads, 15, cautions)


def test_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """Energise each terminal and type what ran; read its ohms with the power off."""
    for other in (None, *job.other_controllers):
        slots = [slot for slot in slots_of(job, other) if slot.role != "common"]
        rows = [_test(job, system, slot) for slot in slots]
        if not rows:
            if other is not None:
                continue
            rows.append(Row("", (), tail="Zones and terminals come first."))
        of = f" of {controller_name(other)}" if other is not None else ""
        title = f"Test{of}: energise one, type the zone that ran (0: none)"
        yield Section(title, tuple(rows), ("Ran", "Ohms, day 1", "Ohms now"), label_width=15)


def open_terminals(job: LoadedJob) -> Count:
    """How many cells of terminals are asked for, and how many are open."""
    counts = (
        blanks(Terminal, [slot.known(job)], _asked(job, slot, _takes(job, other)))
        for other in (None, *job.other_controllers)
        for slot in slots_of(job, other)
    )
    return sum(counts, Count())


def slots_of(job: LoadedJob, other: OtherController | None) -> list[Slot]:
    """The terminals of a controller (None: the first) that have a row."""
    expected = list(_expected(job, other))
    known = {slot.row_id for slot in expected}
    held = other.id if other is not None else None
    for end in job.terminals:
        if end.id not in known and (end.controller_id or None) == held:
            label = f"{end.role} {end.number or ''}".strip()
            expected.append(Slot(end.id, label, end.role, end.number, end.cable_id, held))
    return expected


def _expected(job: LoadedJob, other: OtherController | None) -> Iterator[Slot]:
    """The terminals a controller should have: commons, the master valve, one a zone or station."""
    held, several = other.id if other is not None else None, len(job.cables) > 1
    for cable in _commons_at(job, held):
        label = f"Common, cable {cable.name}" if several else "Common"
        row_id = terminal_id(job.job.id, "common", cable.id, held)
        yield Slot(row_id, label, "common", cable_id=cable.id, controller_id=held)
    if other is None and job.master_valve() is not None and not master_decoder(job):
        yield Slot(terminal_id(job.job.id, "master"), "Master valve", "master")
    for number in range(1, _count(job, other) + 1):
        row_id = terminal_id(job.job.id, "zone", number, held)
        yield Slot(row_id, f"Terminal {number}", "zone", number, controller_id=held)


def _commons_at(job: LoadedJob, controller_id: str | None) -> list[Cable]:
    """The cables whose common comes in at a controller."""
    own = [one for one in job.own_commons() if (one.controller_id or None) == controller_id]
    second = [one for one in second_commons(job) if one.second_controller_id == controller_id]
    return [*own, *(one for one in second if one not in own)]


def _count(job: LoadedJob, other: OtherController | None) -> int:
    """How many zone terminals a controller has, by its label or by the zones that it runs."""
    if other is not None:
        return other.stations or 0
    elsewhere = {one.zone_id for one in job.terminals if one.controller_id and one.zone_id}
    stations = job.controller.stations if job.controller else None
    zones = [zone.number or 0 for zone in job.zones if zone.id not in elsewhere]
    return max([stations or 0, *zones])


def _takes(job: LoadedJob, other: OtherController | None) -> str:
    """What is entered at a controller's terminals: colour, address, both, or only the zone."""
    held = other.id if other is not None else None
    if is_at_valves(job, other if other is not None else job.controller):
        return "zone"
    paths = any((path.controller_id or None) == held for path in job.two_wire_paths)
    if not paths:
        return "colour"
    cables = [cable for cable in job.home_cables() if (cable.controller_id or None) == held]
    return "both" if cables or _commons_at(job, held) else "address"


def _terminal(job: LoadedJob, system: System, slot: Slot) -> Row:
    other = job.find(OtherController, slot.controller_id)
    takes, end = _takes(job, other), slot.terminal(job)
    make = CellMaker(
        Terminal, slot.row_id, slot.known(job), system, slot.seed, _asked(job, slot, takes)
    )
    cable, zone = default_cable(job, end), slot.zone(job)
    cells: list[Cell] = []
    if takes in ("colour", "both") or end.role != "zone":
        cells.append(make.cell("colour", 16, options=terminal_options(job, end, cable)))
    if end.role == "zone":
        named = link_cell(make, job, "zone_id", 17, zone_label(zone) if zone else "")
        address = make.cells(address=9, output=6)
        by_cable = (named, link_cell(make, job, "cable_id", 5, cable.name if cable else ""))
        cells += {
            "colour": by_cable,
            "zone": (named,),
            "address": (*address, named),
            "both": (*by_cable, *address),
        }[takes]
    tail, mood = _leads(job, slot)
    return Row(slot.label, tuple(cells), tail=tail, tail_mood=mood)


def _asked(job: LoadedJob, slot: Slot, takes: str) -> Asked:
    """A terminal that runs no zone may stay empty; on a path it wants an address."""
    zone = slot.zone(job)
    wanted = slot.role != "zone" or zone is not None
    by_address = takes == "address"
    if takes == "both" and zone is not None:
        by_address = feed_of(job, zone.id) == "decoder"
    colour = slot.role != "zone" or (takes != "zone" and not by_address)
    return {
        "colour": wanted and colour,
        "address": wanted and by_address and slot.role == "zone",
    }


def _leads(job: LoadedJob, slot: Slot) -> tuple[str, Mood]:
    """Where a terminal leads, behind the wire map's sign of how sure that is."""
    end = slot.known(job)
    if end is None or not (end.colour or end.address or end.zone_id or end.ran_zone_id):
        return "", ""
    if end.colour and job.cable_of(end) is None and end.address is None:
        return "", ""
    link = link_of(job, end)
    if link.status == "open":
        return "  its other end is not entered", ""
    return f"{SIGNS[link.status].sign} {link.leads}", _SURE.get(link.status, "")


def _test(job: LoadedJob, system: System, slot: Slot) -> Row:
    terminal, at = slot.known(job), CellRef("terminal", slot.row_id, "ran")
    ran = Cell(at, _RAN, _ran(job, terminal), 9, press=TypeWhatRan(at, slot.seed))
    make = CellMaker(Terminal, slot.row_id, terminal, system, slot.seed)
    ohms = ("day_1_ohm", 11), ("now_ohm", 10)
    cells = (ran, *(_ohms(make, slot, column, width) for column, width in ohms))
    return Row(slot.label, cells, tail=_reads(job, terminal))


def _ohms(make: CellMaker, slot: Slot, column: str, width: int) -> Cell:
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
