"""Pictures of the wire: what the conductors do in each valve box, and the controller's strip."""

from __future__ import annotations

from fieldbook.checks.common.naming import (
    box_name,
    cable_name,
    controller_name,
    sentence,
    short,
    zone_name,
)
from fieldbook.checks.wire.ends import Splices
from fieldbook.checks.wire.wire_links import WireLink, wire_links
from fieldbook.papers.picture import Line, Picture, Piece, columns, row_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable, Valve, ValveBox
from fieldbook.trade.colours import letter_code, swatch

_COLUMN = 10
_WIDTH = 78
"""The character cells that a strip may take, so that it fits 80 columns."""


def conductor_piece(colour: str | None) -> Piece:
    """A conductor's colour: swatch, word and letter code."""
    if not colour:
        return Piece("not entered")
    code = letter_code(colour)
    return Piece(f"{colour} {code}".strip(), swatch(colour))


def strip_picture(job: LoadedJob, width: int = _WIDTH) -> Picture:
    """The controller's terminals: what is under each, and where it leads.

    At most `width` character cells wide.
    """
    lines: list[Line] = []
    across = max((width - 1) // (_COLUMN + 1), 1)
    for controller in (None, *job.other_controllers):
        links = [link for link in wire_links(job) if link.controller is controller]
        if links and job.other_controllers:
            lines.append(row_of(sentence(controller_name(controller))))
        for start in range(0, len(links), across):
            row = links[start : start + across]
            edge = "─" * _COLUMN
            lines.append(row_of("┌" + "┬".join([edge] * len(row)) + "┐"))
            lines.append(columns([Piece(_mark(link.terminal)) for link in row], _COLUMN))
            lines.append(columns([_wire(link) for link in row], _COLUMN))
            lines.append(columns([Piece(link.leads) for link in row], _COLUMN))
            lines.append(row_of("└" + "┴".join([edge] * len(row)) + "┘"))
    if not lines:
        lines.append(row_of("No wire is entered under any terminal yet."))
    return Picture("Controller", tuple(lines))


def _mark(terminal: Terminal) -> str:
    if terminal.role == "zone":
        return str(terminal.number or "?")
    return "common" if terminal.role == "common" else "master"


def _wire(link: WireLink) -> Piece:
    return Piece(link.wire or "-", swatch(link.colour)) if link.colour else Piece(link.wire or "-")


def box_pictures(job: LoadedJob) -> list[Picture]:
    """One picture per valve box."""
    return [_box(job, box) for box in job.valve_boxes]


def _box(job: LoadedJob, box: ValveBox) -> Picture:
    title = sentence(box_name(box))
    lines: list[Line] = []
    for cable in job.cables:
        lines += _cable_in(job, cable, box)
    if not lines:
        lines.append(row_of("No wire of this box is entered yet."))
    return Picture(title, tuple(lines))


def _cable_in(job: LoadedJob, cable: Cable, box: ValveBox) -> list[Line]:
    """What a cable's conductors do in a box; no lines if the cable is not known to be in it."""
    uses: list[tuple[str, str]] = []
    here = False
    for conductor in job.conductors_of(cable.id):
        if conductor.colour is None:
            continue
        words, own = _does(job, cable, box, conductor.colour)
        here = here or own
        if not words and conductor.kept:
            words = "spare, pulled back and kept"
        uses.append((conductor.colour, words or "spare or passing by"))
    if not here:
        return []
    start = job.row(cable.fed_from)
    origin = box_name(start) if isinstance(start, ValveBox) else "the controller"
    if start is box:
        origin = "this box, going on"
    gauge = f", AWG {cable.gauge_awg}" if cable.gauge_awg else ""
    lines = [row_of(f"{sentence(cable_name(cable))}{gauge}, from {origin}")]
    for number, (colour, words) in enumerate(uses, start=1):
        joint = "└─ " if number == len(uses) else "├─ "
        piece = conductor_piece(colour)
        gap = " " * max(22 - piece.width, 1)
        lines.append(row_of(joint, piece, f"{gap}{words}"))
    return lines


def _does(job: LoadedJob, cable: Cable, box: ValveBox, colour: str) -> tuple[str, bool]:
    """What a conductor does in a box, and whether that shows that the cable is in the box."""
    for valve in job.valves:
        if valve.colour == colour and job.cable_of(valve) is cable:
            whose = _whose(job, valve)
            if valve.box_id == box.id:
                return whose, True
            other = job.row(valve.box_id)
            place = f", in box {short(other.name)}" if isinstance(other, ValveBox) else ""
            return f"{whose}{place}", False
    for splice in job.splices:
        if splice.box_id != box.id:
            continue
        if (splice.cable_id, splice.colour) == (cable.id, colour):
            return f"spliced on: {_other(job, splice.to_cable_id, splice.to_colour)}", True
        if (splice.to_cable_id, splice.to_colour) == (cable.id, colour):
            return f"spliced to {_other(job, splice.cable_id, splice.colour)}", True
    if cable.common_colour == colour:
        return "common of the valves", False
    wire = Splices(job).one_wire(cable.id, colour)
    return ("passes on" if len(wire) > 1 else ""), False


def _whose(job: LoadedJob, valve: Valve) -> str:
    if valve.kind == "master":
        return "the master valve"
    return f"valve of {zone_name(job.zone(valve.zone_id))}"


def _other(job: LoadedJob, cable_id: str | None, colour: str | None) -> str:
    cable = job.row(cable_id)
    of = f" of {cable_name(cable)}" if isinstance(cable, Cable) else ""
    return f"{short(colour or 'not entered')}{of}"
