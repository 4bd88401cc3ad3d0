"""The wire map in words: where each terminal leads, how sure that is, and the evidence for it.

What does not fit is put in words by `checks.wire.doubt_words`.
"""

from __future__ import annotations

from collections.abc import Mapping

from rich.cells import cell_len, set_cell_size

from fieldbook.checks.common.naming import controller_name, quantity, sentence, short
from fieldbook.checks.wire.circuits import currents_of, soil_deg_f
from fieldbook.checks.wire.doubt_words import LONGEST_LINE
from fieldbook.checks.wire.wire_links import Status, WireLink, wire_links
from fieldbook.papers.picture import Line, Picture, Piece
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import OtherController
from fieldbook.trade.colours import swatch
from fieldbook.units import LENGTH
from fieldbook.wiring import THICKEST_FIRST, longest_ft

_ROLE = {"common": "Common", "master": "Master valve"}
SIGNS: Mapping[Status, str] = {
    "proven": "=",
    "unproven": "~",
    "wrong": "!",
    "doubt": "?",
    "open": " ",
}
LEGEND = "= proven, seen to run   ~ unproven, not tested   ! wrong, shown by a test   ? in doubt"


def map_picture(job: LoadedJob) -> Picture:
    """One line per terminal: how sure it is, the wire under it, where it leads, and why.

    Where there are several controllers, each has a line of its own above its terminals.
    """
    links = wire_links(job)
    rows = [
        (f"{SIGNS[link.status]} {_part(link)}", short(link.wire or "-"), link.leads)
        for link in links
    ]
    widths = [max(map(cell_len, column)) for column in zip(*rows, strict=True)]
    lines: list[Line] = []
    before: OtherController | None = None
    for link, row in zip(links, rows, strict=True):
        if job.other_controllers and (not lines or link.controller is not before):
            lines.append((Piece(f"{sentence(controller_name(link.controller))}:"),))
        before = link.controller
        name, wire, leads = map(set_cell_size, row, widths)
        # The evidence is last and may be as long as there is room.
        why = short(link.why, LONGEST_LINE - sum(widths) - 9)
        colour = Piece(wire, swatch(link.colour)) if link.colour else Piece(f"   {wire}")
        lines.append((Piece(f"{name}  "), colour, Piece(f"  {leads}  {why}")))
    if lines:
        lines.append((Piece(LEGEND),))
    else:
        lines.append((Piece("No wire is entered under any terminal yet."),))
    return Picture("Wire map", tuple(lines))


def _part(link: WireLink) -> str:
    terminal = link.terminal
    if terminal.role != "zone":
        return _ROLE.get(terminal.role, terminal.role)
    return f"Terminal {terminal.number}" if terminal.number is not None else "A terminal"


def map_lines(job: LoadedJob) -> list[str]:
    """The wire map as plain lines, without its title and legend."""
    return map_picture(job).text().splitlines()[1:-1]


def reach_lines(job: LoadedJob) -> list[str]:
    """How far away a valve may be, by AWG size, with the job's coils, soil and master valve."""
    currents, deg_f = currents_of(job), soil_deg_f(job)
    reach = []
    for gauge in reversed(THICKEST_FIRST):
        most_ft = longest_ft(gauge, gauge, currents, deg_f=deg_f)
        reach.append(f"AWG {gauge} {quantity(job, round(most_ft), LENGTH)}")
    master = f", {currents.master_a:g} A of master or relay" if currents.master_a else ""
    return [
        f"One way, at {currents.inrush_a:g} A of inrush{master}, {currents.output_v:g} V out and "
        f"{currents.pull_in_v:g} V needed, soil {deg_f:.0f} F:",
        ", ".join(reach) + ".",
    ]
