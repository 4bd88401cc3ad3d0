"""A zone that runs, as its diagnosis takes it: the network with the part that each link plays."""

from __future__ import annotations

from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.water.networks import SERVICE, JobNetwork, network_of
from fieldbook.checks.water.zone_flow import nozzle_pressure_psi
from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone


def parts_of(job: LoadedJob, zone: Zone) -> ZoneParts:
    """The zone running alone. Raises MissingError and NetworkError as `network_of` does."""
    laid = network_of(job, (zone,))
    network, word = laid.network, zone_word(zone)
    names = [link.name for link in network.links]
    valve = f"valve of {word}"
    # The tap is at the point of connection: behind the service line where that is laid.
    gauge = f"after {SERVICE}" if SERVICE in names else network.source
    laterals = tuple(name for name, run in laid.runs.items() if run.zone_id == zone.id)
    before = _before(laid, gauge, valve)
    rated = {}
    for name, rows in laid.heads.items():
        psi = nozzle_pressure_psi(rows.head, zone)
        if psi is not None:
            rated[name] = psi
    return ZoneParts(
        network,
        gauge,
        before,
        any(name.startswith("backflow") for name in before),
        valve,
        laterals,
        tuple(laid.heads),
        _named(names, f"filter of {word}"),
        _named(names, f"regulator of {word}"),
        rated,
    )


def _before(laid: JobNetwork, gauge: str, valve: str) -> tuple[str, ...]:
    """The links from the tap to the zone's valve, in the order of the water."""
    arriving = {link.end: link for link in laid.network.links}
    at = next(link.start for link in laid.network.links if link.name == valve)
    found: list[str] = []
    while at != gauge and at in arriving:
        found.append(arriving[at].name)
        at = arriving[at].start
    return tuple(reversed(found))


def _named(names: list[str], name: str) -> str | None:
    return name if name in names else None


def head_numbered(parts: ZoneParts, zone: Zone, number: int) -> str | None:
    """The head at the end of a run of this number, by its name; None where there is none."""
    name = f"head {number} of {zone_word(zone)}"
    return name if name in parts.heads else None


def run_numbered(parts: ZoneParts, zone: Zone, number: int) -> str | None:
    """The lateral run of this number, by its name; None where there is none."""
    name = f"run {number} of {zone_word(zone)}"
    return name if name in parts.laterals else None


def short_place(zone: Zone, place: str) -> str:
    """A place without its zone: "head 3" for "head 3 of zone 1"."""
    return place.removesuffix(f" of {zone_word(zone)}")
