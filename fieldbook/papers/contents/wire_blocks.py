"""The wire map on paper: a table with swatches, and plain text for a code that a phone reads."""

from __future__ import annotations

from fieldbook.checks.common.naming import box_name, sentence, terminal_name
from fieldbook.papers.contents.paper_source import PaperSource
from fieldbook.papers.contents.record_blocks import NOT_RECORDED, colour_cell
from fieldbook.papers.paper import Cell, Code, Table
from fieldbook.papers.printing.codes import DAMAGE, split_text
from fieldbook.papers.wire_map import because
from fieldbook.papers.wire_pictures import leads_to
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Valve, ValveBox
from fieldbook.records.tables.zones import Zone


def terminals_in_use(job: LoadedJob) -> list[Terminal]:
    """The terminals with a wire or a test: common, master, then zones by number."""
    rank = {"common": 0, "master": 1}
    used = [terminal for terminal in job.terminals if terminal.colour or terminal.ran_zone_id]
    return sorted(used, key=lambda terminal: (rank.get(terminal.role, 2), terminal.number or 0))


def terminals_table(source: PaperSource) -> Table:
    """Each terminal: its wire, where it leads, how that is known."""
    say, job = source.say, source.job
    rows: list[tuple[Cell, ...]] = [
        (
            terminal_word(source, terminal),
            colour_cell(terminal.colour) if terminal.colour else say(NOT_RECORDED),
            leads_to(job, terminal),
            zone_title(job.terminal_zone(terminal)),
            because(job, terminal),
        )
        for terminal in terminals_in_use(job)
    ]
    headers = (say("Terminal"), say("Wire"), say("Leads to"), say("Waters"), say("How it is known"))
    return Table(headers, tuple(rows), empty=say("No wire is recorded at the controller."))


def terminal_word(source: PaperSource, terminal: Terminal) -> str:
    """Such as "Common" or "4"."""
    if terminal.role == "zone":
        return str(terminal.number or "?")
    return source.say("Common" if terminal.role == "common" else "Master valve")


def zone_title(zone: Zone | None) -> str:
    """A zone's own name, or nothing."""
    return zone.name.strip() if zone is not None else ""


def valves_table(source: PaperSource, box: ValveBox | None) -> Table:
    """The valves in a box, or those of no box (None), with the wire seen at each."""
    say = source.say
    rows: list[tuple[Cell, ...]] = []
    for valve in valves_in(source.job, box):
        cable = source.job.cable_of(valve)
        rows.append(
            (
                valve_word(source, valve),
                colour_cell(valve.colour) if valve.colour else say(NOT_RECORDED),
                cable.name if cable is not None else say(NOT_RECORDED),
                say("waterproof" if valve.splice_waterproof else NOT_RECORDED),
            )
        )
    headers = (say("Valve"), say("Wire"), say("Cable"), say("Splice"))
    return Table(headers, tuple(rows), empty=say("No valve is recorded here."))


def valves_in(job: LoadedJob, box: ValveBox | None) -> list[Valve]:
    """The valves in a box, the master valve first, then by zone."""
    there = [valve for valve in job.valves if job.row(valve.box_id) is box]
    return sorted(there, key=lambda valve: (valve.kind != "master", _number(job, valve)))


def _number(job: LoadedJob, valve: Valve) -> int:
    zone = job.zone(valve.zone_id)
    return zone.number or 0 if zone is not None else 0


def valve_word(source: PaperSource, valve: Valve) -> str:
    """Such as "3 front lawn" or "Master valve"."""
    if valve.kind == "master":
        return source.say("Master valve")
    zone = source.job.zone(valve.zone_id)
    return f"{_number(source.job, valve) or '?'} {zone_title(zone)}".rstrip()


def wire_lines(job: LoadedJob, box: ValveBox | None = None) -> tuple[str, ...]:
    """The wire map as short lines: at the controller by terminal, and in each box by valve.

    With `box`, that box alone.
    """
    lines = []
    if box is None:
        for terminal in terminals_in_use(job):
            name = sentence(terminal_name(terminal))
            wire = terminal.colour or NOT_RECORDED
            lines.append(f"{name}: {wire} > {leads_to(job, terminal)}")
    for there in job.valve_boxes if box is None else (box,):
        lines.append(sentence(box_name(there)))
        for valve in valves_in(job, there):
            zone = job.zone(valve.zone_id)
            number = f"zone {zone.number}" if zone is not None else "master"
            lines.append(f"- {number}: {valve.colour or NOT_RECORDED}")
    return tuple(lines)


def wire_codes(source: PaperSource, box: ValveBox | None = None) -> list[Code]:
    """The wire map as codes, each small enough to be read from a card."""
    title = source.job.job.address.strip()
    texts = split_text(f"{title} {source.today.isoformat()}", wire_lines(source.job, box))
    caption = source.say(
        "The wire map as plain text: any phone's camera reads it, without a network. It reads with "
        "up to {damage} of the code dirty or torn."
    ).format(damage=DAMAGE)
    counted = source.say("Part {number} of {count}.")
    return [
        Code(
            text,
            caption
            if len(texts) == 1
            else f"{counted.format(number=number, count=len(texts))} {caption}",
        )
        for number, text in enumerate(texts, 1)
    ]
