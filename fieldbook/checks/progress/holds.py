"""The hold points: nothing goes on before what comes first is proven and recorded.

Seventeen holds, as data and pure predicates. A sign-off is refused while one of its holds is not
met; an override needs a name, a reason and a time, and is shown wherever the sign-off is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from fieldbook.checks.common.job_rules import rain_shutoff, required
from fieldbook.checks.common.naming import assembly_name, cable_name, short, stretch_name, zone_name
from fieldbook.checks.common.water_source import flow_test_cell
from fieldbook.checks.desk.digging import digging_lacks, inspection_lacks
from fieldbook.checks.desk.open_punch_items import open_items_missing
from fieldbook.checks.desk.owner_shown import WALK_THROUGH, walk_through_lacks
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.ground.pressure_test import cemented_runs, cured_at, lacks
from fieldbook.checks.progress.before_visits import as_signed
from fieldbook.checks.progress.signature_rows import faultless_row, overrides_of
from fieldbook.checks.street.backflow_tests import test_lacks, test_passes
from fieldbook.checks.street.supply_limits import flow_tested
from fieldbook.checks.wire.decoders import feed_lacks
from fieldbook.checks.wire.ends import has_terminal, terminal_cell
from fieldbook.checks.wire.zone_feeds import needs_cable
from fieldbook.records.column_values import amount
from fieldbook.records.days import time_of
from fieldbook.records.ids import (
    backfill_id,
    flush_id,
    once_id,
    pressure_test_id,
    valve_id,
)
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.walk_through import WALK_THROUGH_SOURCE
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE

Predicate = Callable[[LoadedJob, str | None, datetime], Iterable[Missing]]


@dataclass(frozen=True)
class Hold:
    """One hold point. `before` are the sign-offs it holds back; `met` says what is missing."""

    number: int
    title: str
    before: tuple[str, ...]
    missing: Predicate
    source: str = COMMON_PRACTICE
    override_rule: str = ""
    """The rule that lets this hold be overridden; a hold without one may always be."""


SIGN_OFFS: Mapping[str, str] = {
    "price": "What pricing needs is recorded",
    "dig": "What digging needs is recorded",
    "pressurise": "What pressurising needs is recorded",
    "energise": "What energising needs is recorded",
    "wire backfill": "What burying wire needs is recorded",
    "in service": "What service needs is recorded",
    WALK_THROUGH: "Owner's walk-through is recorded",
    "handover": "Handed over",
    "close": "The job is closed",
}
"""The sign-offs of a whole job, in the order of the work. A stretch has its own for backfill."""
BACKFILL = "backfill"


def _measured(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    supply = job.supply
    row_id = supply.id if supply is not None else once_id(job.job.id, "supply")
    if amount(supply, "static_psi") is None:
        yield Missing("the static pressure", CellRef("supply", row_id, "static_psi"))
    if not flow_tested(job):
        yield Missing("a flow test", flow_test_cell(job))


def _may_dig(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    yield from digging_lacks(job, now.date())


def _cured(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    if job.runs_of(None) and not cemented_runs(job, None):
        return
    test = job.pressure_test_of(None)
    cured = cured_at(job, test) if test is not None else None
    row_id = test.id if test is not None else pressure_test_id(job.job.id, None)
    at = _of_mainline(job, CellRef("pressure_test", row_id, "cemented_at"))
    if cured is None:
        yield Missing("the time of the mainline's last cemented joint", at)
    elif now < cured:
        yield Missing(f"its cement, which cures until {cured:%Y-%m-%d %H:%M}", at)


def _main_held(job: LoadedJob, zone_id: str | None, now: datetime) -> Iterable[Missing]:
    if zone_id is None:
        yield from lacks(job, None, now)


def _main_flushed(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    log = job.flush_of(None)
    if log is None or log.ran_clear is not True:
        row_id = log.id if log is not None else flush_id(job.job.id)
        at = _of_mainline(job, CellRef("flush", row_id, "ran_clear"))
        yield Missing("the mainline's flush, run clear", at)


def _of_mainline(job: LoadedJob, at: CellRef) -> CellRef:
    """A cell of the mainline's proofs; they are on the sheet once the mainline has a run."""
    return at if job.runs_of(None) else CellRef("pipe_run", "", "add run")


def _zones(job: LoadedJob) -> Iterable[Missing]:
    """A property without zones: nothing of them can be proven."""
    if not job.zones:
        yield Missing("the zones", CellRef("zone", "", "add zone"))


def _wires(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    yield from _zones(job)
    for zone in job.zones:
        valve = job.valve_of(zone.id)
        row_id = valve.id if valve is not None else valve_id(zone.id)
        yield from feed_lacks(job, zone)
        terminal = next((one for one in job.terminals if job.terminal_zone(one) is zone), None)
        read = terminal is not None and terminal.day_1_ohm is not None
        if not read and (valve is None or valve.coil_ohm is None):
            yield Missing(f"the ohms of {zone_name(zone)}", CellRef("valve", row_id, "coil_ohm"))
    if job.zones and not job.own_commons() and needs_cable(job):
        yield Missing("the cable and its common", CellRef("cable", "", "add cable"))
    for cable in job.own_commons():
        if not cable.common_colour:
            at = CellRef("cable", cable.id, "common_colour")
            yield Missing(f"the common of {cable_name(cable)}", at)


def _lateral_flushed(job: LoadedJob, zone_id: str | None, _now: datetime) -> Iterable[Missing]:
    if zone_id is None:
        return
    log = job.flush_of(zone_id)
    missing = missing_steps(log, zone_id)
    if missing:
        row_id = log.id if log is not None else flush_id(zone_id)
        words = f"the flush of {zone_name(job.zone(zone_id))}"
        yield Missing(words, CellRef("flush", row_id, missing[0] if log is not None else "flush"))


def _inspected(job: LoadedJob, zone_id: str | None, now: datetime) -> Iterable[Missing]:
    stretch = job.backfill_of(zone_id)
    row_id = stretch.id if stretch is not None else backfill_id(job.job.id, zone_id)
    where = stretch_name(job, zone_id)
    if amount(stretch, "cover_in") is None:
        yield Missing(f"the cover of {where}", CellRef("backfill", row_id, "cover_in"))
    if stretch is None or stretch.rock_free is not True:
        at = CellRef("backfill", row_id, "rock_free")
        yield Missing(f"the look for rocks in the soil at {where}", at)
    if required(job, "inspection_before_backfill"):
        yield from inspection_lacks(job, now.date())


def _backflow_tested(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    if not job.backflow_assemblies:
        yield Missing("the backflow assembly", CellRef("backflow_assembly", "", "add backflow"))
    for assembly in job.backflow_assemblies:
        yield from test_lacks(job, assembly, now.date())
        if not test_passes(job, assembly, now.date()) and not test_lacks(job, assembly, now.date()):
            at = CellRef("backflow_assembly", assembly.id, "kind")
            yield Missing(f"a passed test of the {assembly_name(assembly)}", at)


def _sensor(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    fitted = job.controller is not None and job.controller.rain_sensor is True
    if rain_shutoff(job) is not None and not fitted:
        row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
        yield Missing("the rain sensor", CellRef("controller", row_id, "rain_sensor"))


def _as_built(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    yield from _zones(job)
    for zone in job.zones:
        at = terminal_cell(job, zone.id)
        if at is not None and not has_terminal(job, zone.id):
            yield Missing(f"the terminal of {zone_name(zone)}", at)
    tied = {one.box_id for one in job.ties}
    for box in job.valve_boxes:
        if box.id not in tied:
            words = f"the ties of valve box {short(box.name)}".rstrip()
            # A tape begins at a fixed point, so that the first of those comes before any tie.
            name = "tie" if job.fixed_points else "fixed_point"
            at = CellRef(name, "", f"add {name.replace('_', ' ')}")
            yield Missing(words, at)
    if not job.job.customer:
        yield Missing("the customer", CellRef("job", job.job.id, "customer"))


def _signed_before(job: LoadedJob, kind: str, now: datetime) -> Iterable[Missing]:
    """An earlier sign-off: a faultless row, and its own holds still met as it was signed."""
    row = faultless_row(job, kind, None, now.astimezone())
    if row is None:
        words = f"the sign-off “{SIGN_OFFS[kind]}”"
        yield Missing(words, CellRef("sign_off", kind, "sign off"))
        return
    for one in unmet_by(job, row, now.astimezone()):
        skipped = one.hold.number in overrides_of(row) and may_override(job, one.hold)
        # A hold that was overridden may be proven later than the signature.
        if not skipped or any(one.hold.missing(job, None, now)):
            yield from one.missing


def _in_service(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    yield from _signed_before(job, "in service", now)


def _buried(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    """Every stretch: an open trench, or one whose signature no longer holds, isn't handed over."""
    main = [None] if job.runs_of(None) else []
    for zone_id in [*main, *(zone.id for zone in job.zones)]:
        row = faultless_row(job, BACKFILL, zone_id, now.astimezone())
        if row is None:
            stretch = job.backfill_of(zone_id)
            row_id = stretch.id if stretch is not None else backfill_id(job.job.id, zone_id)
            words = f"the signed backfill of {stretch_name(job, zone_id)}"
            yield Missing(words, CellRef("backfill", row_id, "sign"))
            continue
        for one in unmet_by(job, row, now.astimezone()):
            # Any of a backfill's holds may be overridden.
            if one.hold.number not in overrides_of(row):
                yield from one.missing


def _handed_over(job: LoadedJob, zone_id: str | None, now: datetime) -> Iterable[Missing]:
    yield from _signed_before(job, "handover", now)
    yield from _backflow_tested(job, zone_id, now)


def _shown_or_refused(job: LoadedJob, _zone: str | None, _now: datetime) -> Iterable[Missing]:
    yield from walk_through_lacks(job)


def _walked_through(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    if required(job, "walk_through_required"):
        yield from _signed_before(job, WALK_THROUGH, now)


def _punch_list_done(job: LoadedJob, _zone: str | None, now: datetime) -> Iterable[Missing]:
    if required(job, "punch_list_done"):
        yield from open_items_missing(job, now.date())


HOLDS: tuple[Hold, ...] = (
    Hold(1, "No design priced before a measured flow and pressure", ("price",), _measured),
    Hold(
        2,
        "No digging before the permit and the locate's clear date",
        ("dig",),
        _may_dig,
        "29 CFR 1926.651(b); permits are local.",
        "override_dig",
    ),
    Hold(3, "No mainline pressurised before its cement has cured", ("pressurise",), _cured),
    Hold(4, "No backfill of the mainline before its pressure test passed", (BACKFILL,), _main_held),
    Hold(5, "No valve energised before the mainline is flushed", ("energise",), _main_flushed),
    Hold(6, "No backfill of wire before its colours and ohms", ("wire backfill",), _wires),
    Hold(
        7,
        "No nozzle and no backfill before the lateral is flushed",
        (BACKFILL,),
        _lateral_flushed,
        "American Fork, Utah, 15.01.840 D; common practice.",
    ),
    Hold(
        8, "No backfill before the inspection, or cover and soil recorded", (BACKFILL,), _inspected
    ),
    Hold(
        9,
        "No service before the certified backflow test",
        ("in service",),
        _backflow_tested,
        "30 Tex. Admin. Code 344.50(e); International Plumbing Code 312.10.2.",
        "override_service",
    ),
    Hold(10, "No handover without a sensor where one is required", ("handover",), _sensor),
    Hold(11, "No handover before the as-built record is whole", ("handover",), _as_built),
    Hold(
        12,
        "No job closed before handover and its backflow test",
        ("close",),
        _handed_over,
        override_rule="override_service",
    ),
    Hold(
        13,
        "No handover before service and its backflow test",
        ("handover",),
        _in_service,
        "30 Tex. Admin. Code 344.50(e); common practice.",
        "override_service",
    ),
    Hold(14, "No handover before every trench is backfilled and signed", ("handover",), _buried),
    Hold(
        15,
        "No walk-through signed before it is recorded, or its refusal with the hour",
        (WALK_THROUGH,),
        _shown_or_refused,
        WALK_THROUGH_SOURCE,
    ),
    Hold(
        16,
        "No handover before the owner's walk-through, where a rule asks for it",
        ("handover",),
        _walked_through,
        WALK_THROUGH_SOURCE,
    ),
    Hold(
        17,
        "No handover with open punch items, where a rule forbids it",
        ("handover",),
        _punch_list_done,
    ),
)


def may_override(job: LoadedJob, hold: Hold) -> bool:
    """Whether the local rules let anybody override a hold."""
    return not hold.override_rule or required(job, hold.override_rule)


@dataclass(frozen=True)
class Unmet:
    """A hold that is not met, and all it waits for."""

    hold: Hold
    missing: tuple[Missing, ...]

    @property
    def words(self) -> str:
        """What is missing, in a row."""
        return ", ".join(one.words for one in self.missing)


def unmet(job: LoadedJob, kind: str, zone_id: str | None, now: datetime) -> list[Unmet]:
    """The holds that keep a sign-off back at a time; empty when it may be signed."""
    found = []
    for hold in HOLDS:
        if kind in hold.before:
            missing = tuple(hold.missing(job, zone_id, now))
            if missing:
                found.append(Unmet(hold, missing))
    return found


def unmet_by(job: LoadedJob, row: SignOff, now: datetime) -> list[Unmet]:
    """The holds that a signature does not meet as of the day it was signed; `now` has its offset.

    After a handover visits change the record: the signature is held to what it was before them, or
    where that does not meet a hold and the record of today does, to that.
    """
    # Holds are asked with the wall clock of the laptop that signed: days and cure times are local.
    at = time_of(row.signed_at) or now.replace(tzinfo=None)
    before = as_signed(job, row, now)
    left = unmet(before.job, row.kind, row.zone_id, at)
    if left and before.taken_back and not unmet(job, row.kind, row.zone_id, at):
        return []
    return left
