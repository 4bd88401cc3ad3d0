"""A zone that does not run: what its terminal was tested for, and what the wire map says of it."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.checks.wire.circuits import expected_of, is_latching, reading_of, valve_behind
from fieldbook.checks.wire.wire_evidence import end_name, reconciled_wire
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.diagnosis.dead_zone import DeadReadings, ohms_shown
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.zones import Zone
from fieldbook.wiring import judge


def terminal_of(job: LoadedJob, zone: Zone) -> Terminal | None:
    """The terminal that is meant for a zone; None where none is entered."""
    return next((one for one in job.terminals if job.terminal_zone(one) is zone), None)


def ohms_at_controller(job: LoadedJob, zone: Zone, ohm: float) -> str:
    """What ohms read at the controller today show, by the reading of day 1 if there is one."""
    terminal = terminal_of(job, zone)
    if terminal is None:
        return ohms_shown(judge(ohm).meaning)
    day_1, latching = amount(terminal, "day_1_ohm"), is_latching(job, valve_behind(job, terminal))
    return ohms_shown(judge(ohm, day_1, expected_of(job, terminal), latching=latching).meaning)


def ohms_of_coil(job: LoadedJob, zone: Zone, ohm: float) -> str:
    """What ohms of the coil alone show, by those of day 1 if they are entered."""
    valve = job.valve_of(zone.id)
    latching = is_latching(job, valve)
    return ohms_shown(judge(ohm, amount(valve, "coil_ohm"), latching=latching).meaning)


def dead_readings(job: LoadedJob, zone: Zone, shown: Mapping[str, str]) -> DeadReadings:
    """What was typed of a zone that does not run, with the record's own tests and its wire map.

    A test that is typed counts; one of the record counts where none is typed.
    """
    terminal = terminal_of(job, zone)
    if terminal is None:
        return DeadReadings(dict(shown))
    found: dict[str, str] = {}
    reading, ran = reading_of(job, terminal), ran_at(job, terminal)
    # The reading of day 1 is from before it stopped: it is what later ones are judged by.
    if reading is not None and terminal.now_ohm is not None:
        found["ohms"] = ohms_shown(reading.meaning)
    # A test in which the zone itself ran is from before it stopped: it says nothing of today.
    if ran is not None and zone.id not in ran:
        found["what_ran"] = "another" if ran else "nothing"
    name = end_name(terminal)
    reconciled = reconciled_wire(job)
    kinds = {cause.kind for cause in reconciled.causes if name in cause.terminals}
    doubt = reconciled.doubt_of(name)
    elsewhere = None
    if doubt is not None:
        right = frozenset({zone.id})
        elsewhere = sum(one.chance for one in doubt.explanations if one.map.get(name) != right)
    return DeadReadings({**found, **shown}, elsewhere, "common" in kinds, "supply" in kinds)
