"""The wire map in words: where each terminal leads, how sure that is, and the evidence for it.

What does not fit is put in words by `checks.wire.doubt_words`.
"""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size

from fieldbook.checks.common.naming import quantity, sentence, short, terminal_name
from fieldbook.checks.wire.circuits import currents_of, reading_of, soil_deg_f
from fieldbook.checks.wire.doubt_words import LONGEST_LINE
from fieldbook.checks.wire.wire_evidence import end_name, reconciled_wire
from fieldbook.papers.picture import Line, Picture, Piece
from fieldbook.papers.wire_pictures import leads_to
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.trade.colours import swatch
from fieldbook.units import LENGTH
from fieldbook.wiring import THICKEST_FIRST, longest_ft

_ROLE = {"common": "Common", "master": "Master valve"}


LEGEND = "= seen to run   ~ by colours alone   ? in doubt"


def map_picture(job: LoadedJob) -> Picture:
    """One line per terminal: how sure it is, the wire under it, where it leads, and why."""
    rows = [
        (
            f"{sign(job, terminal)} {_part(terminal)}",
            short(terminal.colour or "-"),
            leads_to(job, terminal),
        )
        for terminal in _shown(job)
    ]
    widths = [max(map(cell_len, column)) for column in zip(*rows, strict=True)]
    lines: list[Line] = []
    for terminal, row in zip(_shown(job), rows, strict=True):
        name, wire, leads = map(set_cell_size, row, widths)
        # The evidence is last and may be as long as there is room.
        why = short(because(job, terminal), LONGEST_LINE - sum(widths) - 9)
        colour = Piece(wire, swatch(terminal.colour)) if terminal.colour else Piece(f"   {wire}")
        lines.append((Piece(f"{name}  "), colour, Piece(f"  {leads}  {why}")))
    if lines:
        lines.append((Piece(LEGEND),))
    else:
        lines.append((Piece("No wire is entered under any terminal yet."),))
    return Picture("Wire map", tuple(lines))


def _part(terminal: Terminal) -> str:
    return _ROLE.get(terminal.role) or sentence(terminal_name(terminal))


def _shown(job: LoadedJob) -> list[Terminal]:
    return [one for one in job.terminals if one.colour or one.ran_zone_id]


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


def sign(job: LoadedJob, terminal: Terminal) -> str:
    """How sure a terminal's end is: "=" seen to run, "~" by colours alone, "?" in doubt."""
    found, name = reconciled_wire(job), end_name(terminal)
    link, doubt = found.link_of(name), found.doubt_of(name)
    if link is not None:
        return "=" if "ran" in link.basis else "~"
    if doubt is None:
        return " "
    return "=" if doubt.settled else "?"


def because(job: LoadedJob, terminal: Terminal) -> str:
    """The evidence for where a terminal leads."""
    found, name = reconciled_wire(job), end_name(terminal)
    link = found.link_of(name)
    if link is None:
        doubt = found.doubt_of(name)
        if doubt is None:
            return "its other end is not entered yet"
        return "shown by tests, against the entries" if doubt.settled else "in doubt, see below"
    evidence = []
    if "colours" in link.basis:
        evidence.append("colours at both ends")
    if "ran" in link.basis:
        evidence.append("seen to run")
    elif terminal.role != "common":
        evidence.append("not tested")
    reading = reading_of(job, terminal)
    if reading is not None and "ohms" in link.basis:
        evidence.append(f"{reading.ohm:.1f} ohm")
    return ", ".join(evidence)
