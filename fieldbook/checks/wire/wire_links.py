"""Where each terminal leads, how sure that is, and why: the rows of the wire map as data.

A link is proven where a test shows it, unproven by colours or addresses alone, wrong where tests
show that the entries do not hold, in doubt where several things could explain what was seen, and
open while its other end is not entered.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from fieldbook.checks.common.naming import address_words, short, zone_word
from fieldbook.checks.wire.addresses import joined_addresses
from fieldbook.checks.wire.circuits import reading_of
from fieldbook.checks.wire.ends import MASTER, station
from fieldbook.checks.wire.wire_evidence import end_name, reconciled_wire, station_words
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.checks.wire.zone_feeds import controller_of, is_at_valves
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import OtherController, Terminal
from fieldbook.wiring import LIKELY, Join

Status = Literal["proven", "unproven", "wrong", "doubt", "open"]
_MOST_NAMED = 3
_WRONG = "wrong, shown by tests"


@dataclass(frozen=True)
class WireLink:
    """One terminal: what is under it, where that leads, how sure it is, and the evidence.

    wire: the colour, the address, or "no cable" at a battery controller beside its valves; empty
    while nothing is entered. controller: the other controller it is on; None for the first.
    leads: such as "zone 3", "2 or 3?" in doubt, "-" where it is not known.
    """

    terminal: Terminal
    controller: OtherController | None
    wire: str
    leads: str
    status: Status
    why: str

    @property
    def colour(self) -> str | None:
        """The conductor's colour, for a swatch; None of a decoder or where there is no cable."""
        return self.terminal.colour if self.terminal.address is None else None


@once_per_job
def wire_links(job: LoadedJob) -> tuple[WireLink, ...]:
    """A link for each terminal of which anything is entered, controller by controller."""
    controllers = [None, *job.other_controllers]
    order = {"common": 0, "master": 1}
    found: list[WireLink] = []
    for controller in controllers:
        held = controller.id if controller is not None else None
        terminals = [one for one in job.terminals if (one.controller_id or None) == held]
        terminals.sort(key=lambda one: (order.get(one.role, 2), one.number or 0, one.id))
        found += [link_of(job, one) for one in terminals if _is_shown(job, one)]
    return tuple(found)


def _is_shown(job: LoadedJob, terminal: Terminal) -> bool:
    beside = is_at_valves(job, controller_of(job, terminal)) and job.terminal_zone(terminal)
    return bool(terminal.colour or terminal.address or terminal.ran_zone_id or beside)


def link_of(job: LoadedJob, terminal: Terminal) -> WireLink:
    """The link of one terminal."""
    controller = job.find(OtherController, terminal.controller_id)
    if terminal.address is not None:
        wire = address_words(terminal.address, terminal.output)
        return WireLink(terminal, controller, wire, *_by_address(job, terminal))
    if is_at_valves(job, controller_of(job, terminal)):
        return WireLink(terminal, controller, "no cable", *_beside(job, terminal))
    wire = short(terminal.colour or "")
    leads = leads_to(job, terminal)
    return WireLink(terminal, controller, wire, leads, *_by_colour(job, terminal))


def _by_address(job: LoadedJob, terminal: Terminal) -> tuple[str, Status, str]:
    """Where an assigned address leads: to the zone whose decoder has it."""
    joined, name = joined_addresses(job), end_name(terminal)
    ran = ran_at(job, terminal)
    wire = next((one for one in joined.wires if one.controller.name == name), None)
    if wire is None:
        return _ran_words(job, ran) or "-", *_without_decoder(joined, name)
    zone = job.zone(wire.box.station)
    leads = "the master valve" if wire.box.station == MASTER else zone_word(zone)
    if ran is None:
        status: Status = "doubt" if wire.crossed else "unproven"
        return leads, status, "addresses at both ends, not tested"
    if ran == frozenset({wire.box.station}) and not wire.crossed:
        return leads, "proven", "addresses at both ends, seen to run"
    return _ran_words(job, ran) or "nothing ran", "wrong", _WRONG


def _without_decoder(joined: Join, name: str) -> tuple[Status, str]:
    """How sure an address is that does not join one decoder: it is doubled, or open."""
    doubled = {end.name for each in joined.doubles for end in each.ends}
    if name in doubled | {pair.controller.name for pair in joined.misread}:
        return "doubt", "in doubt, see the flag"
    return "open", "its decoder is not entered yet"


def _beside(job: LoadedJob, terminal: Terminal) -> tuple[str, Status, str]:
    """Where a terminal of a battery controller leads: to the valve beside it."""
    zone, ran = job.terminal_zone(terminal), ran_at(job, terminal)
    leads = zone_word(zone) if zone is not None else "-"
    if ran is None:
        status: Status = "unproven" if zone is not None else "open"
        return leads, status, "beside its valves, not tested"
    if zone is not None and ran == frozenset({zone.id}):
        return leads, "proven", "beside its valves, seen to run"
    return _ran_words(job, ran) or "nothing ran", "wrong", _WRONG


def _ran_words(job: LoadedJob, ran: frozenset[str] | None) -> str:
    return " + ".join(station_words(job, one) for one in sorted(ran or ()))


def _by_colour(job: LoadedJob, terminal: Terminal) -> tuple[Status, str]:
    """How sure a terminal's conductor is, and the evidence for it."""
    found, name = reconciled_wire(job), end_name(terminal)
    link, doubt = found.link_of(name), found.doubt_of(name)
    if link is None and doubt is None:
        return "open", "its other end is not entered yet"
    if link is not None:
        status: Status = "proven" if "ran" in link.basis else "unproven"
        return status, ", ".join(_evidence(job, terminal, link.basis))
    assert doubt is not None
    if not doubt.settled:
        return "doubt", "in doubt, see below"
    meant = frozenset({station(job, terminal, job.cable_of(terminal))})
    if doubt.explanations[0].map.get(name, meant) == meant:
        return "proven", "shown by tests"
    return "wrong", _WRONG


def _evidence(job: LoadedJob, terminal: Terminal, basis: tuple[str, ...]) -> Iterator[str]:
    if "colours" in basis:
        yield "colours at both ends"
    if "ran" in basis:
        yield "seen to run"
    elif terminal.role != "common":
        yield "not tested"
    reading = reading_of(job, terminal)
    if reading is not None and "ohms" in basis:
        yield f"{reading.ohm:.1f} ohm"


def leads_to(job: LoadedJob, terminal: Terminal) -> str:
    """Where a terminal's conductor leads: "zone 3", "2 or 3?" in doubt, "-" if not known."""
    found = reconciled_wire(job)
    name = end_name(terminal)
    link = found.link_of(name)
    if link is not None:
        return " + ".join(station_words(job, station) for station in sorted(link.stations))
    doubt = found.doubt_of(name)
    if doubt is None:
        return "-"
    could_be = doubt.could_be(name, LIKELY)
    stations = [sorted(_short(job, station) for station in led) for led in could_be]
    could = sorted(" + ".join(words) for words in stations)
    word = " or ".join(words or "none" for words in could[:_MOST_NAMED])
    if could[_MOST_NAMED:]:
        word += " or other"
    zone = "zone " if len(could) == 1 and word.isdecimal() else ""
    return f"{zone}{word}{'' if doubt.settled else '?'}"


def _short(job: LoadedJob, station: str) -> str:
    """A station in as few letters as possible: the number of its zone, else its words."""
    zone = job.zone(station)
    return str(zone.number) if zone is not None and zone.number else station_words(job, station)
