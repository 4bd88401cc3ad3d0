"""How a valve gets its current: by a cable, a decoder, or a battery controller beside it.

A zone on a decoder has no conductor of its own, and a battery controller in the valve's box needs
no cable, so of such zones no wire colour is asked.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import Controller, OtherController, Terminal
from fieldbook.records.tables.two_wire import Decoder

Feed = Literal["cable", "decoder", "battery"]


def feed_of(job: LoadedJob, zone_id: str) -> Feed:
    """How a zone's valve gets its current; where nothing says it, as the property's others do."""
    return _feeds(job).get(zone_id) or _usual(job)


def zones_by(job: LoadedJob, feed: Feed) -> list[str]:
    """The ids of the zones that are fed so, in the order of the zones."""
    return [zone.id for zone in job.zones if feed_of(job, zone.id) == feed]


def needs_cable(job: LoadedJob) -> bool:
    """Whether any valve of the property is meant to be on a cable."""
    master = job.master_valve() is not None and not master_decoder(job)
    return not job.zones or bool(zones_by(job, "cable")) or (master and _usual(job) == "cable")


def controller_of(job: LoadedJob, terminal: Terminal) -> Controller | OtherController | None:
    """The controller that a terminal is on; None while nothing of the first one is entered."""
    if terminal.controller_id:
        return job.find(OtherController, terminal.controller_id)
    return job.controller


def is_at_valves(job: LoadedJob, controller: Controller | OtherController | None) -> bool:
    """Whether a controller lies in a valve box, beside its valves."""
    return controller is not None and job.row(controller.box_id) is not None


def decoder_of(job: LoadedJob, zone_id: str) -> Decoder | None:
    """The decoder that opens a zone's valve, if one names the zone."""
    return next((one for one in job.decoders if one.zone_id == zone_id), None)


def master_decoder(job: LoadedJob) -> Decoder | None:
    """The decoder that opens the master valve."""
    return next((one for one in job.decoders if one.on_master and not one.zone_id), None)


def _usual(job: LoadedJob) -> Feed:
    if is_at_valves(job, job.controller):
        return "battery"
    return "decoder" if job.two_wire_paths and not job.cables else "cable"


@once_per_job
def _feeds(job: LoadedJob) -> Mapping[str, Feed]:
    found: dict[str, Feed] = {}
    for terminal in job.terminals:
        zone = job.terminal_zone(terminal)
        if zone is None:
            continue
        if terminal.address is not None:
            found[zone.id] = "decoder"
        elif is_at_valves(job, controller_of(job, terminal)):
            found[zone.id] = "battery"
        elif terminal.colour:
            found[zone.id] = "cable"
    found |= {one.zone_id: "decoder" for one in job.decoders if one.zone_id}
    return found
