"""The next thing a crew should do, and how far a job is: derived from the record alone.

The walk: the street (pressure, meter, service line), the ground (zones, laterals), the desk
(permit, locate ticket), the street again (backflow assembly), the valve boxes (cable, colours,
splices), the ground (pressure test, flush, backfill), the controller, and at last handing over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from fieldbook.checks.common.job_rules import required
from fieldbook.checks.common.naming import assembly_name, cable_name, zone_name
from fieldbook.checks.common.supply import source_columns, supply_cell
from fieldbook.checks.desk.digging import ticket_lacks, ticket_span
from fieldbook.checks.finding import CellRef
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.ground.pressure_test import lacks
from fieldbook.checks.progress.holds import unmet
from fieldbook.checks.registry import instant, verdicts
from fieldbook.checks.verdicts import Verdicts
from fieldbook.checks.wire.ends import (
    MASTER,
    common_station,
    has_terminal,
    terminal_cell,
)
from fieldbook.records.base import Place
from fieldbook.records.days import day_of
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


def next_step(job: LoadedJob, answers: Verdicts, now: date | None = None) -> NextStep:
    """The first thing on the walk that is not in the record; then stops, holds, the sign-offs.

    `answers` are those of the job at `now`. Handing over is said only when no hold, stop or check
    that it relies on is open; nothing more once the job is closed.
    """
    at = instant(now)
    if job.signed("close") is not None:
        return NextStep("desk", "Nothing more: the job is closed.")
    steps = list(_steps(job)) if job.signed("handover") is None else []
    waits_until = _waits_until(job, at.date())
    if steps and waits_until is not None:
        return _meanwhile(job, steps, waits_until)
    return steps[0] if steps else _after_the_walk(job, answers, at)


def _waits_until(job: LoadedJob, today: date) -> date | None:
    """The day on which digging may be looked at, while a ticket was called for and isn't clear."""
    if any(day_of(ticket.dug_from) for ticket in job.locate_tickets):
        return None
    firsts = [ticket_span(job, one).first for one in job.locate_tickets if one.number.strip()]
    known = [first for first in firsts if first is not None]
    return min(known) if known and min(known) > today else None


def _meanwhile(job: LoadedJob, steps: Sequence[NextStep], until: date) -> NextStep:
    """What can be done before the ticket is clear, and until when the rest waits."""
    rest = f"Digging waits until {until.isoformat()}."
    for step in steps:
        if step.place in ("street", "desk") or step.plans:
            return replace(step, sentence=f"{step.sentence} {rest}")
    ticket = job.locate_tickets[-1]
    return NextStep("desk", rest, CellRef("locate_ticket", ticket.id, "clear_on"))


def _after_the_walk(job: LoadedJob, answers: Verdicts, at: datetime) -> NextStep:
    """Stops, then service, then handover and its checks, then the end."""
    stops = [flag for flag in answers.flags if flag.severity == "stop"]
    if stops:
        more = "the stop" if len(stops) == 1 else f"{len(stops)} stops"
        return NextStep(stops[0].place, f"Clear {more}: {stops[0].sentence}", stops[0].at)
    for kind, words in _LAST_SIGN_OFFS:
        if job.signed(kind) is not None:
            continue
        held = unmet(job, kind, None, at.replace(tzinfo=None))
        missing = held[0].missing[0] if held else None
        if missing is None and kind == "handover":
            open_ = verdicts(job, at, None, "handover").not_checked
            missing = open_[0].missing[0] if open_ else None
        if missing is not None:
            return NextStep(missing.at.place, f"{words} waits for {missing.words}.", missing.at)
        return NextStep("desk", _SIGN[kind], CellRef("sign_off", kind, "sign off"))
    return NextStep("desk", "Nothing more: the job is closed.")


_LAST_SIGN_OFFS = (("in service", "Service"), ("handover", "Handover"), ("close", "Closing"))
_SIGN = {
    "in service": "Sign that what service needs is recorded.",
    "handover": "Hand over.",
    "close": "Close the job.",
}


def next_step_at(job: LoadedJob, place: Place) -> NextStep | None:
    """The first thing of a place that is not in the record; None when all of it is there."""
    return next((step for step in _steps(job) if step.place == place), None)


def _steps(job: LoadedJob) -> Iterator[NextStep]:
    """Everything not in the record, along the walk."""
    for stretch in _WALK:
        yield from stretch(job)


def _supply(job: LoadedJob) -> Iterator[NextStep]:
    """Pressure, and what feeds the property: meter and service line, or what a well gives."""
    columns = (("static_psi", "the static pressure"), *source_columns(job))
    for column, words in columns:
        if job.supply is None or getattr(job.supply, column) is None:
            sentence = _SUPPLY_STEPS.get(column, f"Enter {words}.")
            yield NextStep("street", sentence, supply_cell(job, column))


_SUPPLY_STEPS = {
    "static_psi": "Read the static pressure.",
    "meter_size": "Read the meter's size.",
    "service_class": "See what the service line is made of.",
    "service_size": "Measure the service line's size.",
    "service_length_ft": "Measure the service line's length.",
}


def _zones(job: LoadedJob) -> Iterator[NextStep]:
    """Zones, and the laterals of those without a flow."""
    if not job.zones:
        at = CellRef("zone", "", "add zone")
        yield NextStep("ground", "Add the first zone.", at, plans=True)
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
        yield NextStep("desk", "Enter the permit before anybody digs.", at)
    tickets = [one for one in job.locate_tickets if one.number.strip()]
    if not tickets:
        at = CellRef("locate_ticket", "", "add ticket")
        if job.locate_tickets:
            at = CellRef("locate_ticket", job.locate_tickets[0].id, "number")
        yield NextStep("desk", "Enter the locate ticket before anybody digs.", at)
    for ticket in tickets:
        if ticket_span(job, ticket).first is None:
            at = CellRef("locate_ticket", ticket.id, "clear_on")
            yield NextStep("desk", "Enter the day the locate ticket is clear.", at)
    if tickets and not any(ticket.dug_from for ticket in job.locate_tickets):
        for missing in ticket_lacks(job, tickets[-1]):
            yield NextStep("desk", f"Enter {missing.words} before anybody digs.", missing.at)


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
    """The assembly and its height."""
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
    if not job.cables:
        yield NextStep("boxes", "Add the cable.", CellRef("cable", "", "add cable"))
    for cable in job.cables:
        name = cable_name(cable)
        if not any(one.colour for one in job.conductors_of(cable.id)):
            at = CellRef("cable", cable.id, "conductors")
            yield NextStep("boxes", f"Enter the colours of {name}.", at)
        if not cable.common_colour and job.row(cable.common_with) is None:
            at = CellRef("cable", cable.id, "common_colour")
            yield NextStep("boxes", f"Enter the common of {name}.", at)
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
        if valve is None or getattr(valve, column) is None:
            at = CellRef("valve", row_id, column)
            yield NextStep("boxes", words.format(zone_name(zone)), at)
    master = job.master_valve()
    if master is not None and getattr(master, column) is None:
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
    if job.master_valve() is not None:
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
