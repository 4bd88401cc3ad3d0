"""The next thing that a crew should do on a job, derived from its record.

The walk goes from the street (pressure, meter, service line) to the ground (zones, laterals), the
desk (permit, locate ticket), the street again (backflow assembly), the valve boxes (cable, colours,
splices), the ground again (pressure test, flush, backfill) and the controller. At the end the job
is handed over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from fieldbook.checks.common.cell_refs import backfill_cell, flush_cell, once_cell, valve_cell
from fieldbook.checks.common.job_rules import required
from fieldbook.checks.common.naming import assembly_name, cable_name, stretch_name, zone_name
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.ground.pressure_test import missing_from_test
from fieldbook.checks.wire.ends import MASTER, common_station, has_terminal, terminal_cell
from fieldbook.records.base import Place
from fieldbook.records.loaded_job import LoadedJob


@dataclass(frozen=True)
class NextStep:
    """One thing to do: at which place, what, and the cell to enter it in (None: no single cell)."""

    place: Place
    sentence: str
    at: CellRef | None = None


def next_step(job: LoadedJob, flags: Iterable[Finding]) -> NextStep:
    """The first thing on the walk that is not in the record.

    Where the record is complete, the stops among the job's `flags`, then the handover.
    """
    for step in _steps(job):
        return step
    stops = [flag for flag in flags if flag.severity == "stop"]
    if stops:
        count = "one stop" if len(stops) == 1 else f"{len(stops)} stops"
        return _step(f"Clear {count}, then hand over.", stops[0].at)
    return NextStep("desk", "Hand over.")


def next_step_at(job: LoadedJob, place: Place) -> NextStep | None:
    """The first thing at a place that is not in the record; None where all of it is there."""
    return next((step for step in _steps(job) if step.place == place), None)


def _steps(job: LoadedJob) -> Iterator[NextStep]:
    """Everything that is not in the record, along the walk."""
    for part in _WALK:
        yield from part(job)


def _step(sentence: str, at: CellRef) -> NextStep:
    return NextStep(at.place, sentence, at)


def _supply(job: LoadedJob) -> Iterator[NextStep]:
    """Pressure, meter and service line at the street."""
    for column, words in (
        ("static_psi", "Read the static pressure."),
        ("meter_size", "Read the meter's size."),
        ("service_class", "See what the service line is made of."),
        ("service_size", "Measure the service line's size."),
        ("service_length_ft", "Measure the service line's length."),
    ):
        if job.supply is None or getattr(job.supply, column) is None:
            yield _step(words, once_cell(job, "supply", column))


def _zones(job: LoadedJob) -> Iterator[NextStep]:
    """Zones, and the laterals of those without a flow."""
    if not job.zones:
        yield _step("Add the first zone.", CellRef("zone", "", "add zone"))
    for zone in job.zones:
        if zone.design_flow_gpm is None and not job.runs_of(zone.id):
            at = CellRef("pipe_run", zone.id, "add run")
            yield _step(f"Lay out the lateral of {zone_name(zone)}.", at)


def _before_digging(job: LoadedJob) -> Iterator[NextStep]:
    """The permit and the locate ticket, once there is something to dig for."""
    if not job.zones:
        return
    if required(job, "permit_required") and not any(permit.number for permit in job.permits):
        at = CellRef("permit", "", "add permit")
        if job.permits:
            at = CellRef("permit", job.permits[0].id, "number")
        yield _step("Enter the permit before anybody digs.", at)
    if not any(ticket.number and ticket.clear_on for ticket in job.locate_tickets):
        at = CellRef("locate_ticket", "", "add ticket")
        if job.locate_tickets:
            at = CellRef("locate_ticket", job.locate_tickets[0].id, "clear_on")
        yield _step("Enter the locate ticket before anybody digs.", at)


def _mainline(job: LoadedJob) -> Iterator[NextStep]:
    """The mainline's pressure test and flush, before it is buried."""
    if not job.runs_of(None):
        return
    missing = missing_from_test(job, None)
    if missing:
        yield _step("Test the mainline under pressure.", missing[0].at)
    yield from _flush(job, None)


def _flush(job: LoadedJob, zone_id: str | None) -> Iterator[NextStep]:
    """The flush of a zone, or of the mainline (None)."""
    log = job.flush_of(zone_id)
    missing = missing_steps(log)
    if missing:
        at = flush_cell(job, zone_id, "flush" if log is None else missing[0])
        yield _step(f"Flush {stretch_name(job, zone_id)}.", at)


def _backflow(job: LoadedJob) -> Iterator[NextStep]:
    """The assembly and its height."""
    if not job.backflow_assemblies:
        at = CellRef("backflow_assembly", "", "add backflow")
        yield _step("Enter the backflow assembly.", at)
    for assembly in job.backflow_assemblies:
        if assembly.kind is None:
            at = CellRef("backflow_assembly", assembly.id, "kind")
            yield _step("Enter the kind of the backflow assembly.", at)
        height = {"RP": "above_grade_in", "DC": None}.get(assembly.kind or "", "critical_level_ft")
        if height is not None and getattr(assembly, height) is None:
            at = CellRef("backflow_assembly", assembly.id, height)
            yield _step(f"Measure the height of the {assembly_name(assembly)}.", at)


def _boxes(job: LoadedJob) -> Iterator[NextStep]:
    """Boxes, cables, colours, splices."""
    if not job.valve_boxes:
        yield _step("Add the first valve box.", CellRef("valve_box", "", "add box"))
    if not job.cables:
        yield _step("Add the cable.", CellRef("cable", "", "add cable"))
    for cable in job.cables:
        name = cable_name(cable)
        if not any(wire.colour for wire in job.conductors_of(cable.id)):
            at = CellRef("cable", cable.id, "conductors")
            yield _step(f"Enter the colours of {name}.", at)
        if not cable.common_colour and job.row(cable.common_with) is None:
            yield _step(f"Enter the common of {name}.", CellRef("cable", cable.id, "common_colour"))
    yield from _each_valve(job, "colour", "Log the wire at {}.")
    yield from _each_valve(job, "splice_waterproof", "Check the splice at {}.")
    for cable in job.cables:
        if cable.common_waterproof is None and job.row(cable.common_with) is None:
            at = CellRef("cable", cable.id, "common_waterproof")
            yield _step(f"Check the common splice of {cable_name(cable)}.", at)


def _each_valve(job: LoadedJob, column: str, words: str) -> Iterator[NextStep]:
    """A column of every zone's valve, then of the master valve."""
    for zone in job.zones:
        valve = job.valve_of(zone.id)
        if valve is None or getattr(valve, column) is None:
            which = f"the valve of {zone_name(zone)}"
            yield _step(words.format(which), valve_cell(job, zone, column))
    master = job.master_valve()
    if master is not None and getattr(master, column) is None:
        yield _step(words.format("the master valve"), CellRef("valve", master.id, column))


def _flushes(job: LoadedJob) -> Iterator[NextStep]:
    """The flush of each zone."""
    for zone in job.zones:
        yield from _flush(job, zone.id)


def _backfill(job: LoadedJob) -> Iterator[NextStep]:
    """What is measured before burying, and the signature, stretch by stretch."""
    stretches: list[str | None] = [None] if job.runs_of(None) else []
    for zone_id in (*stretches, *(zone.id for zone in job.zones)):
        stretch, where = job.backfill_of(zone_id), stretch_name(job, zone_id)
        if stretch is None or stretch.cover_in is None:
            at = backfill_cell(job, zone_id, "cover_in")
            yield _step(f"Measure the cover of {where}.", at)
        if stretch is None or stretch.rock_free is None:
            yield _step(f"Check the soil of {where}.", backfill_cell(job, zone_id, "rock_free"))
        if stretch is None or not stretch.signed_by:
            yield _step(f"Sign the backfill of {where}.", backfill_cell(job, zone_id, "sign"))


def _controller(job: LoadedJob) -> Iterator[NextStep]:
    """What is under each terminal, then the controller itself."""
    stations = [
        (common_station(cable.id), f"the common terminal for {cable_name(cable)}")
        for cable in job.own_commons()
    ]
    if job.master_valve() is not None:
        stations.append((MASTER, "the master valve terminal"))
    stations += [(zone.id, f"the terminal of {zone_name(zone)}") for zone in job.zones]
    for station, words in stations:
        if not has_terminal(job, station):
            at = terminal_cell(job, station)
            yield NextStep("controller", f"Enter what is under {words}.", at)
    for column, words in (
        ("outdoors", "Enter whether the controller hangs outdoors."),
        ("supply_near", "Check that there is a power supply near the controller."),
        ("wire_in_conduit", "Check that the wire is in conduit."),
        ("rain_sensor", "Enter whether a rain sensor is fitted."),
    ):
        if job.controller is None or getattr(job.controller, column) is None:
            yield _step(words, once_cell(job, "controller", column))


_WALK: tuple[Callable[[LoadedJob], Iterator[NextStep]], ...] = (
    _supply,
    _zones,
    _before_digging,
    _backflow,
    _boxes,
    _mainline,
    _flushes,
    _backfill,
    _controller,
)
