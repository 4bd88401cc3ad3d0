"""One job, loaded: all its rows, detached from the book, with the look-ups that checks need.

A table is declared here once, as a field of LoadedJob: the field's type names the class of its
rows, and says whether a job has one of them or many. `TABLES` and `FIELD_OF` are read from the
fields, so a new table is one file in `tables` and one field here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from functools import wraps
from types import MappingProxyType
from typing import TypeVar, cast, get_args, get_type_hints

from fieldbook.records.base import Record, Row, facts_of, once_per_table
from fieldbook.records.conflict import BrokenLink, Conflict
from fieldbook.records.days import order_of
from fieldbook.records.neighbours import Neighbour
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.controller import (
    Controller,
    OtherController,
    Terminal,
    WireTest,
)
from fieldbook.records.tables.flush_backfill import Backfill, Flush
from fieldbook.records.tables.job import Job, Note
from fieldbook.records.tables.load_items import LoadItem
from fieldbook.records.tables.local_rules import LocalRules, RuleRow
from fieldbook.records.tables.measured.audit import CatchAudit, CatchCan
from fieldbook.records.tables.measured.commissioning import (
    Commissioning,
    HeadReading,
    ZoneMeasurement,
)
from fieldbook.records.tables.owner.change_orders import ChangeOrder
from fieldbook.records.tables.owner.punch_list import PunchItem
from fieldbook.records.tables.owner.walk_through import WalkThrough, ZoneShown
from fieldbook.records.tables.owner.warranties import Warranty
from fieldbook.records.tables.permits import (
    CrewMember,
    Inspection,
    LocateTicket,
    Permit,
    UtilityAnswer,
)
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.season.season_plan import DrainPoint, SeasonPlan
from fieldbook.records.tables.season.season_work import SeasonWork, SeasonZone
from fieldbook.records.tables.sign_offs import SETTLED, SignOff
from fieldbook.records.tables.supply import FlowTestPoint, IsolationValve, Supply
from fieldbook.records.tables.tests import BackflowTest, PressureTest
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.records.tables.two_wire import Decoder, TwoWirePath
from fieldbook.records.tables.visits import Visit, VisitChange, VisitStep
from fieldbook.records.tables.watering.programmes import (
    ProgrammeMinutes,
    ProgrammeRow,
    WateringFacts,
)
from fieldbook.records.tables.watering.watering_site import (
    RebatePaper,
    Sensor,
    WateringSite,
    WeatherMonth,
)
from fieldbook.records.tables.watering.zone_watering import ZoneWatering
from fieldbook.records.tables.wires import Cable, Conductor, Splice, Valve, ValveBox
from fieldbook.records.tables.zones import Head, Zone

_R = TypeVar("_R", bound=Record)
_T = TypeVar("_T")


@dataclass(frozen=True)
class LoadedJob:
    """Every row of one job; pure data, no session. Tuples are in the order a crew reads them.

    A copy made with `dataclasses.replace` has an index and a memo of its own. The order of the
    fields is the order in which a job file lists the tables.
    """

    job: Job
    local_rules: LocalRules | None = None
    supply: Supply | None = None
    flow_test_points: tuple[FlowTestPoint, ...] = ()
    backflow_assemblies: tuple[BackflowAssembly, ...] = ()
    zones: tuple[Zone, ...] = ()
    pipe_runs: tuple[PipeRun, ...] = ()
    heads: tuple[Head, ...] = ()
    valve_boxes: tuple[ValveBox, ...] = ()
    cables: tuple[Cable, ...] = ()
    conductors: tuple[Conductor, ...] = ()
    splices: tuple[Splice, ...] = ()
    valves: tuple[Valve, ...] = ()
    two_wire_paths: tuple[TwoWirePath, ...] = ()
    decoders: tuple[Decoder, ...] = ()
    controller: Controller | None = None
    other_controllers: tuple[OtherController, ...] = ()
    terminals: tuple[Terminal, ...] = ()
    wire_tests: tuple[WireTest, ...] = ()
    flushes: tuple[Flush, ...] = ()
    backfills: tuple[Backfill, ...] = ()
    rules: tuple[RuleRow, ...] = ()
    permits: tuple[Permit, ...] = ()
    inspections: tuple[Inspection, ...] = ()
    locate_tickets: tuple[LocateTicket, ...] = ()
    utility_answers: tuple[UtilityAnswer, ...] = ()
    crew: tuple[CrewMember, ...] = ()
    pressure_tests: tuple[PressureTest, ...] = ()
    backflow_tests: tuple[BackflowTest, ...] = ()
    fixed_points: tuple[FixedPoint, ...] = ()
    ties: tuple[Tie, ...] = ()
    isolation_valves: tuple[IsolationValve, ...] = ()
    change_orders: tuple[ChangeOrder, ...] = ()
    punch_items: tuple[PunchItem, ...] = ()
    walk_through: WalkThrough | None = None
    zones_shown: tuple[ZoneShown, ...] = ()
    warranties: tuple[Warranty, ...] = ()
    watering_site: WateringSite | None = None
    weather_months: tuple[WeatherMonth, ...] = ()
    zone_waterings: tuple[ZoneWatering, ...] = ()
    sensors: tuple[Sensor, ...] = ()
    rebate_papers: tuple[RebatePaper, ...] = ()
    load_items: tuple[LoadItem, ...] = ()
    season_plan: SeasonPlan | None = None
    drain_points: tuple[DrainPoint, ...] = ()
    season_works: tuple[SeasonWork, ...] = ()
    season_zones: tuple[SeasonZone, ...] = ()
    attachments: tuple[Attachment, ...] = ()
    visits: tuple[Visit, ...] = ()
    visit_steps: tuple[VisitStep, ...] = ()
    visit_changes: tuple[VisitChange, ...] = ()
    commissioning: Commissioning | None = None
    zone_measurements: tuple[ZoneMeasurement, ...] = ()
    head_readings: tuple[HeadReading, ...] = ()
    catch_audits: tuple[CatchAudit, ...] = ()
    catch_cans: tuple[CatchCan, ...] = ()
    sign_offs: tuple[SignOff, ...] = ()
    notes: tuple[Note, ...] = ()
    watering_facts: WateringFacts | None = None
    programmes: tuple[ProgrammeRow, ...] = ()
    programme_minutes: tuple[ProgrammeMinutes, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    neighbours: tuple[Neighbour, ...] = ()
    _rows: Mapping[str, Record] = field(init=False, compare=False, repr=False)
    """Every row by its id."""
    _memo: dict[Callable[[LoadedJob], object], object] = field(
        init=False, compare=False, repr=False, default_factory=dict
    )
    """What `once_per_job` keeps: the results by the function that worked them out."""

    def __post_init__(self) -> None:
        """Index the rows by their ids."""
        rows = {row.id: row for held in self.tables().values() for row in held}
        object.__setattr__(self, "_rows", MappingProxyType(rows))

    def tables(self) -> dict[str, tuple[Record, ...]]:
        """The rows by table name, in the order of TABLES."""
        found: dict[str, tuple[Record, ...]] = {}
        for table, name in FIELD_OF.items():
            held = getattr(self, name)
            found[table] = held if isinstance(held, tuple) else () if held is None else (held,)
        return found

    def row(self, row_id: str | None) -> Record | None:
        """The row of this id, if the job has it."""
        return self._rows.get(row_id) if row_id else None

    def find(self, record: type[_R], row_id: str | None) -> _R | None:
        """The row of this id, if the job has it and it is in this table."""
        found = self.row(row_id)
        return found if isinstance(found, record) else None

    def broken_links(self) -> list[BrokenLink]:
        """Links to rows that the job doesn't have."""
        return [
            BrokenLink(table, row.id, column, to_table, target)
            for table, rows in self.tables().items()
            for row in rows
            for column, to_table in _links_of(type(row))
            if (target := getattr(row, column))
            and target != self.job.id
            and self.row(target) is None
        ]

    def zone(self, zone_id: str | None) -> Zone | None:
        """The zone of this id."""
        return self.find(Zone, zone_id)

    def runs_of(self, zone_id: str | None) -> tuple[PipeRun, ...]:
        """A zone's lateral runs, or the mainline's (None)."""
        return tuple(run for run in self.pipe_runs if run.zone_id == zone_id)

    def head_at(self, run_id: str) -> Head | None:
        """The head at the end of a run; the first where there are two."""
        return _heads_by_run(self).get(run_id)

    def heads_of(self, zone_id: str) -> tuple[Head, ...]:
        """The heads of a zone, in the order of its runs."""
        found = (self.head_at(run.id) for run in self.runs_of(zone_id))
        return tuple(head for head in found if head is not None)

    def running_together(self) -> tuple[tuple[Zone, ...], ...]:
        """The zones in groups that run at the same time; most groups are one zone."""
        return _running_together(self)

    def valve_of(self, zone_id: str) -> Valve | None:
        """The valve of a zone; None until something is entered for it."""
        return next((valve for valve in self.valves if valve.zone_id == zone_id), None)

    def master_valve(self) -> Valve | None:
        """The master valve; None until it is entered."""
        return next((valve for valve in self.valves if valve.kind == "master"), None)

    def cable_of(self, end: Valve | Terminal) -> Cable | None:
        """The cable that a wire end names; the job's only cable if it names none."""
        only = self.cables[0] if len(self.cables) == 1 and not end.cable_id else None
        return self.find(Cable, end.cable_id) or only

    def home_cables(self) -> tuple[Cable, ...]:
        """The cables that begin at the controller, not at a box on the way."""
        return tuple(cable for cable in self.cables if self.row(cable.fed_from) is None)

    def own_commons(self) -> tuple[Cable, ...]:
        """The cables whose own common is under the controller's common terminal."""
        return tuple(cable for cable in self.home_cables() if self.row(cable.common_with) is None)

    def conductors_of(self, cable_id: str) -> tuple[Conductor, ...]:
        """A cable's conductors by position."""
        return tuple(wire for wire in self.conductors if wire.cable_id == cable_id)

    def terminal_zone(self, terminal: Terminal) -> Zone | None:
        """The zone that a terminal is meant to run.

        A zone that another controller's terminal names is not one of the first controller's.
        """
        if terminal.zone_id:
            return self.zone(terminal.zone_id)
        if terminal.role != "zone" or terminal.controller_id:
            return None
        found = (zone for zone in self.zones if zone.number == terminal.number)
        return next((zone for zone in found if zone.id not in _zones_elsewhere(self)), None)

    def pressure_test_of(self, zone_id: str | None) -> PressureTest | None:
        """The pressure test of a zone's lateral, or of the mainline (None)."""
        return next((test for test in self.pressure_tests if test.zone_id == zone_id), None)

    def newest_sign_off(self, kind: str, zone_id: str | None = None) -> SignOff | None:
        """The sign-off of a kind and stretch that no other supersedes, even if it is withdrawn."""
        found = [row for row in self.sign_offs if (row.kind, row.zone_id) == (kind, zone_id)]
        superseded = {row.supersedes for row in found if row.supersedes != row.id}
        left = (row for row in found if row.id not in superseded and row.state != SETTLED)
        # By instant, not by text: two laptops may keep different offsets.
        return max(left, key=lambda row: (order_of(row.signed_at), row.id), default=None)

    def signed(self, kind: str, zone_id: str | None = None) -> SignOff | None:
        """The sign-off of a kind and stretch that counts: the newest, unless withdrawn."""
        newest = self.newest_sign_off(kind, zone_id)
        return newest if newest is not None and newest.state == "signed" else None

    def flush_of(self, zone_id: str | None) -> Flush | None:
        """The flush log of a zone, or of the mainline (None); None until the flush is begun."""
        return next((flush for flush in self.flushes if flush.zone_id == zone_id), None)

    def watering_of(self, zone_id: str) -> ZoneWatering | None:
        """What is entered of a zone's watering; None until something is."""
        return next((one for one in self.zone_waterings if one.zone_id == zone_id), None)

    def backfill_of(self, zone_id: str | None) -> Backfill | None:
        """The backfill of a zone's trenches, or of the mainline (None); None until it is begun."""
        return next((backfill for backfill in self.backfills if backfill.zone_id == zone_id), None)

    def backflow_of(self, zone: Zone) -> BackflowAssembly | None:
        """The assembly that a zone names; the job's only one if it names none."""
        there = self.backflow_assemblies
        only = there[0] if len(there) == 1 and not zone.backflow_id else None
        return self.find(BackflowAssembly, zone.backflow_id) or only


def _declared() -> Iterator[tuple[str, type[Record]]]:
    """The name and the row class of each field of LoadedJob that holds a table."""
    types = get_type_hints(LoadedJob)
    for table in fields(LoadedJob):
        for part in get_args(types[table.name]) if table.init else ():
            if isinstance(part, type) and issubclass(part, Record):
                yield table.name, part


FIELD_OF: Mapping[str, str] = {record.table_name: name for name, record in _declared()}
"""Where a table's rows stand on a LoadedJob, and in a job file."""
TABLES: Mapping[str, type[Record]] = {record.table_name: record for _, record in _declared()}
"""The tables that hold a job's rows, in the order they are written to a job file."""


RECORDS: Mapping[str, type[Row]] = {"job": Job, **TABLES}
"""Every table of the record, the property's own first."""


def once_per_job(work: Callable[[LoadedJob], _T]) -> Callable[[LoadedJob], _T]:
    """Make `work` keep its result for each LoadedJob, so that it is worked out once."""

    @wraps(work)
    def kept(job: LoadedJob) -> _T:
        if work not in job._memo:
            job._memo[work] = work(job)
        return cast(_T, job._memo[work])

    return kept


@once_per_job
def _heads_by_run(job: LoadedJob) -> dict[str, Head]:
    return {head.run_id: head for head in reversed(job.heads)}


@once_per_job
def _zones_elsewhere(job: LoadedJob) -> frozenset[str]:
    """The zones that a terminal of another controller than the first names."""
    return frozenset(one.zone_id for one in job.terminals if one.controller_id and one.zone_id)


@once_per_job
def _running_together(job: LoadedJob) -> tuple[tuple[Zone, ...], ...]:
    leader = {zone.id: zone.id for zone in job.zones}

    def find(zone_id: str) -> str:
        while leader[zone_id] != zone_id:
            zone_id = leader[zone_id]
        return zone_id

    # A chain of links, and a circle of them, is one group: each link joins two leaders.
    for zone in job.zones:
        if zone.runs_with in leader:
            leader[find(zone.id)] = find(str(zone.runs_with))
    groups: dict[str, list[Zone]] = {}
    for zone in job.zones:
        groups.setdefault(find(zone.id), []).append(zone)
    return tuple(tuple(group) for group in groups.values())


@once_per_table
def _links_of(record: type[Row]) -> tuple[tuple[str, str], ...]:
    """The columns that link to a row of the same job, each with the table it links to.

    A link to the job itself always holds, and a sign-off may outlive the one it supersedes.
    """
    return tuple(
        (name, fact.links_to)
        for name, fact in facts_of(record).items()
        if fact.links_to not in ("", "job", "sign_off")
    )
