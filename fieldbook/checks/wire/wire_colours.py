"""Flags on colours that lead to the wrong terminal, to two places, or to none.

A wire is flagged when what was seen at its two ends disagrees. While a cable has no colour at all
at one end, that end is merely not entered yet, and nothing is flagged.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from fieldbook.checks.common.naming import cable_name, is_or_are, listed, sentence, short, zone_name
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked, zone_rows
from fieldbook.checks.wire.conductors import check_conductors, unlisted
from fieldbook.checks.wire.decoders import check_decoders, decoder_lacks
from fieldbook.checks.wire.ends import (
    MASTER,
    WireEnds,
    common_station,
    has_terminal,
    is_common,
    joined_wires,
    meant_doubles,
    terminal_cell,
    valve_cell,
    wire_ends,
)
from fieldbook.checks.wire.several_controllers import check_controllers
from fieldbook.checks.wire.wire_joins import crossed_wires, doubled_ends, misread_ends
from fieldbook.checks.wire.zone_feeds import feed_of, master_decoder, needs_cable, zones_by
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable, Valve
from fieldbook.records.tables.zones import Zone
from fieldbook.wiring import End, Join, Side


def check_wiring(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each zone's wire and each cable's common: flags on the ends, then on the cables.

    `explained` collects ends that a flag already accounts for, so that one mistake gives one flag.
    """
    ends, joined = wire_ends(job), joined_wires(job)
    for zone in job.zones:
        yield Looked(f"wire of {zone_name(zone)}", zone_rows(job, zone), tuple(_lacks(job, zone)))
    yield from _without_common(job)
    yield from _master(job)
    for cable in job.own_commons():
        at = terminal_cell(job, common_station(cable.id)) or CellRef("cable", cable.id, "name")
        rows = frozenset({cable.id, at.row_id})
        yield Looked(f"common of {cable_name(cable)}", rows, tuple(_common_lacks(job, cable, at)))
    yield from check_controllers(job)
    yield from check_decoders(job)
    explained: set[End] = set()
    yield from doubled_ends(job, ends, joined, explained)
    for group in joined.crossings:
        yield crossed_wires(job, ends, group)
    yield from misread_ends(job, ends, joined.misread)
    yield from _commons(job, ends)
    misread = {end for pair in joined.misread for end in (pair.box, pair.controller)}
    unlisted_ends = unlisted(job, ends)
    yield from check_conductors(job, ends, [end for end in unlisted_ends if end not in misread])
    explained.update(unlisted_ends)
    yield from _one_end(job, ends, joined, explained)
    yield from _no_cable(ends)


def _lacks(job: LoadedJob, zone: Zone) -> Iterator[Missing]:
    """What is not entered of a zone's wire: its colour, or decoder, at both ends, its splice."""
    name = zone_name(zone)
    at, feed = valve_cell(job, zone.id), feed_of(job, zone.id)
    valve = job.valve_of(zone.id)
    if feed == "cable" and at is not None and (valve is None or not valve.colour):
        yield Missing(f"the wire at the valve of {name}", at)
    if feed == "decoder":
        yield from decoder_lacks(job, zone)
    if at is not None and (valve is None or valve.splice_waterproof is None):
        cell = replace(at, column="splice_waterproof")
        yield Missing(f"the splice at the valve of {name}", cell)
    if not has_terminal(job, zone.id):
        cell = terminal_cell(job, zone.id) or CellRef("zone", zone.id, "number")
        what = "the address at" if feed == "decoder" else "the wire under"
        yield Missing(f"{what} the terminal of {name}", cell)


def _without_common(job: LoadedJob) -> Iterator[Looked]:
    """Zones without a cable that brings a common of its own to the controller."""
    if job.zones and not job.own_commons() and needs_cable(job):
        missing = Missing("the cable", CellRef("cable", "", "add cable"))
        if job.cables:
            at = CellRef("cable", job.cables[0].id, "common_with")
            if job.row(job.cables[0].fed_from) is not None:
                at = replace(at, column="fed_from")
            missing = Missing("the cable that brings the common to the controller", at)
        yield Looked("common of the valves", frozenset({missing.at.row_id}), (missing,))


def _master(job: LoadedJob) -> Iterator[Looked]:
    """The master valve's wire, and what is not entered of it."""
    valve, at = job.master_valve(), terminal_cell(job, MASTER)
    if valve is None or at is None or master_decoder(job) is not None:
        return
    lacks = []
    if not valve.colour:
        cell = CellRef("valve", valve.id, "colour")
        lacks.append(Missing("the wire at the master valve", cell))
    if not has_terminal(job, MASTER):
        lacks.append(Missing("the wire under the terminal of the master valve", at))
    yield Looked("wire of the master valve", frozenset({valve.id, at.row_id}), tuple(lacks))


def _common_lacks(job: LoadedJob, cable: Cable, at: CellRef) -> Iterator[Missing]:
    """What is not entered of a cable's common."""
    name = cable_name(cable)
    if not cable.common_colour:
        yield Missing(f"the common of {name}", CellRef("cable", cable.id, "common_colour"))
    if cable.common_waterproof is None:
        cell = CellRef("cable", cable.id, "common_waterproof")
        yield Missing(f"the common splice of {name}", cell)
    if not has_terminal(job, common_station(cable.id)):
        yield Missing(f"the common terminal of {name}", at)


def _commons(job: LoadedJob, ends: WireEnds) -> Iterator[Finding]:
    """A cable whose common is not entered at an end, once its wires are under terminals."""
    have = {end.cable for end in ends.controller if is_common(end)}
    wired = {end.cable for end in ends.controller}
    for cable in job.own_commons():
        name = cable_name(cable)
        if cable.id in wired and not cable.common_colour and _all_at_box(job, ends):
            yield Finding(
                "no common at the box",
                "stop",
                f"Wires of {name} are under terminals, but its common at the box is not entered.",
                f"See which conductor joins the valves' other leads and enter it for {name} at "
                "the valve boxes.",
                CellRef("cable", cable.id, "common_colour"),
            )
        if cable.id in wired - have and _all_under_terminals(job, ends, cable):
            yield Finding(
                "no common at the controller",
                "stop",
                f"Wires of {name} are under terminals, but no conductor is under its common "
                "terminal.",
                f"Put the common of {name} under the common terminal and enter its colour at the "
                "controller.",
                terminal_cell(job, common_station(cable.id)) or CellRef("cable", cable.id, "name"),
            )


def _all_at_box(job: LoadedJob, ends: WireEnds) -> bool:
    """Whether the boxes are entered but for a common: until then it is merely not entered."""
    entered = {end.station for end in ends.box} | set(meant_doubles(job))
    return all(zone_id in entered for zone_id in zones_by(job, "cable"))


def _all_under_terminals(job: LoadedJob, ends: WireEnds, cable: Cable) -> bool:
    """Whether all other wires of a cable are entered at the controller."""
    elsewhere = {end.station for end in ends.box if end.cable != cable.id}
    zones = [zone_id for zone_id in zones_by(job, "cable") if zone_id not in elsewhere]
    return all(has_terminal(job, zone_id) for zone_id in zones)


def _one_end(
    job: LoadedJob, ends: WireEnds, joined: Join, explained: set[End]
) -> Iterator[Finding]:
    """Colours at one end only, where the other end is entered or nothing is meant for it.

    While the other end is not entered, it is not checked, and nothing is wrong.
    """
    at_box = {end.cable for end in ends.box if not is_common(end)}
    at_controller = {end.cable for end in ends.controller if not is_common(end)}
    halves: tuple[tuple[Side, tuple[End, ...], set[str]], ...] = (
        ("box", joined.box_only, at_controller),
        ("controller", joined.controller_only, at_box),
    )
    for side, lone, other_side in halves:
        left = [
            end
            for end in lone
            if end.cable in other_side
            and end not in explained
            and not is_common(end)
            and not _other_end_open(job, side, end)
        ]
        for cable_id in dict.fromkeys(end.cable for end in left):
            yield _lone(job, ends, side, [end for end in left if end.cable == cable_id])


def _other_end_open(job: LoadedJob, side: Side, end: End) -> bool:
    """Whether the station of an end has a part at the other side that is not entered yet."""
    if side == "box":
        return terminal_cell(job, end.station) is not None and not has_terminal(job, end.station)
    at = valve_cell(job, end.station)
    valve = job.row(at.row_id) if at is not None else None
    return at is not None and not (isinstance(valve, Valve) and valve.colour)


def _lone(job: LoadedJob, ends: WireEnds, side: Side, lone: Sequence[End]) -> Finding:
    """The colours that one cable has at one end only, in one flag.

    The flag shrinks while the other end is being entered.
    """
    words = listed([f"{short(end.colour)} of {ends.whose[end.name]}" for end in lone])
    if side == "controller":
        words = listed([f"{short(end.colour)} under {ends.whose[end.name]}" for end in lone])
    cable = job.row(lone[0].cable)
    of = f" in {cable_name(cable)}" if isinstance(cable, Cable) and len(job.cables) > 1 else ""
    verb = is_or_are(len(lone))
    if side == "box":
        at = terminal_cell(job, lone[0].station) or ends.at[lone[0].name]
        said = f"{sentence(words)}{of} {verb} under no terminal."
        mend = "Find that conductor at the controller and enter its colour under its terminal."
        code = "valve without terminal"
    else:
        at = valve_cell(job, lone[0].station) or ends.at[lone[0].name]
        said = f"{sentence(words)}{of} {verb} on no valve."
        mend = "Find that conductor at the valve boxes and enter its colour for its valve."
        code = "terminal without valve"
    return Finding(code, "fix", said, mend, at)


def _no_cable(ends: WireEnds) -> Iterator[Finding]:
    """Colours without a cable in a job with several cables: they can't be joined."""
    if ends.no_cable:
        words, at = ends.no_cable[0]
        whose = listed([word for word, _ in ends.no_cable])
        yield Finding(
            "wire of no cable",
            "fix",
            f"The colour of {whose} is entered, but not the cable it belongs to.",
            f"Enter the cable of {words}.",
            at,
        )
