"""One job, loaded: every row of it, detached from the book, with the look-ups checks need."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from fieldbook.records.base import Record, natural_id
from fieldbook.records.conflict import Conflict
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.controller import Controller, Terminal
from fieldbook.records.tables.flush_backfill import Backfill, Flush
from fieldbook.records.tables.job import Job, Note
from fieldbook.records.tables.local_rules import LocalRules, RuleRow
from fieldbook.records.tables.permits import CrewMember, Inspection, LocateTicket, Permit
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.records.tables.supply import FlowTestPoint, Supply
from fieldbook.records.tables.tests import BackflowTest, PressureTest
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.records.tables.wires import Cable, Conductor, Splice, Valve, ValveBox
from fieldbook.records.tables.zones import Head, Zone

TABLES: Mapping[str, type[Record]] = {
    "local_rules": LocalRules,
    "supply": Supply,
    "flow_test_point": FlowTestPoint,
    "backflow_assembly": BackflowAssembly,
    "zone": Zone,
    "pipe_run": PipeRun,
    "head": Head,
    "valve_box": ValveBox,
    "cable": Cable,
    "conductor": Conductor,
    "splice": Splice,
    "valve": Valve,
    "controller": Controller,
    "terminal": Terminal,
    "flush": Flush,
    "backfill": Backfill,
    "rule": RuleRow,
    "permit": Permit,
    "inspection": Inspection,
    "locate_ticket": LocateTicket,
    "crew_member": CrewMember,
    "pressure_test": PressureTest,
    "backflow_test": BackflowTest,
    "fixed_point": FixedPoint,
    "tie": Tie,
    "attachment": Attachment,
    "sign_off": SignOff,
    "note": Note,
}
"""The tables that hold a job's rows, in the order they are written to a job file."""
FIELD_OF: Mapping[str, str] = {
    "local_rules": "local_rules",
    "supply": "supply",
    "flow_test_point": "flow_test_points",
    "backflow_assembly": "backflow_assemblies",
    "zone": "zones",
    "pipe_run": "pipe_runs",
    "head": "heads",
    "valve_box": "valve_boxes",
    "cable": "cables",
    "conductor": "conductors",
    "splice": "splices",
    "valve": "valves",
    "controller": "controller",
    "terminal": "terminals",
    "flush": "flushes",
    "backfill": "backfills",
    "rule": "rules",
    "permit": "permits",
    "inspection": "inspections",
    "locate_ticket": "locate_tickets",
    "crew_member": "crew",
    "pressure_test": "pressure_tests",
    "backflow_test": "backflow_tests",
    "fixed_point": "fixed_points",
    "tie": "ties",
    "attachment": "attachments",
    "sign_off": "sign_offs",
    "note": "notes",
}
"""Where a table's rows stand on a LoadedJob, and in a job file."""


def record_of(table: str) -> type[Record] | type[Job] | None:
    """The class of a table's rows, the property's own ("job") too; None for an unknown table."""
    return Job if table == "job" else TABLES.get(table)


@dataclass(frozen=True)
class LoadedJob:
    """Every row of one job; pure data, no session. Tuples are in the order a crew reads them."""

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
    controller: Controller | None = None
    terminals: tuple[Terminal, ...] = ()
    flushes: tuple[Flush, ...] = ()
    backfills: tuple[Backfill, ...] = ()
    rules: tuple[RuleRow, ...] = ()
    permits: tuple[Permit, ...] = ()
    inspections: tuple[Inspection, ...] = ()
    locate_tickets: tuple[LocateTicket, ...] = ()
    crew: tuple[CrewMember, ...] = ()
    pressure_tests: tuple[PressureTest, ...] = ()
    backflow_tests: tuple[BackflowTest, ...] = ()
    fixed_points: tuple[FixedPoint, ...] = ()
    ties: tuple[Tie, ...] = ()
    attachments: tuple[Attachment, ...] = ()
    sign_offs: tuple[SignOff, ...] = ()
    notes: tuple[Note, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    memo: dict[str, Any] = field(default_factory=dict, init=False, compare=False, repr=False)
    """What was worked out from these rows, so that it is worked out once; a new job has none."""
    _by_id: dict[str, Record] = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Index the rows by id."""
        for rows in self.tables().values():
            self._by_id.update((row.id, row) for row in rows)

    def tables(self) -> dict[str, tuple[Record, ...]]:
        """The rows by table name, in the order of TABLES."""
        found: dict[str, tuple[Record, ...]] = {}
        for table, name in FIELD_OF.items():
            held = getattr(self, name)
            found[table] = held if isinstance(held, tuple) else () if held is None else (held,)
        return found

    def row(self, row_id: str | None) -> Record | None:
        """The row of this id, if the job has it."""
        return self._by_id.get(row_id) if row_id else None

    def zone(self, zone_id: str | None) -> Zone | None:
        """The zone of this id."""
        found = self.row(zone_id)
        return found if isinstance(found, Zone) else None

    def runs_of(self, zone_id: str | None) -> tuple[PipeRun, ...]:
        """A zone's lateral runs, or the mainline's (None)."""
        return tuple(run for run in self.pipe_runs if run.zone_id == zone_id)

    def head_at(self, run_id: str) -> Head | None:
        """The head at the end of a run."""
        return next((head for head in self.heads if head.run_id == run_id), None)

    def heads_of(self, zone_id: str) -> tuple[Head, ...]:
        """The heads of a zone, in the order of its runs."""
        found = (self.head_at(run.id) for run in self.runs_of(zone_id))
        return tuple(head for head in found if head is not None)

    def valve_of(self, zone_id: str) -> Valve | None:
        """The valve of a zone, once anything is known of it."""
        return next((valve for valve in self.valves if valve.zone_id == zone_id), None)

    def master_valve(self) -> Valve | None:
        """The master valve, if one was entered."""
        return next((valve for valve in self.valves if valve.kind == "master"), None)

    def cable_of(self, end: Valve | Terminal) -> Cable | None:
        """The cable a wire end names; the job's only cable when it names none."""
        found = self.row(end.cable_id)
        if isinstance(found, Cable):
            return found
        return self.cables[0] if len(self.cables) == 1 and not end.cable_id else None

    def home_cables(self) -> tuple[Cable, ...]:
        """The cables that end at the controller rather than at a box on the way."""
        return tuple(one for one in self.cables if self.row(one.fed_from) is None)

    def own_commons(self) -> tuple[Cable, ...]:
        """The cables whose own common is under the controller's common terminal."""
        return tuple(one for one in self.home_cables() if self.row(one.common_with) is None)

    def conductors_of(self, cable_id: str) -> tuple[Conductor, ...]:
        """A cable's conductors by position."""
        return tuple(one for one in self.conductors if one.cable_id == cable_id)

    def terminal_zone(self, terminal: Terminal) -> Zone | None:
        """The zone a terminal is meant to run."""
        if terminal.zone_id:
            return self.zone(terminal.zone_id)
        if terminal.role != "zone":
            return None
        return next((zone for zone in self.zones if zone.number == terminal.number), None)

    def pressure_test_of(self, zone_id: str | None) -> PressureTest | None:
        """The pressure test of a zone's lateral, or of the mainline (None)."""
        return next((one for one in self.pressure_tests if one.zone_id == zone_id), None)

    def signed(self, kind: str, zone_id: str | None = None) -> SignOff | None:
        """The sign-off of a kind and stretch that counts: the newest, unless withdrawn."""
        found = [one for one in self.sign_offs if (one.kind, one.zone_id) == (kind, zone_id)]
        after = {one.supersedes for one in found}
        newest = max(
            (one for one in found if one.id not in after),
            key=lambda one: (one.signed_at, one.id),
            default=None,
        )
        return newest if newest is not None and newest.state == "signed" else None

    def flush_of(self, zone_id: str | None) -> Flush | None:
        """A zone's flush log, or the mainline's (None), once begun."""
        return next((one for one in self.flushes if one.zone_id == zone_id), None)

    def backfill_of(self, zone_id: str | None) -> Backfill | None:
        """The sign-off of a zone's trenches, or of the mainline (None)."""
        return next((one for one in self.backfills if one.zone_id == zone_id), None)

    def backflow_of(self, zone: Zone) -> BackflowAssembly | None:
        """The assembly a zone names; the job's only one when it names none."""
        found = self.row(zone.backflow_id)
        if isinstance(found, BackflowAssembly):
            return found
        only = self.backflow_assemblies
        return only[0] if len(only) == 1 and not zone.backflow_id else None


def valve_id(zone_id: str) -> str:
    """The id of a zone's valve, whether or not its row exists yet."""
    return natural_id(zone_id, "valve")


def master_valve_id(job_id: str) -> str:
    """The id of a job's master valve."""
    return natural_id(job_id, "master valve")


def head_id(run_id: str) -> str:
    """The id of the head at the end of a run."""
    return natural_id(run_id, "head")


def flush_id(zone_id: str) -> str:
    """The id of the flush log of a zone; for the mainline's give the job's id."""
    return natural_id(zone_id, "flush")


def pressure_test_id(job_id: str, zone_id: str | None) -> str:
    """The id of a stretch's pressure test: a zone's, or the mainline's (None)."""
    return natural_id(zone_id or job_id, "pressure test")


def backfill_id(job_id: str, zone_id: str | None) -> str:
    """The id of a stretch's sign-off: a zone's, or the mainline's (None)."""
    return natural_id(zone_id or job_id, "backfill")


def once_id(job_id: str, table: str) -> str:
    """The id of the one row a job has in a table such as its supply."""
    return natural_id(job_id, table)


def terminal_id(job_id: str, role: str, number: int | str = "") -> str:
    """The id of a terminal: a zone terminal by number, a common by its cable's id."""
    return natural_id(job_id, "terminal", role, str(number))
