"""All that was seen of the job's wire, handed to `wiring`, and what it makes of it."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.checks.wire.circuits import reading_of
from fieldbook.checks.wire.ends import MASTER, WireEnds, wire_ends
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import Terminal
from fieldbook.wiring import Evidence, Reconciled, reconcile


@dataclass(frozen=True)
class WireStory:
    """The ends by their names, what was seen of them, and what can be said of the wire."""

    ends: WireEnds
    evidence: Evidence
    found: Reconciled


def end_name(terminal: Terminal) -> str:
    """The name of a terminal's end."""
    return f"terminal {terminal.id}"


@once_per_job
def wire_story(job: LoadedJob) -> WireStory:
    """The wire of a job, worked out once."""
    ends = wire_ends(job)
    evidence = _evidence(job, ends)
    return WireStory(ends, evidence, reconcile(evidence))


def ran_of(job: LoadedJob, terminal: Terminal) -> frozenset[str] | None:
    """The stations that ran as a terminal was energised; None while it was not."""
    if terminal.role == "common":
        return None
    ran = {one for one in (terminal.ran_zone_id, terminal.ran_also_id) if job.zone(one)}
    if ran:
        return frozenset(str(one) for one in ran)
    return frozenset() if terminal.ran_nothing else None


def _evidence(job: LoadedJob, ends: WireEnds) -> Evidence:
    ran, readings = {}, {}
    for terminal in job.terminals:
        tested = ran_of(job, terminal)
        if tested is not None:
            ran[end_name(terminal)] = tested
        reading = reading_of(job, terminal)
        if reading is not None:
            readings[end_name(terminal)] = reading.meaning
    commons = frozenset(end_name(one) for one in job.terminals if one.role == "common")
    return Evidence(ends.box, ends.controller, ran, readings, commons)


def station_words(job: LoadedJob, station: str) -> str:
    """A station in words: "zone 3", "the master valve", "the common"."""
    zone = job.zone(station)
    if zone is not None:
        return f"zone {zone.number}" if zone.number is not None else zone.name or "a zone"
    return "the master valve" if station == MASTER else "the common"
