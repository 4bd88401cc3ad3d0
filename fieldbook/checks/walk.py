"""The walk along a property: everything that is not in the record yet, in the order of the work.

The street (customer, pressure, meter, service line), the ground (zones, laterals, permit, locate
ticket), the street again (hazards, backflow assembly), the valve boxes (cable, colours, splices),
the ground (pressure test, flush, backfill) and the controller.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from fieldbook.checks.common.job_rules import required
from fieldbook.checks.common.naming import assembly_name, cable_name, zone_name
from fieldbook.checks.common.water_source import flow_test_cell, source_columns, supply_cell
from fieldbook.checks.desk.digging import ticket_lacks, ticket_span
from fieldbook.checks.finding import CellRef
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.ground.pressure_test import lacks
from fieldbook.checks.street.hazards import hazards_missing
from fieldbook.checks.street.supply_limits import flow_tested
from fieldbook.checks.wire.decoders import decoder_lacks
from fieldbook.checks.wire.ends import MASTER, common_station, has_terminal, terminal_cell
from fieldbook.checks.wire.zone_feeds import feed_of, master_decoder, needs_cable
from fieldbook.records.base import Place
from fieldbook.records.ids import backfill_id, flush_id, once_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone


@dataclass(frozen=True)
class NextStep:
    """One thing to do: where, what, and the cell it is entered in (None: no one cell).

    `plans`: it needs no digging, though it is entered at the ground or the boxes.
    """

    place: Place
    sentence: str
    at: CellRef | None = None
    plans: bool = False

    @property
    def signs(self) -> bool:
        """Whether it is a signature."""
        return self.at is not None and self.at.column == "sign"

    @property
    def without_digging(self) -> bool:
        """Whether it can be done before anybody digs."""
        return self.plans or self.place in ("street", "desk")


def steps_of(job: LoadedJob) -> Iterator[NextStep]:
    """Everything not in the record, along the walk."""
    for stretch in _WALK:
        yield from stretch(job)


def _who(job: LoadedJob) -> Iterator[NextStep]:
    """Whose property it is."""
    if not job.job.customer.strip():
        at = CellRef("job", job.job.id, "customer")
        yield NextStep("street", "Enter who the customer is.", at)


def _supply(job: LoadedJob) -> Iterator[NextStep]:
    """Pressure and where it was read, what feeds the property: a meter's line, or a well."""
    columns = (
        ("static_psi", "the static pressure"),
        ("behind_regulator", "whether the gauge was behind a regulator"),
        *source_columns(job),
    )
    for column, words in columns:
        if job.supply is None or getattr(job.supply, column) is None:
            sentence = _SUPPLY_STEPS.get(column, f"Enter {words}.")
            yield NextStep("street", sentence, supply_cell(job, column))


_SUPPLY_STEPS = {
    "static_psi": "Read the static pressure.",
    "behind_regulator": "See whether the gauge was behind a regulator.",
    "meter_size": "Read the meter's size.",
    "service_class": "See what the service line is made of.",
    "service_size": "Measure the service line's size.",
    "service_length_ft": "Measure the service line's length.",
}


def _zones(job: LoadedJob) -> Iterator[NextStep]:
    """Zones, the flow test they are planned by, and the laterals of those without a flow."""
    if not job.zones:
        at = CellRef("zone", "", "add zone")
        yield NextStep("ground", "Add the first zone.", at, plans=True)
    elif not flow_tested(job):
        yield NextStep("street", "Test the flow, with its residual pressure.", flow_test_cell(job))
    for zone in job.zones:
        if zone.design_flow_gpm is None and not job.runs_of(zone.id):
            at = CellRef("pipe_run", zone.id, "add run")
            yield NextStep("ground", f"Lay out the lateral of {zone_name(zone)}.", at, plans=True)


def _before_digging(job: LoadedJob) -> Iterator[NextStep]:
    """The permit, the locate ticket and its answers, once there is something to dig for."""
    if not job.zones:
        return
    if required(job, "permit_required") and not any(one.number.strip() for one in job.permits):
        at = CellRef("permit", "", "add permit")
        if job.permits:
            at = CellRef("permit", job.permits[0].id, "number")
        yield NextStep("ground", "Enter the permit before anybody digs.", at, plans=True)
    yield from _ticket(job)


def _ticket(job: LoadedJob) -> Iterator[NextStep]:
    """The locate ticket, the day it is clear, and what the utilities answered."""
    tickets = [one for one in job.locate_tickets if one.number.strip()]
    if not tickets:
        at = CellRef("locate_ticket", "", "add ticket")
        if job.locate_tickets:
            at = CellRef("locate_ticket", job.locate_tickets[0].id, "number")
        yield NextStep("ground", "Enter the locate ticket before anybody digs.", at, plans=True)
    for ticket in tickets:
        if ticket_span(job, ticket).first is None:
            at = CellRef("locate_ticket", ticket.id, "clear_on")
            yield NextStep("ground", "Enter the day the locate ticket is clear.", at, plans=True)
    if tickets and not any(ticket.dug_from for ticket in job.locate_tickets):
        for missing in ticket_lacks(job, tickets[-1]):
            sentence = f"Enter {missing.words} before anybody digs."
            yield NextStep(missing.at.place, sentence, missing.at, plans=True)


def _mainline(job: LoadedJob) -> Iterator[NextStep]:
    """The mainline's pressure test and flush, before it is buried."""
    if not job.runs_of(None):
        return
    held = lacks(job, None)
    if held:
        yield NextStep("ground", "Test the mainline under pressure.", held[0].at)
    log = job.flush_of(None)
    missing = missing_steps(log, None)
    if missing:
        row_id = log.id if log is not None else flush_id(job.job.id)
        at = CellRef("flush", row_id, "flush" if log is None else missing[0])
        yield NextStep("ground", "Flush the mainline.", at)


def _backflow(job: LoadedJob) -> Iterator[NextStep]:
    """The hazards that decide its kind, the assembly and its height."""
    for missing in hazards_missing(job):
        yield NextStep("street", f"Enter {missing.words}.", missing.at)
    if not job.backflow_assemblies:
        at = CellRef("backflow_assembly", "", "add backflow")
        yield NextStep("street", "Enter the backflow assembly.", at)
    for one in job.backflow_assemblies:
        if one.kind is None:
            at = CellRef("backflow_assembly", one.id, "kind")
            yield NextStep("street", "Enter the kind of the backflow assembly.", at)
        height = {"RP": "above_grade_in", "DC": None}.get(one.kind or "", "critical_level_ft")
        if height is not None and getattr(one, height) is None:
            at = CellRef("backflow_assembly", one.id, height)
            yield NextStep("street", f"Measure the height of the {assembly_name(one)}.", at)


def _boxes(job: LoadedJob) -> Iterator[NextStep]:
    """Boxes, cables, colours, splices."""
    if not job.valve_boxes:
        yield NextStep("boxes", "Add the first valve box.", CellRef("valve_box", "", "add box"))
    if not job.cables and needs_cable(job):
        yield NextStep("boxes", "Add the cable.", CellRef("cable", "", "add cable"))
    for cable in job.cables:
        name = cable_name(cable)
        if not any(one.colour for one in job.conductors_of(cable.id)):
            at = CellRef("cable", cable.id, "conductors")
            yield NextStep("boxes", f"Enter the colours of {name}.", at)
        if not cable.common_colour and job.row(cable.common_with) is None:
            at = CellRef("cable", cable.id, "common_colour")
            yield NextStep("boxes", f"Enter the common of {name}.", at)
    for zone in job.zones:
        for missing in decoder_lacks(job, zone) if feed_of(job, zone.id) == "decoder" else ():
            yield NextStep("boxes", f"Enter {missing.words}.", missing.at)
    yield from _each_valve(job, "colour", "Log the wire at the valve of {}.")
    yield from _each_valve(job, "splice_waterproof", "Check the splice at the valve of {}.")
    for cable in job.cables:
        if cable.common_waterproof is None and job.row(cable.common_with) is None:
            at = CellRef("cable", cable.id, "common_waterproof")
            yield NextStep("boxes", f"Check the common splice of {cable_name(cable)}.", at)


def _each_valve(job: LoadedJob, column: str, words: str) -> Iterator[NextStep]:
    """A column of every zone's valve, then of the master valve."""
    for zone in job.zones:
        valve = job.valve_of(zone.id)
        row_id = valve.id if valve is not None else valve_id(zone.id)
        without = column == "colour" and feed_of(job, zone.id) != "cable"
        if (valve is None or getattr(valve, column) is None) and not without:
            at = CellRef("valve", row_id, column)
            yield NextStep("boxes", words.format(zone_name(zone)), at)
    master = job.master_valve()
    without = column == "colour" and master_decoder(job) is not None
    if master is not None and getattr(master, column) is None and not without:
        words = words.replace("the valve of {}", "the master valve")
        yield NextStep("boxes", words, CellRef("valve", master.id, column))


def _flush(job: LoadedJob) -> Iterator[NextStep]:
    """The flush of each zone."""
    for zone in job.zones:
        log = job.flush_of(zone.id)
        missing = missing_steps(log, zone.id)
        if missing:
            row_id = log.id if log is not None else flush_id(zone.id)
            at = CellRef("flush", row_id, "flush" if log is None else missing[0])
            yield NextStep("ground", f"Flush {zone_name(zone)}.", at)


def _backfill(job: LoadedJob) -> Iterator[NextStep]:
    """What is measured before burying, and the signature, stretch by stretch."""
    for cable in job.cables:
        if cable.cover_in is None:
            at = CellRef("cable", cable.id, "cover_in")
            yield NextStep("boxes", f"Measure the cover of {cable_name(cable)}.", at)
    stretches: list[Zone | None] = [*([None] if job.runs_of(None) else []), *job.zones]
    for zone in stretches:
        signed = job.backfill_of(zone.id if zone else None)
        row_id = signed.id if signed else backfill_id(job.job.id, zone.id if zone else None)
        where = zone_name(zone) if zone else "the mainline"
        for column in ("cover_in", "rock_free"):
            if signed is None or getattr(signed, column) is None:
                what = "Measure the cover of" if column == "cover_in" else "Check the soil of"
                yield NextStep("ground", f"{what} {where}.", CellRef("backfill", row_id, column))
        if signed is None or not signed.signed_by:
            at = CellRef("backfill", row_id, "sign")
            yield NextStep("ground", f"Sign the backfill of {where}.", at)


def _controller(job: LoadedJob) -> Iterator[NextStep]:
    """What is under each terminal, then the controller itself."""
    stations = [
        (common_station(cable.id), f"the common terminal for {cable_name(cable)}")
        for cable in job.own_commons()
    ]
    if job.master_valve() is not None and master_decoder(job) is None:
        stations.append((MASTER, "the master valve terminal"))
    stations += [(zone.id, f"the terminal of {zone_name(zone)}") for zone in job.zones]
    for station, words in stations:
        if not has_terminal(job, station):
            at = terminal_cell(job, station)
            yield NextStep("controller", f"Enter what is under {words}.", at)
    row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
    for column, words in (
        ("outdoors", "Enter whether the controller hangs outdoors."),
        ("supply_near", "Check that there is a power supply near the controller."),
        ("wire_in_conduit", "Check that the wire is in conduit."),
        ("rain_sensor", "Enter whether a rain sensor is fitted."),
    ):
        if job.controller is None or getattr(job.controller, column) is None:
            yield NextStep("controller", words, CellRef("controller", row_id, column))


_WALK: tuple[Callable[[LoadedJob], Iterator[NextStep]], ...] = (
    _who,
    _supply,
    _zones,
    _before_digging,
    _backflow,
    _boxes,
    _mainline,
    _flush,
    _backfill,
    _controller,
)
