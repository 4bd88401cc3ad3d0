"""The controller: what is under each terminal, and the controller itself."""

from __future__ import annotations

from typing import Any

from fieldbook.records.controller import Controller, Terminal
from fieldbook.records.loaded import LoadedJob, once_id, terminal_id
from fieldbook.records.values import Value
from fieldbook.screens.places.options import default_cable, link_options, terminal_options
from fieldbook.screens.places.sheet import CellMaker, Row, Section, Sheet
from fieldbook.trade.colours import swatch
from fieldbook.units import System


def controller(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the controller."""
    return Sheet((_terminals(job, system), _controller(job, system)))


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


def _wanted_terminals(job: LoadedJob) -> list[tuple[str, int | None, int | str, str]]:
    """Role, number, key of the id and label of each terminal the job should have."""
    several = len(job.cables) > 1
    found: list[tuple[str, int | None, int | str, str]] = [
        ("common", None, cable.id, f"Common, cable {cable.name}" if several else "Common")
        for cable in job.cables
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
    cable = job.cable_of(end)
    if not end.colour or cable is None:
        return ""
    if cable.common_colour == end.colour:
        return "> the common"
    for valve in job.valves:
        if valve.colour == end.colour and job.cable_of(valve) is cable:
            zone = job.zone(valve.zone_id)
            whose = f"valve, zone {zone.number or '?'}" if zone else "master valve"
            return f"> {whose}"
    return "> nothing at the box"
