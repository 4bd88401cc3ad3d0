"""Flags where a property has more than one controller: wires and commons that two of them share.

Two controllers are two transformers. Their circuits must not meet, neither on a wire nor on a
common (common practice, no source).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from fieldbook.checks.common.naming import (
    cable_name,
    controller_name,
    listed,
    sentence,
    short,
    terminal_name,
    zone_word,
)
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.checks.wire.ends import common_station, has_terminal, second_commons, terminal_cell
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import OtherController, Terminal
from fieldbook.records.tables.wires import Cable

_SOURCE = "Common practice, no source: circuits of two transformers are kept apart."


def check_controllers(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Wires, commons and zones that two controllers share."""
    for cable in second_commons(job):
        yield from _second_common(job, cable)
    yield from _one_wire(job)
    yield from _one_zone(job)


def _second_common(job: LoadedJob, cable: Cable) -> Iterator[Finding | Looked]:
    """A cable that serves two controllers needs a common for each."""
    name = cable_name(cable)
    other = controller_name(job.find(OtherController, cable.second_controller_id))
    at_box = CellRef("cable", cable.id, "second_common_colour")
    station = common_station(cable.id, cable.second_controller_id)
    at = terminal_cell(job, station) or at_box
    lacks = []
    if not cable.second_common_colour:
        lacks.append(Missing(f"the common of {name} for {other}", at_box))
    if not has_terminal(job, station):
        lacks.append(Missing(f"the common terminal of {name} at {other}", at))
    yield Looked(f"common of {name} for {other}", frozenset({cable.id, at.row_id}), tuple(lacks))
    if cable.second_common_colour and cable.second_common_colour == cable.common_colour:
        yield Finding(
            "one common for two controllers",
            "stop",
            f"{sentence(short(cable.second_common_colour))} of {name} is the common of two "
            "controllers: both transformers would meet on it.",
            f"Use a spare of {name} as the common of {other}, at both ends, and enter it.",
            at_box,
            source=_SOURCE,
        )


def _one_wire(job: LoadedJob) -> Iterator[Finding]:
    """Conductors that are under terminals of two controllers."""
    under: defaultdict[tuple[str, str], list[Terminal]] = defaultdict(list)
    for terminal in job.terminals:
        cable = job.cable_of(terminal)
        if terminal.colour and cable is not None:
            under[cable.id, terminal.colour].append(terminal)
    for (cable_id, colour), terminals in under.items():
        if len({one.controller_id or "" for one in terminals}) < 2:
            continue
        words = listed([terminal_name(job, one) for one in terminals])
        wire = f"{sentence(short(colour))} of {cable_name(job.find(Cable, cable_id))}"
        yield Finding(
            "wire under two controllers",
            "stop",
            f"{wire} is under {words}: both transformers would meet on it.",
            "Take it off one. If the cable is cut between them, enter its halves as two cables.",
            CellRef("terminal", terminals[-1].id, "colour"),
            source=_SOURCE,
        )


def _one_zone(job: LoadedJob) -> Iterator[Finding]:
    """Zones that terminals of two controllers name."""
    by_zone: defaultdict[str, list[Terminal]] = defaultdict(list)
    for terminal in job.terminals:
        if terminal.role == "zone" and terminal.zone_id:
            by_zone[terminal.zone_id].append(terminal)
    for zone_id, terminals in by_zone.items():
        if len({one.controller_id or "" for one in terminals}) < 2:
            continue
        words = listed([terminal_name(job, one) for one in terminals])
        yield Finding(
            "zone on two controllers",
            "fix",
            f"{sentence(zone_word(job.zone(zone_id)))} is on {words}: only one controller can run "
            "its valve.",
            "See which of them runs it, and clear the zone at the other.",
            CellRef("terminal", terminals[-1].id, "zone_id"),
        )
