"""The hold points: no work goes on before what comes first is proven and recorded.

Each of the twelve holds is data with a function that says what is missing. A sign-off is refused
while one of its holds is not met. An override needs a name, a reason and a time, and is shown
wherever the sign-off is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from fieldbook.checks.common.cell_refs import (
    backfill_cell,
    flush_cell,
    once_cell,
    pressure_test_cell,
    valve_cell,
)
from fieldbook.checks.common.job_rules import rain_shutoff, required
from fieldbook.checks.common.naming import (
    assembly_name,
    box_name,
    cable_name,
    stretch_name,
    zone_name,
)
from fieldbook.checks.desk.digging import ticket_span
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.ground.pressure_test import cured_at, missing_from_test
from fieldbook.checks.street.backflow_tests import newest_test, test_passes
from fieldbook.records.days import day_of
from fieldbook.records.ids import terminal_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import LocateTicket
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE

WhatIsMissing = Callable[[LoadedJob, str | None, datetime], Iterable[Missing]]
"""What a hold still waits for: on a job, for the stretch of a zone or the mainline, at a time."""


@dataclass(frozen=True)
class Hold:
    """One hold point. `before` are the sign-offs that it holds back until nothing is missing."""

    number: int
    title: str
    before: tuple[str, ...]
    missing: WhatIsMissing
    source: str = COMMON_PRACTICE


SIGN_OFFS: Mapping[str, str] = {
    "price": "The design may be priced",
    "dig": "Digging may begin",
    "pressurise": "The mainline may be pressurised",
    "energise": "Valves may be energised",
    "wire backfill": "The wire may be buried",
    "in service": "The system may be put in service",
    "handover": "Handed over",
    "close": "The job is closed",
}
"""The sign-offs of a whole job, in the order of the work, and what each one says."""
BACKFILL = "backfill"
"""The sign-off of one stretch: a zone's trenches, or the mainline."""


def _flow_and_pressure(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    if job.supply is None or job.supply.static_psi is None:
        yield Missing("the static pressure", once_cell(job, "supply", "static_psi"))
    tested = any(
        point.residual_psi is not None
        and (point.flow_gpm is not None or point.bucket_gal is not None)
        for point in job.flow_test_points
    )
    if not tested:
        yield Missing("a flow test", CellRef("flow_test_point", "", "add flow test"))


def _permit_and_marks(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    if required(job, "permit_required") and not any(permit.number for permit in job.permits):
        yield Missing("the permit's number", CellRef("permit", "", "add permit"))
    tickets = [ticket for ticket in job.locate_tickets if ticket.number and day_of(ticket.clear_on)]
    if not tickets:
        yield Missing(
            "the locate ticket with the day it is clear", CellRef("locate_ticket", "", "add ticket")
        )
    elif not any(covers(job, ticket, now.date()) for ticket in tickets):
        at = CellRef("locate_ticket", tickets[-1].id, "clear_on")
        yield Missing(f"a locate ticket that holds on {now.date().isoformat()}", at)


def covers(job: LoadedJob, ticket: LocateTicket, on: date) -> bool:
    """Whether the marks of a ticket hold on a day."""
    begins, ends = ticket_span(job, ticket)
    return begins is not None and begins <= on and (ends is None or on <= ends)


def _cement(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    test = job.pressure_test_of(None)
    cured = cured_at(job, test) if test is not None else None
    at = pressure_test_cell(job, None, "cemented_at")
    if cured is None:
        yield Missing("when the mainline's last joint was cemented", at)
    elif now < cured:
        yield Missing(f"its cement, which cures until {cured:%Y-%m-%d %H:%M}", at)


def _main_test(job: LoadedJob, zone_id: str | None, _now: datetime) -> Iterable[Missing]:
    if zone_id is None:
        yield from missing_from_test(job, None)


def _main_flush(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    log = job.flush_of(None)
    if log is None or log.ran_clear is not True:
        at = flush_cell(job, None, "ran_clear")
        yield Missing("that the mainline was flushed clear", at)


def _wires(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    for zone in job.zones:
        valve = job.valve_of(zone.id)
        if valve is None or not valve.colour:
            yield Missing(f"the wire of {zone_name(zone)}", valve_cell(job, zone, "colour"))
        terminal = next((end for end in job.terminals if job.terminal_zone(end) is zone), None)
        read = terminal is not None and terminal.day_1_ohm is not None
        if not read and (valve is None or valve.coil_ohm is None):
            yield Missing(f"the ohms of {zone_name(zone)}", valve_cell(job, zone, "coil_ohm"))
    for cable in job.own_commons():
        if not cable.common_colour:
            at = CellRef("cable", cable.id, "common_colour")
            yield Missing(f"the common of {cable_name(cable)}", at)


def _lateral_flush(job: LoadedJob, zone_id: str | None, _now: datetime) -> Iterable[Missing]:
    if zone_id is None:
        return
    log = job.flush_of(zone_id)
    missing = missing_steps(log)
    if missing:
        at = flush_cell(job, zone_id, missing[0] if log is not None else "flush")
        yield Missing(f"the flush of {zone_name(job.zone(zone_id))}", at)


def _inspection(job: LoadedJob, zone_id: str | None, _now: datetime) -> Iterable[Missing]:
    stretch = job.backfill_of(zone_id)
    where = stretch_name(job, zone_id)
    if stretch is None or stretch.cover_in is None:
        yield Missing(f"the cover of {where}", backfill_cell(job, zone_id, "cover_in"))
    if stretch is None or stretch.rock_free is not True:
        at = backfill_cell(job, zone_id, "rock_free")
        yield Missing(f"that the soil at {where} is free of rock", at)
    passed = any(
        inspection.kind == "before backfill" and inspection.result == "passed"
        for inspection in job.inspections
    )
    if required(job, "inspection_before_backfill") and not passed:
        yield Missing("the inspection before backfill", CellRef("inspection", "", "add inspection"))


def _backflow_test(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    if not job.backflow_assemblies:
        yield Missing("the backflow assembly", CellRef("backflow_assembly", "", "add backflow"))
    for assembly in job.backflow_assemblies:
        test = newest_test(job, assembly)
        if test is None:
            at = CellRef("backflow_test", "", "add backflow test")
            yield Missing(f"the certified test of the {assembly_name(assembly)}", at)
        elif not test_passes(assembly, test):
            at = CellRef("backflow_test", test.id, "certified")
            yield Missing(f"a passed and certified test of the {assembly_name(assembly)}", at)


def _rain_sensor(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    fitted = job.controller is not None and job.controller.rain_sensor is True
    if rain_shutoff(job) is not None and not fitted:
        yield Missing("the rain sensor", once_cell(job, "controller", "rain_sensor"))


def _as_built(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    for zone in job.zones:
        if zone.number is not None and not any(
            end.colour for end in job.terminals if job.terminal_zone(end) is zone
        ):
            at = CellRef("terminal", terminal_id(job.job.id, "zone", zone.number), "colour")
            yield Missing(f"the terminal of {zone_name(zone)}", at)
    tied = {tie.box_id for tie in job.ties}
    for box in job.valve_boxes:
        if box.id not in tied:
            yield Missing(f"the ties of {box_name(box)}", CellRef("tie", "", "add tie"))
    if not job.job.customer:
        yield Missing("the customer", CellRef("job", job.job.id, "customer"))


HOLDS: tuple[Hold, ...] = (
    Hold(1, "No design priced before a measured flow and pressure", ("price",), _flow_and_pressure),
    Hold(
        2,
        "No digging before the permit and the locate's clear date",
        ("dig",),
        _permit_and_marks,
        "29 CFR 1926.651(b); permits are local.",
    ),
    Hold(3, "No mainline pressurised before its cement has cured", ("pressurise",), _cement),
    Hold(4, "No backfill of the mainline before its pressure test passed", (BACKFILL,), _main_test),
    Hold(5, "No valve energised before the mainline is flushed", ("energise",), _main_flush),
    Hold(6, "No backfill of wire before its colours and ohms", ("wire backfill",), _wires),
    Hold(
        7,
        "No nozzle and no backfill before the lateral is flushed",
        (BACKFILL,),
        _lateral_flush,
        "American Fork, Utah, 15.01.840 D; common practice.",
    ),
    Hold(
        8,
        "No backfill before cover and soil are recorded, and inspected where required",
        (BACKFILL,),
        _inspection,
    ),
    Hold(
        9,
        "No service before the certified backflow test",
        ("in service",),
        _backflow_test,
        "30 Tex. Admin. Code 344.50(e); International Plumbing Code 312.10.2.",
    ),
    Hold(10, "No handover without a sensor where one is required", ("handover",), _rain_sensor),
    Hold(11, "No handover before the as-built record is whole", ("handover",), _as_built),
    Hold(12, "No job closed before the next backflow test is known", ("close",), _backflow_test),
)


@dataclass(frozen=True)
class Unmet:
    """A hold that is not met, and everything that it waits for."""

    hold: Hold
    missing: tuple[Missing, ...]

    @property
    def words(self) -> str:
        """The words of everything that is missing, with commas between them."""
        return ", ".join(missing.words for missing in self.missing)


def unmet(job: LoadedJob, kind: str, zone_id: str | None, now: datetime) -> list[Unmet]:
    """The holds that keep a sign-off back at this time; empty when it may be signed."""
    found = []
    for hold in HOLDS:
        if kind in hold.before:
            missing = tuple(hold.missing(job, zone_id, now))
            if missing:
                found.append(Unmet(hold, missing))
    return found
