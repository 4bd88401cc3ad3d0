"""The wire map on paper: a table with swatches, and plain text for a code that a phone reads."""

from __future__ import annotations

from fieldbook.checks.common.naming import (
    address_words,
    box_name,
    controller_name,
    sentence,
    terminal_name,
)
from fieldbook.checks.wire.wire_links import WireLink, wire_links
from fieldbook.checks.wire.zone_feeds import decoder_of, master_decoder
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, colour_cell
from fieldbook.papers.paper import Cell, Code, Table
from fieldbook.papers.printing.codes import DAMAGE, split_text
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Valve, ValveBox
from fieldbook.records.tables.zones import Zone


def terminals_table(source: PaperSource) -> Table:
    """Each terminal: its wire, where it leads, how that is known."""
    say, job = source.say, source.job
    rows: list[tuple[Cell, ...]] = [
        (
            terminal_word(source, link),
            colour_cell(link.colour) if link.colour else link.wire or say(NOT_RECORDED),
            link.leads,
            zone_title(job.terminal_zone(link.terminal)),
            link.why,
        )
        for link in wire_links(job)
    ]
    headers = (say("Terminal"), say("Wire"), say("Leads to"), say("Waters"), say("How it is known"))
    return Table(headers, tuple(rows), empty=say("No wire is recorded at the controller."))


def terminal_word(source: PaperSource, link: WireLink) -> str:
    """Such as "Common", "4" or "4 of controller B"."""
    terminal = link.terminal
    of = f" of {controller_name(link.controller)}" if link.controller is not None else ""
    if terminal.role == "zone":
        return f"{terminal.number or '?'}{of}"
    return source.say("Common" if terminal.role == "common" else "Master valve") + of


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
                colour_cell(valve.colour)
                if valve.colour
                else wire_at(source.job, valve) or say(NOT_RECORDED),
                cable.name if cable is not None else say(NOT_RECORDED),
                _splice_word(source, valve),
            )
        )
    headers = (say("Valve"), say("Wire"), say("Cable"), say("Splice"))
    return Table(headers, tuple(rows), empty=say("No valve is recorded here."))


def _splice_word(source: PaperSource, valve: Valve) -> str:
    if valve.splice_waterproof is None:
        return source.say(NOT_RECORDED)
    return source.say("waterproof" if valve.splice_waterproof else "NOT waterproof")


def valves_in(job: LoadedJob, box: ValveBox | None) -> list[Valve]:
    """The valves in a box, the master valve first, then by zone."""
    there = [valve for valve in job.valves if job.row(valve.box_id) is box]
    return sorted(there, key=lambda valve: (valve.kind != "master", _number(job, valve)))


def wire_at(job: LoadedJob, valve: Valve) -> str:
    """The colour at a valve, or the address of its decoder; empty where neither is entered."""
    decoder = decoder_of(job, valve.zone_id) if valve.zone_id else master_decoder(job)
    if decoder is not None and decoder.address is not None:
        return address_words(decoder.address, decoder.output)
    return valve.colour or ""


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
        for link in wire_links(job):
            name = sentence(terminal_name(job, link.terminal))
            lines.append(f"{name}: {link.wire or NOT_RECORDED} > {link.leads}")
    for there in job.valve_boxes if box is None else (box,):
        lines.append(sentence(box_name(there)))
        for valve in valves_in(job, there):
            zone = job.zone(valve.zone_id)
            number = f"zone {zone.number}" if zone is not None else "master"
            lines.append(f"- {number}: {wire_at(job, valve) or NOT_RECORDED}")
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
