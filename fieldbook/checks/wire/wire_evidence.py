"""Everything that was seen of a job's wire, and the wire map that follows from it."""

from __future__ import annotations

from fieldbook.checks.common.naming import listed
from fieldbook.checks.wire.circuits import reading_of
from fieldbook.checks.wire.ends import (
    MASTER,
    WireEnds,
    common_station,
    meant_doubles,
    wire_ends,
)
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import Terminal
from fieldbook.wiring import Evidence, Meaning, Reconciled, reconcile


def end_name(terminal: Terminal) -> str:
    """The name of a terminal's end."""
    return f"terminal {terminal.id}"


@once_per_job
def reconciled_wire(job: LoadedJob) -> Reconciled:
    """The wire map that follows from colours, tests and readings, with every doubt about it."""
    return reconcile(_evidence(job, wire_ends(job)))


def _evidence(job: LoadedJob, ends: WireEnds) -> Evidence:
    ran: dict[str, frozenset[str]] = {}
    readings: dict[str, Meaning] = {}
    doubled = meant_doubles(job)
    for terminal in job.terminals:
        tested = ran_at(job, terminal)
        if tested is not None:
            # A valve that shares a wire on purpose runs with the one whose wire it is.
            ran[end_name(terminal)] = frozenset(doubled.get(zone, zone) for zone in tested)
        reading = reading_of(job, terminal)
        if reading is not None:
            meant = shares_on_purpose(job, terminal) and reading.meaning in ("two coils", "low")
            readings[end_name(terminal)] = "sound" if meant else reading.meaning
    commons = frozenset(end_name(one) for one in job.terminals if one.role == "common")
    stations = frozenset(common_station(cable.id) for cable in job.own_commons())
    whose = {end_name(one): one.controller_id for one in job.terminals if one.controller_id}
    return Evidence(ends.box, ends.controller, ran, readings, commons, stations, _rows(job), whose)


def _rows(job: LoadedJob) -> tuple[str, ...]:
    """The zones in the order of their terminals."""
    numbered = sorted((zone.number, zone.id) for zone in job.zones if zone.number is not None)
    return tuple(zone_id for _, zone_id in numbered)


def shares_on_purpose(job: LoadedJob, terminal: Terminal) -> bool:
    """Whether two valves are meant to be on the wire of a terminal."""
    zone = job.terminal_zone(terminal)
    return zone is not None and zone.id in meant_doubles(job).values()


def station_words(job: LoadedJob, station: str) -> str:
    """A station in words: "zone 3", "the master valve", "the common"."""
    zone = job.zone(station)
    if zone is not None:
        doubled = meant_doubles(job).items()
        others = [job.zone(other) for other, first in doubled if first == station]
        numbers = [one.number for one in (zone, *others) if one is not None]
        if others:
            return f"zones {listed([str(number or '?') for number in numbers])}"
        return f"zone {zone.number}" if zone.number is not None else zone.name or "a zone"
    return "the master valve" if station == MASTER else "the common"
