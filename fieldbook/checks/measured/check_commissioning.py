"""Flags on a start-up: zones that do not do what was worked out, and what its list found wrong."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.audit import GALLONS_PER_FT3, gauge_error_psi
from fieldbook.checks.common.naming import fitting, quantity, run_name, sentence, zone_name
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked
from fieldbook.checks.measured.compared import PressureCompared, ZoneCompared, compared
from fieldbook.checks.measured.flow_readings import newest_first
from fieldbook.checks.measured.measured_words import within
from fieldbook.checks.water.head_pressures import law_source
from fieldbook.records.base import facts_of
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.commissioning import Commissioning
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.units import FLOW, PRESSURE

START_UP_TICKS = (
    "meter_still",
    "flushed",
    "heads_at_pressure",
    "radius_set",
    "none_on_paving",
    "sensors_work",
    "no_leaks",
    "user_taught",
    "valves_shut",
    "filter_clean",
    "clock_set",
    "battery_works",
)
"""What the list of a start-up asks, in the order in which it is done."""
NO_ZONE = "the zone of a measured flow"
_WRONG = {
    "meter_still": "The meter turns while everything is off: water runs somewhere.",
    "flushed": "The system was not flushed at its start-up.",
    "heads_at_pressure": "The pressure at the sprinklers was not read, or is not right.",
    "radius_set": "The radius of sprinklers is not set.",
    "none_on_paving": "Water falls on paving, walls or fences.",
    "sensors_work": "A sensor does not work.",
    "no_leaks": "There is a leak.",
    "user_taught": "The owner has not been shown how the schedule changes with the season.",
    "valves_shut": "A valve does not shut tightly, or shuts abruptly.",
    "filter_clean": "A filter is not clean.",
    "clock_set": "The controller's date or time is wrong.",
    "battery_works": "The controller's back-up battery does not work.",
}
_DIAL_PART = 0.15
"""A flow within so much of 7.48 times what was worked out was read on a dial in another unit."""


def check_commissioning(job: LoadedJob) -> Iterator[Finding | Looked]:
    """The newest measurement of each zone, then the list of the start-up.

    Once the list is begun every zone is to be measured; before, only what was measured is looked
    at, so that a property without a start-up on record lacks nothing.
    """
    for zone in job.zones:
        rows = newest_first(job, zone.id)
        if rows:
            yield from _zone(job, compared(job)[rows[0].id])
        elif job.commissioning is not None:
            at = CellRef("zone_measurement", "", "add measured zone")
            missing = (Missing(f"a measurement of {zone_name(zone)}", at),)
            yield Looked(_name(zone), frozenset({f"measured {zone.id}"}), missing)
    for row in job.zone_measurements:
        if job.zone(row.zone_id) is None:
            lacks = Missing(NO_ZONE, CellRef("zone_measurement", row.id, "zone_id"))
            yield Looked("a measured flow without a zone", frozenset({row.id}), (lacks,))
    if job.commissioning is not None:
        yield from _list(job, job.commissioning)


def _name(zone: Zone) -> str:
    return f"measured water of {zone_name(zone)}"


def _zone(job: LoadedJob, found: ZoneCompared) -> Iterator[Finding | Looked]:
    missing = [*found.missing]
    for pressure in found.pressures:
        missing += pressure.missing
    if found.refusal:
        at = CellRef("zone", found.zone.id, "design_flow_gpm")
        missing.append(Missing(f"a network of {zone_name(found.zone)} that can be solved", at))
    missing += _too_coarse(job, found)
    rows = {found.row.id, *(pressure.row.id for pressure in found.pressures)}
    yield Looked(_name(found.zone), frozenset(rows), tuple(missing))
    yield from _flow(job, found)
    for pressure in found.pressures:
        yield from _pressure(job, pressure)


def _too_coarse(job: LoadedJob, found: ZoneCompared) -> Iterator[Missing]:
    """A finer reading, where the errors are wider than the difference that matters."""
    who = zone_name(found.zone)
    says = found.agreement
    if says is not None and says.word == "can't tell":
        off = quantity(job, says.matters, FLOW)
        at = CellRef("zone_measurement", found.row.id, "dial_stop")
        yield Missing(f"a flow of {who} that is known within {off}", at)
    for pressure in found.pressures:
        says = pressure.agreement
        if says is not None and says.word == "can't tell" and pressure.run is not None:
            off = quantity(job, says.matters, PRESSURE)
            where = run_name(job, pressure.run)
            at = CellRef("head_reading", pressure.row.id, "psi")
            yield Missing(f"a pressure at {where} that is known within {off}", at)


def _flow(job: LoadedJob, found: ZoneCompared) -> Iterator[Finding]:
    says, worked, reading = found.agreement, found.worked_out, found.reading
    if says is None or worked is None or reading is None or says.word != "differs":
        return
    side = "more" if says.difference > 0 else "less"
    who = sentence(zone_name(found.zone))
    measured = within(job, reading.gpm, reading.error_gpm, FLOW)
    then = within(job, worked.value, worked.error, FLOW)
    by = quantity(job, abs(says.difference), FLOW)
    yield Finding(
        "measured flow differs",
        "note" if says.is_small else "fix",
        fitting(
            f"{who} takes {measured} by {reading.by}; worked out at that static it takes {then}: "
            f"{by} {side}, over what both may be off.",
            f"{who} takes {measured}, worked out {then}: {by} {side}, over what both may be off.",
        ),
        _mend_flow(found, reading.gpm / worked.value if worked.value > 0.0 else 0.0),
        CellRef("zone_measurement", found.row.id, "dial_stop" if found.row.dial else "flow_gpm"),
        source=law_source(job),
        numbers=(
            Number("measured flow", reading.gpm, "gpm"),
            Number("its error", reading.error_gpm, "gpm"),
            Number("worked out", worked.value, "gpm"),
            Number("its error worked out", worked.error, "gpm"),
        ),
    )


def _mend_flow(found: ZoneCompared, times: float) -> str:
    """How to mend a flow: the unit of the dial, where that explains it, else look for the cause."""
    for other, factor in (("cubic feet", GALLONS_PER_FT3), ("gallons", 1.0 / GALLONS_PER_FT3)):
        if found.row.dial not in (None, other) and abs(times * factor - 1.0) < _DIAL_PART:
            return f"Look at the dial again: {other} in the place of {found.row.dial} would agree."
    if times > 1.0:
        return (
            "Look for a break, a missing nozzle or a larger nozzle than is recorded; or correct "
            "the record at the ground."
        )
    return (
        "Look for a valve that is not fully open, a blocked filter or nozzle, a crushed pipe; or "
        "correct the record at the ground."
    )


def _pressure(job: LoadedJob, found: PressureCompared) -> Iterator[Finding]:
    says, worked, measured = found.agreement, found.worked_out, found.measured
    if says is None or worked is None or measured is None or found.run is None:
        return
    if says.word != "differs":
        return
    side = "more" if says.difference > 0 else "less"
    by = quantity(job, abs(says.difference), PRESSURE)
    yield Finding(
        "measured pressure differs",
        "note" if says.is_small else "fix",
        f"The head at {run_name(job, found.run)} has "
        f"{within(job, measured.value, measured.error, PRESSURE)}; worked out it has "
        f"{within(job, worked.value, worked.error, PRESSURE)}: {by} {side}, over what both may be "
        "off.",
        "Read it again; then look between this head and the valve, or correct the record at the "
        "ground.",
        CellRef("head_reading", found.row.id, "psi"),
        source=law_source(job),
        numbers=(
            Number("measured pressure", measured.value, "psi"),
            Number("its error", measured.error, "psi"),
            Number("worked out", worked.value, "psi"),
            Number("its error worked out", worked.error, "psi"),
        ),
    )


def _list(job: LoadedJob, row: Commissioning) -> Iterator[Finding | Looked]:
    facts = facts_of(Commissioning)
    asked = ("held_on", "static_psi", *START_UP_TICKS)
    missing = [
        Missing(
            f"“{facts[column].label}” of the start-up", CellRef("commissioning", row.id, column)
        )
        for column in asked
        if getattr(row, column) is None
    ]
    yield Looked("the start-up list", frozenset({row.id}), tuple(missing))
    for column in START_UP_TICKS:
        if getattr(row, column) is False:
            yield Finding(
                "start-up not right",
                "fix",
                _WRONG[column],
                "Mend it, then answer yes in the start-up list at the service place.",
                CellRef("commissioning", row.id, column),
                source=facts[column].source or COMMON_PRACTICE,
            )
    yield from _static_fell(job, row)


def _static_fell(job: LoadedJob, row: Commissioning) -> Iterator[Finding]:
    """A static that fell by more than the gauge may be off between the two readings."""
    before, after = amount(row, "static_psi"), amount(row, "static_after_psi")
    if before is None or after is None:
        return
    # The same gauge, left in place, reads a difference better than that; it is not known to be so.
    error = gauge_error_psi(before)
    if before - after <= error:
        return
    yield Finding(
        "static fell at start-up",
        "note",
        f"The static fell from {quantity(job, before, PRESSURE)} to "
        f"{quantity(job, after, PRESSURE)} during the start-up: more than a gauge may be off.",
        "Read the static before each zone, so that each is worked out at its own.",
        CellRef("commissioning", row.id, "static_after_psi"),
        numbers=(Number("before", before, "psi"), Number("after", after, "psi")),
    )
