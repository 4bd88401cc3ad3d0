"""Pictures of the wire: what the conductors do in each valve box, and the controller's strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rich.cells import cell_len

from fieldbook.checks.common.naming import (
    box_name,
    cable_name,
    controller_name,
    sentence,
    short,
    zone_name,
)
from fieldbook.checks.wire.ends import MASTER, Splices
from fieldbook.checks.wire.wire_evidence import end_name, reconciled_wire
from fieldbook.checks.wire.wire_links import Status, WireLink, wire_links
from fieldbook.papers.decoder_pictures import decoders_in
from fieldbook.papers.picture import Line, Picture, Piece, columns, row_of
from fieldbook.papers.text_widths import wrapped
from fieldbook.papers.wire_signs import SIGNS
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable, Valve, ValveBox
from fieldbook.trade.colours import letter_code, swatch

_COLUMN = 10
_COLOUR = 22
"""The character cells of a conductor with its swatch, in a valve box."""
_WIDTH = 78
"""The character cells that a strip may take, so that it fits 80 columns."""


def conductor_piece(colour: str | None) -> Piece:
    """A conductor's colour: swatch, word and letter code."""
    if not colour:
        return Piece("not entered")
    code = letter_code(colour)
    return Piece(f"{colour} {code}".strip(), swatch(colour))


def strip_picture(job: LoadedJob, width: int = _WIDTH) -> Picture:
    """The controller's terminals: what is under each, where it leads, how sure that is.

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
            lines.append(columns([_mark(link.terminal) for link in row], _COLUMN))
            lines.append(row_of("├" + "┼".join([edge] * len(row)) + "┤"))
            lines.append(columns([_wire(link) for link in row], _COLUMN))
            roles = [SIGNS[link.status].role for link in row]
            leads = [Piece(link.leads, None, role) for link, role in zip(row, roles, strict=True)]
            lines.append(columns(leads, _COLUMN))
            lines.append(columns([SIGNS[link.status].piece for link in row], _COLUMN))
            lines.append(row_of("└" + "┴".join([edge] * len(row)) + "┘"))
    if not lines:
        lines.append(row_of("No wire is entered under any terminal yet."))
    return Picture("Controller", tuple(lines))


def _mark(terminal: Terminal) -> Piece:
    words = "common" if terminal.role == "common" else "master"
    if terminal.role == "zone":
        words = str(terminal.number or "?")
    return Piece(words, None, "strong")


def _wire(link: WireLink) -> Piece:
    return Piece(link.wire or "-", swatch(link.colour)) if link.colour else Piece(link.wire or "-")


def box_pictures(job: LoadedJob, width: int = _WIDTH) -> list[Picture]:
    """One picture per valve box, at most `width` character cells wide."""
    return [_box(job, box, width) for box in job.valve_boxes]


def _box(job: LoadedJob, box: ValveBox, width: int) -> Picture:
    title = sentence(box_name(box))
    lines: list[Line] = []
    for cable in job.cables:
        lines += cable_in(job, cable, box, width)
    lines += decoders_in(job, box)
    if not lines:
        lines.append(row_of("No wire of this box is entered yet."))
    return Picture(title, tuple(lines))


class _Use(NamedTuple):
    """What a conductor does in a box. `other` is the conductor it is joined to, if any.

    `here` says that it shows the cable to be in the box, `valve` which valve it serves.
    """

    words: str
    here: bool = False
    other: str | None = None
    of: str = ""
    valve: Valve | None = None


def cable_in(job: LoadedJob, cable: Cable, box: ValveBox, width: int = _WIDTH) -> list[Line]:
    """What a cable's conductors do in a box; no lines if the cable is not known to be in it."""
    uses: list[tuple[str, _Use]] = []
    for conductor in job.conductors_of(cable.id):
        if conductor.colour is not None:
            use = _does(job, cable, box, conductor.colour)
            if not use.words:
                kept = "spare, pulled back and kept" if conductor.kept else "spare or passing by"
                use = use._replace(words=kept)
            uses.append((conductor.colour, use))
    if not any(use.here for _, use in uses):
        return []
    start = job.row(cable.fed_from)
    origin = box_name(start) if isinstance(start, ValveBox) else "the controller"
    if start is box:
        origin = "this box, going on"
    lines = [row_of(f"{sentence(cable_name(cable))}{gauge_words(cable)}, from {origin}")]
    for number, (colour, use) in enumerate(uses, start=1):
        last = number == len(uses)
        piece = conductor_piece(colour)
        gap = " " * max(_COLOUR - piece.width, 1)
        first, *more = _within(list(_use_pieces(job, use)), width - _COLOUR - 3)
        lines.append(row_of("└─ " if last else "├─ ", piece, gap, *first))
        under = ("   " if last else "│  ") + " " * (_COLOUR + 2)
        lines += [row_of(under, *line) for line in more]
    return lines


def _within(pieces: Sequence[Piece], width: int) -> Iterator[Sequence[Piece]]:
    """The pieces on as few lines as `width` allows: a text alone is wrapped, others are parted."""
    if sum(piece.width for piece in pieces) <= width:
        yield pieces
    elif len(pieces) > 1:
        yield from ([piece] for piece in pieces if piece.text.strip())
    else:
        lead = pieces[0].text[:2]
        lines = list(wrapped(pieces[0].text[2:], width - 2, cell_len))
        yield [pieces[0]._replace(text=lead + lines[0])]
        yield from ([pieces[0]._replace(text=line)] for line in lines[1:])


def gauge_words(cable: Cable) -> str:
    """Such as ", AWG 18"; empty while it is not entered."""
    return f", AWG {cable.gauge_awg}" if cable.gauge_awg else ""


def _use_pieces(job: LoadedJob, use: _Use) -> Iterator[Piece]:
    """A use in words, a joined conductor behind its swatch, a valve behind its sign."""
    if use.valve is not None and use.here:
        sign = SIGNS[valve_status(job, use.valve)]
        yield Piece(f"{sign.sign} {use.words}", None, sign.role)
        return
    yield Piece(f"  {use.words}", None, "" if use.here else "faint")
    if use.other is not None:
        yield Piece(" ")
        yield Piece(f"{use.other}{use.of}", swatch(use.other))


def valve_status(job: LoadedJob, valve: Valve) -> Status:
    """How sure the wire of a valve is, by the terminal that leads to it."""
    found = reconciled_wire(job)
    doubt = found.doubt_of(f"valve {valve.id}")
    station = MASTER if valve.kind == "master" else valve.zone_id
    if doubt is not None and not doubt.settled:
        return "doubt"
    if doubt is not None:
        known = {end_name(link.terminal): link.status for link in wire_links(job)}
        leads = doubt.explanations[0].map.items()
        return next(
            (known[name] for name, led in leads if station in led and name in known), "open"
        )
    link = next((link for link in found.links if station in link.stations), None)
    if link is None:
        return "open"
    return "proven" if "ran" in link.basis else "unproven"


def _does(job: LoadedJob, cable: Cable, box: ValveBox, colour: str) -> _Use:
    """What a conductor does in a box; without words where nothing of it is known."""
    for valve in job.valves:
        if valve.colour == colour and job.cable_of(valve) is cable:
            whose = _whose(job, valve)
            if valve.box_id == box.id:
                return _Use(whose, here=True, valve=valve)
            other = job.row(valve.box_id)
            place = f", in box {short(other.name)}" if isinstance(other, ValveBox) else ""
            return _Use(f"{whose}{place}")
    for splice in job.splices:
        if splice.box_id != box.id:
            continue
        if (splice.cable_id, splice.colour) == (cable.id, colour):
            of = _of_cable(job, splice.to_cable_id)
            return _Use("spliced on:", True, splice.to_colour or "not entered", of)
        if (splice.to_cable_id, splice.to_colour) == (cable.id, colour):
            of = _of_cable(job, splice.cable_id)
            return _Use("spliced to", True, splice.colour or "not entered", of)
    if cable.common_colour == colour:
        return _Use("common of the valves")
    wire = Splices(job).one_wire(cable.id, colour)
    return _Use("passes on" if len(wire) > 1 else "")


def _whose(job: LoadedJob, valve: Valve) -> str:
    if valve.kind == "master":
        return "the master valve"
    return f"valve of {zone_name(job.zone(valve.zone_id))}"


def _of_cable(job: LoadedJob, cable_id: str | None) -> str:
    cable = job.row(cable_id)
    return f" of {cable_name(cable)}" if isinstance(cable, Cable) else ""
