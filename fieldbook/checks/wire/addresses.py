"""Decoder addresses as `fieldbook.wiring` joins them: at the decoder, and at the controller."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.checks.common.naming import address_words, decoder_name, terminal_name, zone_word
from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.ends import MASTER
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.two_wire import Decoder, TwoWirePath
from fieldbook.wiring import End, Join, join


@dataclass(frozen=True)
class AddressEnds:
    """The addresses noted at decoders and assigned at terminals.

    An end's cable is the controller that calls the address, its colour the address with the output.
    whose, at: by an end's name, its zone or terminal in words, and its cell.
    """

    box: tuple[End, ...]
    controller: tuple[End, ...]
    whose: Mapping[str, str]
    at: Mapping[str, CellRef]

    def address(self, end: End) -> str:
        """Such as "address 12" or "output 2 of address 12"."""
        number, _, output = end.colour.partition("/")
        return address_words(int(number), int(output) if output else None)


@once_per_job
def address_ends(job: LoadedJob) -> AddressEnds:
    """Every address that was entered, at either end."""
    whose: dict[str, str] = {}
    at: dict[str, CellRef] = {}
    box: list[End] = []
    controller: list[End] = []
    for decoder in job.decoders:
        if decoder.address is not None:
            caller = _path_of(job, decoder)
            end = End(f"decoder {decoder.id}", _station(decoder), caller, _key(decoder))
            zone = job.zone(decoder.zone_id)
            other = "the master valve" if decoder.on_master else decoder_name(decoder)
            whose[end.name] = zone_word(zone) if zone is not None else other
            at[end.name] = CellRef("decoder", decoder.id, "address")
            box.append(end)
    for terminal in job.terminals:
        if terminal.address is not None:
            caller = terminal.controller_id or ""
            end = End(f"terminal {terminal.id}", _meant(job, terminal), caller, _key(terminal))
            whose[end.name] = terminal_name(job, terminal)
            at[end.name] = CellRef("terminal", terminal.id, "address")
            controller.append(end)
    return AddressEnds(tuple(box), tuple(controller), whose, at)


@once_per_job
def joined_addresses(job: LoadedJob) -> Join:
    """The ends joined by address, and all that does not join."""
    ends = address_ends(job)
    return join(ends.box, ends.controller)


def _path_of(job: LoadedJob, decoder: Decoder) -> str:
    """The controller whose path a decoder is on; empty for the first controller."""
    paths = job.two_wire_paths
    only = paths[0] if len(paths) == 1 and not decoder.path_id else None
    path = job.find(TwoWirePath, decoder.path_id) or only
    return path.controller_id or "" if path is not None else ""


def _station(decoder: Decoder) -> str:
    if decoder.zone_id:
        return decoder.zone_id
    return MASTER if decoder.on_master else f"decoder {decoder.id}"


def _meant(job: LoadedJob, terminal: Terminal) -> str:
    if terminal.role == "master":
        return MASTER
    zone = job.terminal_zone(terminal)
    return zone.id if zone is not None else f"terminal {terminal.id}"


def _key(part: Decoder | Terminal) -> str:
    """An address as the key of a conductor."""
    return f"{part.address}/{part.output or ''}"
