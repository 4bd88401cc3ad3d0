"""Two-wire systems as lines of the wire's pictures: the decoders of a box, the paths."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.checks.common.naming import (
    box_word,
    controller_name,
    decoder_name,
    path_name,
    sentence,
    zone_word,
)
from fieldbook.checks.wire.addresses import joined_addresses
from fieldbook.checks.wire.wire_evidence import end_name
from fieldbook.checks.wire.wire_links import Status, wire_links
from fieldbook.papers.picture import Line, Piece, row_of
from fieldbook.papers.wire_signs import SIGNS
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import OtherController
from fieldbook.records.tables.two_wire import Decoder, TwoWirePath
from fieldbook.records.tables.wires import ValveBox
from fieldbook.trade.colours import swatch


def decoder_status(job: LoadedJob, decoder: Decoder) -> Status:
    """How sure a decoder's address is, by the terminal that calls it."""
    known = {end_name(link.terminal): link.status for link in wire_links(job)}
    name = f"decoder {decoder.id}"
    joined = (wire.controller.name for wire in joined_addresses(job).wires if wire.box.name == name)
    return next((known[under] for under in joined if under in known), "open")


def decoders_in(job: LoadedJob, box: ValveBox) -> Iterator[Line]:
    """The decoders in a box: the address of each, its zone, and how sure that is."""
    held = [decoder for decoder in job.decoders if decoder.box_id == box.id]
    for decoder in held:
        joint = "└─ " if decoder is held[-1] else "├─ "
        words = f"{decoder_name(decoder)}: {_serves(job, decoder)}   "
        yield row_of(joint, Piece(words), SIGNS[decoder_status(job, decoder)].piece)


def path_lines(job: LoadedJob) -> Iterator[Line]:
    """Each two-wire path with its pair of colours, and the boxes with its decoders."""
    for path in job.two_wire_paths:
        pair = [_wire(colour) for colour in (path.colour_1, path.colour_2)]
        whose = job.find(OtherController, path.controller_id)
        gauge = f", AWG {path.gauge_awg}" if path.gauge_awg else ""
        start = f"{sentence(path_name(path))}{gauge}, from {controller_name(whose)}: "
        yield row_of(Piece(start, None, "strong"), pair[0], " and ", pair[1])
        boxes = [box for box in job.valve_boxes if _on(job, path, box)]
        for box in boxes:
            joint = "└─ " if box is boxes[-1] else "├─ "
            served = ", ".join(
                f"{_serves(job, one)} {SIGNS[decoder_status(job, one)].sign}"
                for one in _on(job, path, box)
            )
            yield row_of(f"{joint}{sentence(box_word(box))}: {served}")


def _on(job: LoadedJob, path: TwoWirePath, box: ValveBox) -> Sequence[Decoder]:
    """The decoders of a path in a box; one that names no path is on the only one."""
    only = len(job.two_wire_paths) == 1
    return [
        decoder
        for decoder in job.decoders
        if decoder.box_id == box.id
        and (decoder.path_id == path.id or (only and not decoder.path_id))
    ]


def _serves(job: LoadedJob, decoder: Decoder) -> str:
    zone = job.zone(decoder.zone_id)
    if zone is not None:
        return zone_word(zone)
    return "the master valve" if decoder.on_master else "zone not entered"


def _wire(colour: str | None) -> Piece:
    return Piece(colour, swatch(colour)) if colour else Piece("colour not entered")
