"""The cables as a tree: from the controller to the boxes, and on from a box; two-wire paths."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rich.cells import cell_len

from fieldbook.checks.common.naming import box_name, cable_name, sentence, valve_name
from fieldbook.papers.decoder_pictures import path_lines
from fieldbook.papers.picture import Line, Picture, Piece, Role, row_of
from fieldbook.papers.text_widths import wrapped
from fieldbook.papers.wire_pictures import cable_in, gauge_words, valve_status
from fieldbook.papers.wire_signs import SIGNS
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable, ValveBox

_LEAST = 20
"""Words are never wrapped narrower than this, however deep the tree is."""


class _Node(NamedTuple):
    """A cable, or a box on one, with what goes on from it."""

    words: str
    role: Role
    children: tuple[_Node, ...]


def cables_picture(job: LoadedJob, width: int) -> Picture:
    """The tree, at most `width` character cells wide, and the two-wire paths below it."""
    nodes = [_cable(job, cable, frozenset({cable.id})) for cable in job.home_cables()]
    lines = [row_of("Controller"), *_lines(nodes, "", width)] if nodes else []
    lines += path_lines(job)
    return Picture("Cables", tuple(lines) or (row_of("No cable is entered yet."),))


def _cable(job: LoadedJob, cable: Cable, seen: frozenset[str]) -> _Node:
    """A cable and the boxes it is in; `seen` are the cables above, since links may be a circle."""
    wires = sum(1 for wire in job.conductors_of(cable.id) if wire.colour)
    words = f"{cable_name(cable)}{gauge_words(cable)}, {wires} conductor{'' if wires == 1 else 's'}"
    boxes = [box for box in job.valve_boxes if cable_in(job, cable, box)]
    return _Node(words, "strong", tuple(_box(job, cable, box, seen) for box in boxes))


def _box(job: LoadedJob, cable: Cable, box: ValveBox, seen: frozenset[str]) -> _Node:
    """A box, the valves in it on this cable, and the cables that begin there."""
    words, served = sentence(box_name(box)), _served(job, cable, box)
    on = [one for one in job.cables if one.fed_from == box.id and one.id not in seen]
    children = tuple(_cable(job, one, seen | {one.id}) for one in on)
    return _Node(f"{words}: {served}" if served else words, "", children)


def _served(job: LoadedJob, cable: Cable, box: ValveBox) -> str:
    """The valves in a box on a cable, each with the sign of how sure its wire is."""
    here = [one for one in job.valves if one.box_id == box.id and job.cable_of(one) is cable]
    numbers = {zone.id: zone.number or 0 for zone in job.zones}
    here.sort(key=lambda valve: numbers.get(valve.zone_id or "", 0))
    return ", ".join(
        f"{valve_name(job, valve).removeprefix('the valve of ')} "
        f"{SIGNS[valve_status(job, valve)].sign}"
        for valve in here
        if valve.colour
    )


def _lines(nodes: Sequence[_Node], before: str, width: int) -> Iterator[Line]:
    for node in nodes:
        last = node is nodes[-1]
        under = before + ("   " if last else "│  ")
        texts = wrapped(node.words, max(width - len(under), _LEAST), cell_len)
        for number, text in enumerate(texts):
            branch = before + ("└─ " if last else "├─ ") if number == 0 else under
            yield row_of(branch, Piece(text, None, node.role))
        yield from _lines(node.children, under, width)
