"""The wire map in words: where each terminal leads, how sure that is, and the evidence for it.

What does not fit is put in words by `checks.wire.doubt_words`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len, set_cell_size

from fieldbook.checks.common.naming import controller_name, quantity, sentence, short
from fieldbook.checks.wire.circuits import currents_of, soil_deg_f
from fieldbook.checks.wire.doubt_words import LONGEST_LINE
from fieldbook.checks.wire.wire_links import WireLink, wire_links
from fieldbook.papers.picture import Line, Picture, Piece, plain_line, row_of
from fieldbook.papers.text_widths import wrapped
from fieldbook.papers.wire_signs import SIGNS, legend
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import OtherController
from fieldbook.trade.colours import swatch
from fieldbook.units import LENGTH
from fieldbook.wiring import THICKEST_FIRST, longest_ft

_ROLE = {"common": "Common", "master": "Master valve"}
_HEADS = ("Terminal", "Wire", "Leads to", "How that is known")
_LEAST = 24
"""With less room than this beside the columns, the evidence has a line of its own below."""


def map_picture(job: LoadedJob, width: int = LONGEST_LINE) -> Picture:
    """One line per terminal: how sure it is, the wire under it, where it leads, and why.

    At most `width` character cells wide. Where there are several controllers, each has a line of
    its own above its terminals.
    """
    links = wire_links(job)
    if not links:
        return Picture("Wire map", (row_of("No wire is entered under any terminal yet."),))
    rows = list(_rows(job, width))
    statuses = frozenset(link.status for link in links)
    return Picture("Wire map", (*_heads(links, width), *rows, *legend(statuses, width)))


def _rows(job: LoadedJob, width: int) -> Iterator[Line]:
    links = wire_links(job)
    if not links:
        return
    widths = _widths(links)
    before: OtherController | None = None
    for number, link in enumerate(links):
        if job.other_controllers and (number == 0 or link.controller is not before):
            yield (Piece(f"{sentence(controller_name(link.controller))}:", None, "strong"),)
        before = link.controller
        yield from _row(link, widths, width)


def _row(link: WireLink, widths: Sequence[int], width: int) -> Iterator[Line]:
    """A terminal's line; its evidence goes on below where it finds no room beside."""
    sign = SIGNS[link.status]
    name, wire, leads = map(set_cell_size, _columns(link), widths)
    colour = Piece(wire, swatch(link.colour)) if link.colour else Piece(f"   {wire}")
    start: Line = (
        Piece(f"{sign.sign} ", None, sign.role or "strong"),
        Piece(f"{name}  "),
        colour,
        Piece(f"  {leads}  ", None, sign.role),
    )
    taken = sum(piece.width for piece in start)
    said = link.why.startswith(sign.word) or link.status == "open"
    why = Piece(link.why if said else f"{sign.word}: {link.why}", None, sign.role)
    if why.width <= width - taken:
        yield (*start, why)
        return
    beside = width - taken >= _LEAST
    indent = taken if beside else 4
    lines = list(wrapped(why.text, width - indent, cell_len))
    yield (*start, why._replace(text=lines.pop(0))) if beside else start
    for line in lines:
        yield (Piece(" " * indent), why._replace(text=line))


def _columns(link: WireLink) -> tuple[str, str, str]:
    return _part(link), short(link.wire or "-"), link.leads


def _widths(links: Sequence[WireLink]) -> list[int]:
    columns = zip(_HEADS, *map(_columns, links), strict=False)
    return [max(map(cell_len, column)) for column in columns]


def _heads(links: Sequence[WireLink], width: int) -> Iterator[Line]:
    name, wire, leads = map(set_cell_size, _HEADS, _widths(links))
    heads = f"  {name}     {wire}  {leads}  "
    # Evidence that has a line of its own stands under no head.
    beside = width - cell_len(heads) >= _LEAST
    yield (Piece(f"{heads}{_HEADS[3] if beside else ''}".rstrip(), None, "faint"),)


def _part(link: WireLink) -> str:
    terminal = link.terminal
    if terminal.role != "zone":
        return _ROLE.get(terminal.role, terminal.role)
    return f"Terminal {terminal.number}" if terminal.number is not None else "A terminal"


def map_lines(job: LoadedJob) -> list[str]:
    """The wire map as plain lines, without its title, heads and legend."""
    return [plain_line(line) for line in _rows(job, LONGEST_LINE)]


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
