"""The controller: what is under each terminal, and the controller itself."""

from __future__ import annotations

from typing import Any

from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.circuits import expected_of, reading_of
from fieldbook.papers.wire_pictures import leads_to
from fieldbook.records.fact import Fact
from fieldbook.records.ids import once_id, terminal_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Controller, Terminal
from fieldbook.records.values import Value
from fieldbook.screens.sheets.options import default_cable, link_options, terminal_options
from fieldbook.screens.sheets.sheet import Cell, CellMaker, Row, Section, Sheet
from fieldbook.trade.colours import swatch
from fieldbook.units import System

_RAN = Fact(
    "text",
    "Ran",
    "Energise this terminal alone and type the zone that ran; 3 4 if two ran, 0 if none did. "
    "The mains side stays closed: it is a licensed electrician's work.",
)


def controller(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the controller."""
    return Sheet((_terminals(job, system), _tests(job, system), _controller(job, system)))


def _controller(job: LoadedJob, system: System) -> Section:
    row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
    make = CellMaker(Controller, "controller", row_id, job.controller, system)
    outside = job.controller is not None and job.controller.outdoors is True
    rows = make.form(
        "location",
        "stations",
        "outdoors",
        "outdoor_model",
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
        outdoor_model=outside,
    )
    return Section("Controller", tuple(rows))


def _terminals(job: LoadedJob, system: System) -> Section:
    by_id = {terminal.id: terminal for terminal in job.terminals}
    rows = []
    for role, number, key, label in _wanted_terminals(job):
        row_id = terminal_id(job.job.id, role, key)
        terminal = by_id.pop(row_id, None)
        seed: dict[str, Value] = {"role": role, "number": number}
        if role == "common":
            seed["cable_id"] = str(key)
        rows.append(_terminal(job, system, label, row_id, terminal, seed))
    for row_id, terminal in by_id.items():
        label = f"{terminal.role} {terminal.number or ''}".strip()
        rows.append(_terminal(job, system, label, row_id, terminal, {}))
    heads = ("Wire", "Zone", "Cable")
    return Section("Under each terminal", tuple(rows), heads, label_width=15)


def _tests(job: LoadedJob, system: System) -> Section:
    """Energise each terminal and type what ran; read its ohms with the power off."""
    by_id = {terminal.id: terminal for terminal in job.terminals}
    rows = []
    for role, number, key, label in _wanted_terminals(job):
        if role == "common":
            continue
        row_id = terminal_id(job.job.id, role, key)
        terminal = by_id.get(row_id)
        seed: dict[str, Value] = {"role": role, "number": number}
        make = CellMaker(Terminal, "terminal", row_id, terminal, system, seed)
        ran = Cell(
            CellRef("terminal", row_id, "ran"), _RAN, _ran(job, terminal), 9, seed, act="ran"
        )
        cells = (ran, make.cell("day_1_ohm", 11), make.cell("now_ohm", 10))
        rows.append(Row(label, cells, tail=_reads(job, terminal)))
    if not rows:
        rows.append(Row("", (), tail="Zones and terminals come first."))
    title = "Test: energise one, type the zone that ran (0: none)"
    return Section(title, tuple(rows), ("Ran", "Ohms, day 1", "Ohms now"), label_width=15)


def _ran(job: LoadedJob, terminal: Terminal | None) -> str:
    if terminal is None:
        return ""
    if terminal.ran_nothing:
        return "0"
    zones = [job.zone(one) for one in (terminal.ran_zone_id, terminal.ran_also_id)]
    return " ".join(str(zone.number or "?") for zone in zones if zone is not None)


def _reads(job: LoadedJob, terminal: Terminal | None) -> str:
    """What the latest reading means, or what it should be."""
    if terminal is None:
        return ""
    reading = reading_of(job, terminal)
    if reading is not None:
        return reading.meaning
    expected = expected_of(job, terminal)
    return f"should read {expected:.1f} ohm" if expected is not None else ""


def _wanted_terminals(job: LoadedJob) -> list[tuple[str, int | None, int | str, str]]:
    """Role, number, key of the id and label of each terminal the job should have."""
    several = len(job.cables) > 1
    found: list[tuple[str, int | None, int | str, str]] = [
        ("common", None, cable.id, f"Common, cable {cable.name}" if several else "Common")
        for cable in job.own_commons()
    ]
    if job.master_valve() is not None:
        found.append(("master", None, "", "Master valve"))
    stations = job.controller.stations if job.controller else None
    count = max([stations or 0, *(zone.number or 0 for zone in job.zones)])
    found += [("zone", number, number, f"Terminal {number}") for number in range(1, count + 1)]
    return found


def _terminal(
    job: LoadedJob,
    system: System,
    label: str,
    row_id: str,
    terminal: Terminal | None,
    seed: dict[str, Value],
) -> Row:
    make = CellMaker(Terminal, "terminal", row_id, terminal, system, seed)
    known: dict[str, Any] = dict(seed)
    end = terminal or Terminal(id=row_id, job_id=job.job.id, **known)
    cable, zone = default_cable(job, end), job.terminal_zone(end)
    own = terminal.colour if terminal is not None else None
    zones = link_options([(z.id, str(z.number or z.name)) for z in job.zones])
    asked = end.role != "zone" or zone is not None
    cells = [
        make.cell(
            "colour",
            16,
            options=terminal_options(job, row_id, cable),
            swatch=swatch(own) if own else None,
            wanted=asked,
        )
    ]
    if end.role == "zone":
        name = f"{zone.number or '?'} {zone.name}".strip() if zone else ""
        cells.append(make.cell("zone_id", 17, options=zones, text=name))
        cables = link_options([(c.id, c.name or "?") for c in job.cables])
        cells.append(make.cell("cable_id", 5, options=cables, text=cable.name if cable else ""))
    return Row(label, tuple(cells), tail=_at_the_box(job, end))


def _at_the_box(job: LoadedJob, end: Terminal) -> str:
    """Where this terminal's conductor goes, joined by its colour."""
    if not end.colour or job.cable_of(end) is None:
        return ""
    leads = leads_to(job, end)
    return "> nothing at the box" if leads == "-" else f"> {leads}"
