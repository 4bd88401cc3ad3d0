"""Builders of loaded jobs in memory: a bare one, and a sound one of which tests change a part."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, TypeVar

from fieldbook.checks.finding import Finding
from fieldbook.checks.progress.digests import covered, whole_digest
from fieldbook.checks.registry import check
from fieldbook.records.base import Record
from fieldbook.records.ids import (
    backfill_id,
    flush_id,
    head_id,
    once_id,
    pressure_test_id,
    terminal_id,
    valve_id,
)
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.controller import Controller, Terminal
from fieldbook.records.tables.flush_backfill import FLUSH_STEPS, Backfill, Flush
from fieldbook.records.tables.job import Job
from fieldbook.records.tables.permits import LocateTicket, Permit
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.records.tables.supply import Supply
from fieldbook.records.tables.tests import PressureTest
from fieldbook.records.tables.wires import Cable, Conductor, Valve, ValveBox
from fieldbook.records.tables.zones import Head, Zone

JOB = "job-1"
CABLE = "cable-1"
COLOURS = ("white", "red", "blue", "green", "orange", "black", "yellow", "brown")
R = TypeVar("R", bound=Record)
UNSIGNED = "no sign-off on record"


def row(record: type[R], row_id: str, **values: object) -> R:
    """A row of the job."""
    held: dict[str, Any] = dict(values)
    return record(id=row_id, job_id=JOB, **held)


def bare_job(units: str = "us", **tables: object) -> LoadedJob:
    """A property with nothing but an address, and the tables given."""
    rows: dict[str, Any] = dict(tables)
    return LoadedJob(job=Job(id=JOB, address="12 Elm Street", units=units), **rows)


def zone(number: int, **values: object) -> Zone:
    """A zone whose id is "zone-<number>"."""
    return row(Zone, f"zone-{number}", number=number, **values)


def valve(number: int, colour: str | None, **values: object) -> Valve:
    """The valve of zone `number`."""
    owner = f"zone-{number}"
    return row(Valve, valve_id(owner), zone_id=owner, colour=colour, **values)


def terminal(number: int, colour: str | None, **values: object) -> Terminal:
    """Zone terminal `number`."""
    row_id = terminal_id(JOB, "zone", number)
    return row(Terminal, row_id, number=number, colour=colour, **values)


def common_terminal(colour: str | None, cable: str = CABLE) -> Terminal:
    """The common terminal of a cable."""
    row_id = terminal_id(JOB, "common", cable)
    return row(Terminal, row_id, role="common", cable_id=cable, colour=colour)


def conductors(*colours: str, cable: str = CABLE) -> tuple[Conductor, ...]:
    """A cable's conductors."""
    return tuple(
        row(Conductor, f"{cable}-{at}", cable_id=cable, position=at, colour=colour)
        for at, colour in enumerate(colours, start=1)
    )


def wired_job(
    box: Sequence[str | None], controller: Sequence[str | None], **tables: object
) -> LoadedJob:
    """A job of one cable with a white common, and these colours at valves and terminals."""
    count = max(len(box), len(controller))
    parts: dict[str, Any] = {
        "zones": tuple(zone(number) for number in range(1, count + 1)),
        "cables": (row(Cable, CABLE, name="1", common_colour="white"),),
        "conductors": conductors(*COLOURS),
        "valves": tuple(valve(at, colour) for at, colour in enumerate(box, start=1)),
        "terminals": (
            *((common_terminal("white"),) if any(controller) else ()),
            *(terminal(at, colour) for at, colour in enumerate(controller, start=1)),
        ),
    }
    return bare_job(**{**parts, **tables})


def flushed(number: int | None, **steps: object) -> Flush:
    """The finished flush of zone `number`, or of the mainline (None), with these steps changed."""
    owner = None if number is None else f"zone-{number}"
    done: dict[str, Any] = dict.fromkeys(FLUSH_STEPS, True)
    return row(Flush, flush_id(owner or JOB), zone_id=owner, **{**done, **steps})


def pressure_tested(number: int | None, **values: object) -> PressureTest:
    """A pressure test that passed, of zone `number` or the mainline (None)."""
    owner = None if number is None else f"zone-{number}"
    passed: dict[str, Any] = {
        "cemented_at": "2026-04-28T09:00",
        "label_min": 120.0,
        "water_only": True,
        "began_at": "2026-04-29T08:00",
        "start_psi": 62.0,
        "ended_at": "2026-04-29T09:30",
        "end_psi": 61.5,
    }
    row_id = pressure_test_id(JOB, owner)
    return row(PressureTest, row_id, zone_id=owner, **{**passed, **values})


def buried(number: int | None, **values: object) -> Backfill:
    """The signed backfill of zone `number`, or of the mainline (None)."""
    owner = None if number is None else f"zone-{number}"
    sound: dict[str, Any] = {
        "cover_in": 18.0,
        "rock_free": True,
        "heads_plumb": True,
        "heads_at_grade": True,
        "signed_by": "AB",
        "signed_at": "2026-05-01T10:00:00-05:00",
    }
    return row(Backfill, backfill_id(JOB, owner), zone_id=owner, **{**sound, **values})


def lateral(
    number: int, flows: Sequence[float], spacing_ft: float = 12.0, **values: object
) -> tuple[tuple[PipeRun, ...], tuple[Head, ...]]:
    """A zone's lateral: heads in a row, one at the end of each run of 1 in PVC SDR 21.

    They are regulated where they are rated, so that they draw their nozzle flow and no more.
    """
    pipe: dict[str, Any] = {"size": "1", "pipe_class": "pvc sdr 21", "length_ft": spacing_ft}
    runs = tuple(
        row(
            PipeRun,
            f"run-{number}-{at}",
            zone_id=f"zone-{number}",
            number=at,
            after=at - 1 or None,
            **{**pipe, **values},
        )
        for at in range(1, len(flows) + 1)
    )
    heads = tuple(
        row(
            Head,
            head_id(run.id),
            run_id=run.id,
            nozzle_gpm=flow,
            rated_psi=30.0,
            regulated_psi=30.0,
        )
        for run, flow in zip(runs, flows, strict=True)
    )
    return runs, heads


def sound_job(zones: int = 2, units: str = "us") -> LoadedJob:
    """A finished property in which nothing is wrong."""
    numbers = range(1, zones + 1)
    pipes = [lateral(number, (2.0, 2.0, 2.0)) for number in numbers]
    main = row(
        PipeRun, "main-1", number=1, size="1", pipe_class="pvc sch 40", length_ft=40.0, rise_ft=0.0
    )
    colours = COLOURS[1 : zones + 1]
    wires = wired_job(colours, colours)
    return replace(
        wires,
        job=Job(id=JOB, address="12 Elm Street", customer="A. Customer", units=units),
        supply=row(
            Supply,
            once_id(JOB, "supply"),
            static_psi=62.0,
            meter_size="3/4",
            service_class="copper L",
            service_size="1",
            service_length_ft=40.0,
        ),
        backflow_assemblies=(
            row(
                BackflowAssembly,
                "backflow-1",
                kind="PVB",
                name="left of the garage",
                size="1",
                serial="77",
                critical_level_ft=1.5,
                exposed_pvc=False,
            ),
        ),
        zones=tuple(zone(number, name=f"lawn {number}", head_kind="spray") for number in numbers),
        pipe_runs=(main, *(run for runs, _ in pipes for run in runs)),
        heads=tuple(head for _, heads in pipes for head in heads),
        valve_boxes=(row(ValveBox, "box-1", name="A", location="by the drive", on_base=True),),
        cables=(row(Cable, CABLE, name="1", common_colour="white", common_waterproof=True),),
        valves=tuple(
            valve(number, colour, splice_waterproof=True, box_id="box-1")
            for number, colour in zip(numbers, colours, strict=True)
        ),
        controller=row(
            Controller,
            once_id(JOB, "controller"),
            location="garage wall",
            stations=zones,
            outdoors=False,
            supply_near=True,
            wire_in_conduit=True,
            rain_sensor=True,
        ),
        flushes=(flushed(None), *(flushed(number) for number in numbers)),
        permits=(row(Permit, "permit-1", kind="irrigation", number="26-118"),),
        locate_tickets=(row(LocateTicket, "ticket-1", number="260401", clear_on="2026-04-20"),),
        pressure_tests=(pressure_tested(None),),
        backfills=(buried(None), *(buried(number) for number in numbers)),
    )


def signed_off(job: LoadedJob) -> LoadedJob:
    """The job with a sign-off for every backfill that says it is signed."""
    made = []
    for no, stretch in enumerate(job.backfills):
        values: dict[str, Any] = {
            "kind": "backfill",
            "zone_id": stretch.zone_id,
            "signed_by": stretch.signed_by,
            "signed_at": stretch.signed_at,
        }
        parts = covered(job, "backfill", stretch.zone_id)
        values.update(digest=whole_digest(parts, values), covered=json.dumps(parts))
        made.append(row(SignOff, f"sign-{no}", **values))
    return replace(job, sign_offs=tuple(made))


def put(job: LoadedJob, table: str, row_id: str, **values: object) -> LoadedJob:
    """The job with columns of one row changed; the row is added if it is missing."""
    rows = job.tables()[table]
    record = TABLES[table]
    old = next((one for one in rows if one.id == row_id), None)
    kept = old.model_dump() if old is not None else {"id": row_id, "job_id": JOB}
    new = record(**{**kept, **values})
    changed = tuple(new if one.id == row_id else one for one in rows)
    return _with(job, table, changed if old is not None else (*rows, new))


def without(job: LoadedJob, *tables: str) -> LoadedJob:
    """The job with nothing in these tables."""
    for table in tables:
        job = _with(job, table, ())
    return job


def _with(job: LoadedJob, table: str, rows: tuple[Record, ...]) -> LoadedJob:
    """The job with other rows in a table."""
    held: Any = rows
    if TABLES[table].once:
        held = rows[-1] if rows else None
    changes: dict[str, Any] = {FIELD_OF[table]: held}
    return replace(job, **changes)


def mend(job: LoadedJob, finding: Finding, value: object) -> LoadedJob:
    """The job with this value in the cell that a flag points at."""
    return put(job, finding.at.table, finding.at.row_id, **{finding.at.column: value})


def codes(job: LoadedJob) -> list[str]:
    """The names of a job's flags, without those on sign-offs, which builders leave out."""
    return [finding.code for finding in check(job) if finding.code != UNSIGNED]


def only(job: LoadedJob, code: str) -> Finding:
    """The one flag of this name; the test fails if there is none or more than one."""
    found = [finding for finding in check(job) if finding.code == code]
    assert len(found) == 1, [finding.sentence for finding in check(job)]
    return found[0]
