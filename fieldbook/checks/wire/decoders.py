"""Flags on two-wire systems: decoder addresses at both ends, the path, its joints and grounding.

The idea is that of the wire colours: the address is seen on the decoder in its box, and assigned to
a terminal at the controller, by different hands on different days. `fieldbook.wiring.join` joins
the two by address; a test shows which zone a terminal runs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.checks.common.naming import (
    address_words,
    box_word,
    decoder_name,
    is_or_are,
    listed,
    path_name,
    sentence,
    terminal_name,
    zone_name,
    zone_word,
)
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.checks.wire.addresses import AddressEnds, address_ends, joined_addresses
from fieldbook.checks.wire.ends import MASTER
from fieldbook.checks.wire.two_wire_path import check_path
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.checks.wire.zone_feeds import decoder_of, feed_of
from fieldbook.records.ids import valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.two_wire import Decoder
from fieldbook.records.tables.wires import ValveBox
from fieldbook.records.tables.zones import Zone
from fieldbook.wiring import Double, End, Join, Wire, closed


def check_decoders(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each path, then each decoder's address at both ends."""
    for path in job.two_wire_paths:
        yield from check_path(job, path)
    ends, joined = address_ends(job), joined_addresses(job)
    for decoder in job.decoders:
        yield from _itself(decoder)
    for double in joined.doubles:
        yield _twice(job, ends, double)
    for group in joined.crossings:
        yield _crossed(job, ends, group)
    for pair in joined.misread:
        yield _disagree(job, ends, pair.box, pair.controller)
    yield from _one_end(job, ends, joined)
    yield from _in_two_boxes(job)
    yield from _tests(job, joined)


def feed_lacks(job: LoadedJob, zone: Zone) -> Iterator[Missing]:
    """What is not entered at the boxes of the wire of a zone, or of its decoder."""
    feed, valve = feed_of(job, zone.id), job.valve_of(zone.id)
    if feed == "cable" and (valve is None or not valve.colour):
        row_id = valve.id if valve is not None else valve_id(zone.id)
        yield Missing(f"the wire of {zone_name(zone)}", CellRef("valve", row_id, "colour"))
    if feed == "decoder":
        yield from decoder_lacks(job, zone)


def decoder_lacks(job: LoadedJob, zone: Zone) -> Iterator[Missing]:
    """What is not entered of the decoder of a zone that is on a two-wire path."""
    decoder = decoder_of(job, zone.id)
    if decoder is None:
        at = CellRef("decoder", "", "add decoder")
        yield Missing(f"the decoder of {zone_name(zone)}", at)
    elif decoder.address is None:
        at = CellRef("decoder", decoder.id, "address")
        yield Missing(f"the address of the decoder of {zone_name(zone)}", at)


def _itself(decoder: Decoder) -> Iterator[Finding]:
    """A decoder that serves nothing, or is not joined as it should be."""
    name = sentence(decoder_name(decoder))
    if decoder.address is not None and not decoder.zone_id and not decoder.on_master:
        yield Finding(
            "decoder without zone",
            "fix",
            f"{name} is noted in a box, but not which zone's valve is on it.",
            "Follow its leads to the valve, and enter the zone at the valve boxes.",
            CellRef("decoder", decoder.id, "zone_id"),
        )
    if decoder.like_to_like is False:
        yield Finding(
            "decoder joined crosswise",
            "fix",
            f"{name} has its leads on the other wire of the pair each.",
            "Power off: join each lead to the wire that its sheet names, then tick Like to like.",
            CellRef("decoder", decoder.id, "like_to_like"),
            source="Common practice, no source; the decoder's own sheet decides.",
        )
    if decoder.joins_waterproof is False:
        yield Finding(
            "splice not waterproof",
            "fix",
            f"The joints of {decoder_name(decoder)} are not waterproof.",
            "Remake them with filled connectors listed for direct burial, then tick it.",
            CellRef("decoder", decoder.id, "joins_waterproof"),
            source="NEC 110.14(B): listed for direct burial; UL 486D sealed connectors.",
        )


def _twice(job: LoadedJob, ends: AddressEnds, double: Double) -> Finding:
    """One address at two decoders, or assigned to two terminals."""
    words = listed([ends.whose[end.name] for end in double.ends])
    address = sentence(ends.address(double.ends[0]))
    at = ends.at[double.ends[-1].name]
    if double.side == "box":
        return Finding(
            "address twice in the boxes",
            "stop",
            f"{address} is noted at the decoders of {words}: both would open together.",
            "Read both labels again and correct one, or give one decoder a free address.",
            at,
        )
    return Finding(
        "address assigned twice",
        "stop",
        f"{address} is assigned to {words}: both would open one valve.",
        "See at the controller which of them has it, and correct the other.",
        at,
    )


def _crossed(job: LoadedJob, ends: AddressEnds, group: Sequence[Wire]) -> Finding:
    """Addresses that are assigned to terminals of other zones than their decoders serve."""
    seen = [
        f"{ends.address(wire.box)} is at {ends.whose[wire.box.name]} and assigned to "
        f"{ends.whose[wire.controller.name]}"
        for wire in group[:2]
    ]
    how = "exchanged: " if closed(group) and len(group) == 2 else ""
    whose = ends.whose[group[0].controller.name]
    mend = f"Run {whose} and see what opens: then correct the assignment, or the address noted."
    shown = {_shown(job, wire) for wire in group}
    if shown == {"box"}:
        mend = "Tests show that the addresses noted are right: correct the assignment."
    elif shown == {"controller"}:
        mend = "Tests show that each runs its own zone: correct the addresses noted in the boxes."
    said = f"Addresses look {how}{'; '.join(seen)}." if how else f"{sentence('; '.join(seen))}."
    if len(f"{said} {mend}") > 200:
        said = f"{sentence(seen[0])}."
    return Finding("addresses crossed", "stop", said, mend, ends.at[group[0].controller.name])


def _shown(job: LoadedJob, wire: Wire) -> str:
    """Which end of a crossed address a test bears out; empty where none was made."""
    ran = _ran_at(job, wire.controller)
    if ran == frozenset({wire.box.station}):
        return "box"
    return "controller" if ran == frozenset({wire.controller.station}) else ""


def _ran_at(job: LoadedJob, end: End) -> frozenset[str] | None:
    terminal = job.row(end.name.removeprefix("terminal "))
    return ran_at(job, terminal) if isinstance(terminal, Terminal) else None


def _disagree(job: LoadedJob, ends: AddressEnds, box: End, controller: End) -> Finding:
    return Finding(
        "addresses disagree",
        "stop",
        f"The decoder of {ends.whose[box.name]} has {ends.address(box)}, but "
        f"{ends.whose[controller.name]} is assigned {ends.address(controller)}.",
        "Read the decoder's label again, and the assignment, and correct the one that is wrong.",
        ends.at[controller.name],
    )


def _one_end(job: LoadedJob, ends: AddressEnds, joined: Join) -> Iterator[Finding]:
    """Addresses at one end only, while the other end of that zone is entered or does not exist."""
    waiting = {end.station for end in ends.controller} | _terminals_open(job)
    lone = [end for end in joined.box_only if ends.controller and end.station not in waiting]
    if lone:
        yield Finding(
            "address never assigned",
            "fix",
            f"{sentence(_addresses(ends, lone))} {is_or_are(len(lone))} assigned to no terminal.",
            "Assign it at the controller, and enter it at the terminal of its zone.",
            ends.at[lone[0].name],
        )
    noted, all_noted = {end.station for end in ends.box}, _all_noted(job)
    left = [end for end in joined.controller_only if end.station not in noted]
    left = [end for end in left if all_noted or job.zone(end.station) is None]
    if left and ends.box:
        yield Finding(
            "address on no decoder",
            "fix",
            f"{sentence(_addresses(ends, left))} {is_or_are(len(left))} on no decoder noted.",
            "Find that decoder in the boxes and enter it, or correct the address.",
            ends.at[left[0].name],
        )


def _addresses(ends: AddressEnds, lone: Sequence[End]) -> str:
    return listed([f"{ends.address(end)} of {ends.whose[end.name]}" for end in lone], 4)


def _terminals_open(job: LoadedJob) -> set[str]:
    """Zones whose terminal has no address yet: not entered is not wrong."""
    found = {zone.id for zone in job.zones}
    for terminal in job.terminals:
        zone = job.terminal_zone(terminal)
        if zone is not None and terminal.address is not None:
            found.discard(zone.id)
    # With as many terminals assigned as there are decoders, none is left to be entered.
    assigned = sum(one.address is not None for one in job.terminals)
    return set() if assigned >= len(job.decoders) else found


def _all_noted(job: LoadedJob) -> bool:
    """Whether as many decoders are noted as terminals have an address."""
    noted = sum(one.address is not None for one in job.decoders)
    return noted >= sum(one.address is not None for one in job.terminals)


def _in_two_boxes(job: LoadedJob) -> Iterator[Finding]:
    """Outputs of one address in two boxes: a decoder lies in one."""
    boxes: dict[tuple[str, int], dict[str, Decoder]] = {}
    for decoder in job.decoders:
        if decoder.address is not None and decoder.box_id:
            key = (decoder.path_id or "", decoder.address)
            boxes.setdefault(key, {}).setdefault(decoder.box_id, decoder)
    for (_, address), held in boxes.items():
        rows = [row for row in map(job.row, held) if isinstance(row, ValveBox)]
        decoders = list(held.values())
        if len(rows) > 1 and len({one.output for one in decoders}) > 1:
            yield Finding(
                "decoder in two boxes",
                "fix",
                f"Outputs of address {address} are noted in {listed([box_word(b) for b in rows])}: "
                "one decoder lies in one box.",
                "Read both labels again and correct the address, or the box.",
                CellRef("decoder", decoders[-1].id, "address"),
            )


def _tests(job: LoadedJob, joined: Join) -> Iterator[Finding]:
    """What ran at terminals with an address: other zones than the decoder serves, or nothing."""
    by_address = {wire.controller.name: wire for wire in joined.wires}
    silent = []
    for terminal in job.terminals:
        ran = ran_at(job, terminal) if terminal.address is not None else None
        if ran is None:
            continue
        if not ran:
            silent.append(terminal)
            continue
        wire = by_address.get(f"terminal {terminal.id}")
        if wire is not None and not wire.crossed and ran != frozenset({wire.box.station}):
            yield _other_zone(job, terminal, ran, wire.box.station)
    yield from _silent(job, silent)


def _other_zone(job: LoadedJob, terminal: Terminal, ran: frozenset[str], meant: str) -> Finding:
    words = listed([zone_word(job.zone(one)) for one in sorted(ran)])
    address = address_words(terminal.address, terminal.output)
    own = "the master valve" if meant == MASTER else zone_word(job.zone(meant))
    return Finding(
        "ran another zone",
        "stop",
        f"{sentence(terminal_name(job, terminal))} was run and {words} ran, but {address} is noted "
        f"at the decoder of {own}.",
        "Look whether the zones of two decoders, or their addresses, were exchanged in the boxes.",
        CellRef("terminal", terminal.id, "address"),
    )


def _silent(job: LoadedJob, silent: Sequence[Terminal]) -> Iterator[Finding]:
    """Terminals at which nothing ran: one decoder, or what they share."""
    tested = [one for one in job.terminals if one.address is not None and ran_at(job, one)]
    if len(silent) > 1 and not tested:
        which = listed([str(one.number or "?") for one in silent], 4)
        path = job.two_wire_paths[0] if len(job.two_wire_paths) == 1 else None
        yield Finding(
            "path dead",
            "fix",
            f"Nothing ran at terminals {which}: likely {path_name(path)} is broken or shorted near "
            "the controller.",
            "Measure volts between the pair at the controller, then box by box: they end where it "
            "is broken.",
            CellRef("terminal", silent[0].id, "ran_zone_id"),
        )
        return
    for terminal in silent:
        address = address_words(terminal.address, terminal.output)
        yield Finding(
            "nothing ran",
            "fix",
            f"{sentence(terminal_name(job, terminal))} called {address} and nothing ran.",
            "At its box: measure the pair's volts, look at the joints; power off, read the coil "
            "alone.",
            CellRef("terminal", terminal.id, "ran_zone_id"),
        )
