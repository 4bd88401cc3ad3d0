"""Small builders of loaded jobs in memory: a bare job, and a sound one to spoil one thing of."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, TypeVar

from fieldbook.checks.finding import Finding
from fieldbook.checks.looked import STAGES, Stage
from fieldbook.checks.progress.digests import covered, whole_digest
from fieldbook.checks.registry import verdicts
from fieldbook.checks.verdicts import Verdicts
from fieldbook.records.base import Record, natural_id
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
from fieldbook.records.tables.flush_backfill import (
    FLUSH_STEPS,
    MAINLINE_STEPS,
    Backfill,
    Flush,
)
from fieldbook.records.tables.job import Job
from fieldbook.records.tables.permits import LocateTicket, Permit, UtilityAnswer
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.records.tables.supply import FlowTestPoint, Supply
from fieldbook.records.tables.tests import BackflowTest, PressureTest
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.records.tables.wires import Cable, Conductor, Valve, ValveBox
from fieldbook.records.tables.zones import Head, Zone
from fieldbook.trade.backflow import AVB_KINDS, PASS_VALUES, TEST_TICKS

JOB = "job-1"
CABLE = "cable-1"
COLOURS = ("white", "red", "blue", "green", "orange", "black", "yellow", "brown")
R = TypeVar("R", bound=Record)
UNSIGNED = "no sign-off on record"
TODAY = date(2026, 5, 10)
"""The day on which built jobs are checked, so that no test waits for a day that passes."""


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
    """One cable with a white common; the colours at the valves and under the terminals."""
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
    """The finished flush of zone `number`, or of the mainline (None), but for the steps given."""
    owner = None if number is None else f"zone-{number}"
    done: dict[str, Any] = {
        "let_on_by": "by hand",
        "came_out_at": "line ends",
        **dict.fromkeys(MAINLINE_STEPS if number is None else FLUSH_STEPS, True),
    }
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


def digging() -> dict[str, tuple[Record, ...]]:
    """A permit and a locate ticket that was clear, with every answer, before anybody dug."""
    return {
        "permits": (row(Permit, "permit-1", kind="irrigation", number="26-118"),),
        "locate_tickets": (
            row(
                LocateTicket,
                "ticket-1",
                number="260401",
                called_on="2026-04-14",
                marked_on="2026-04-17",
                starts_on="2026-04-20",
                clear_on="2026-04-20",
                private_lines=True,
                dug_from="2026-04-20",
                dug_until="2026-04-24",
            ),
        ),
        "utility_answers": tuple(
            row(UtilityAnswer, f"answer-{no}", ticket_id="ticket-1", utility=name, answer=answer)
            for no, (name, answer) in enumerate((("power", "marked"), ("gas", "clear")), start=1)
        ),
    }


def street(**values: object) -> dict[str, object]:
    """What feeds the property, every question answered: 62 psi, a 3/4 in meter, no hazard."""
    known: dict[str, Any] = {
        "static_psi": 62.0,
        "behind_regulator": False,
        "meter_size": "3/4",
        "service_class": "copper L",
        "service_size": "1",
        "service_length_ft": 40.0,
        "elevation_ft": 0.0,
        **dict.fromkeys(("chemicals", "septic", "second_source", "pump"), False),
    }
    return {
        "supply": row(Supply, once_id(JOB, "supply"), **{**known, **values}),
        "flow_test_points": (row(FlowTestPoint, "flow-test-1", flow_gpm=25.0, residual_psi=45.0),),
    }


ASSEMBLY = "backflow-1"


def assembly(kind: str = "PVB", **values: object) -> BackflowAssembly:
    """A sound assembly of a kind: high enough, rightly used; an AVB is inspected."""
    sound: dict[str, Any] = {
        "name": "left of the garage",
        "size": "1",
        "serial": "77",
        "installed_on": "2026-04-30",
        "critical_level_ft": 1.5,
        "above_grade_in": 14.0,
        "valve_after": False,
        "back_pressure": False,
        "drain": True,
        "exposed_pvc": False,
    }
    if kind in AVB_KINDS:
        sound.update(inspected_on="2026-05-02", inspected_by="C. Inspector")
    return row(BackflowAssembly, ASSEMBLY, kind=kind, **{**sound, **values})


def field_test(kind: str = "PVB", **values: object) -> BackflowTest:
    """A full test report of a kind that passes by a little."""
    report: dict[str, Any] = {
        "tested_on": "2026-05-02",
        "tester": "B. Tester",
        "certified": True,
        **{value.column: value.least_psi + 0.5 for value in PASS_VALUES[kind]},
        **{column: True for column, _ in TEST_TICKS.get(kind, ())},
    }
    return row(BackflowTest, "test-1", assembly_id=ASSEMBLY, **{**report, **values})


def _tied() -> dict[str, tuple[Record, ...]]:
    """The valve box tied to two corners of the house, 40 ft apart."""
    corners = tuple(
        row(FixedPoint, f"corner-{no}", name=f"house corner {no}", east_ft=east, north_ft=0.0)
        for no, east in enumerate((0.0, 40.0), start=1)
    )
    tie = row(
        Tie,
        "tie-1",
        thing="valve box",
        name="A",
        box_id="box-1",
        point_1_id="corner-1",
        tape_1_ft=30.0,
        point_2_id="corner-2",
        tape_2_ft=30.0,
        side="left",
    )
    return {"fixed_points": corners, "ties": (tie,)}


def sound_job(zones: int = 2, units: str = "us") -> LoadedJob:
    """A finished property in which nothing is wrong and nothing is left to check.

    It has no sign-off: `signed_off` adds those of its stretches, `all_signed` every one.
    """
    numbers = range(1, zones + 1)
    pipes = [lateral(number, (2.0, 2.0, 2.0), rise_ft=0.0) for number in numbers]
    main = row(
        PipeRun, "main-1", number=1, size="1", pipe_class="pvc sch 40", length_ft=40.0, rise_ft=0.0
    )
    colours = COLOURS[1 : zones + 1]
    wires = wired_job(colours, colours)
    parts: dict[str, Any] = {**street(), **digging(), **_tied()}
    return replace(
        wires,
        job=Job(id=JOB, address="12 Elm Street", customer="A. Customer", units=units),
        backflow_assemblies=(assembly(),),
        backflow_tests=(field_test(),),
        zones=tuple(zone(number, name=f"lawn {number}", head_kind="spray") for number in numbers),
        pipe_runs=(main, *(run for runs, _ in pipes for run in runs)),
        heads=tuple(head for _, heads in pipes for head in heads),
        valve_boxes=(row(ValveBox, "box-1", name="A", location="by the drive", on_base=True),),
        cables=(
            row(
                Cable,
                CABLE,
                name="1",
                common_colour="white",
                common_waterproof=True,
                cover_in=12.0,
                under_driveway=False,
            ),
        ),
        valves=tuple(
            valve(number, colour, splice_waterproof=True, box_id="box-1")
            for number, colour in zip(numbers, colours, strict=True)
        ),
        terminals=(
            common_terminal("white"),
            *(
                terminal(number, colour, day_1_ohm=32.0)
                for number, colour in zip(numbers, colours, strict=True)
            ),
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
        pressure_tests=(pressure_tested(None),),
        backfills=(buried(None), *(buried(number) for number in numbers)),
        **parts,
    )


_BEGINS: Mapping[Stage, tuple[str, ...]] = {
    "survey": ("supply", "flow_test_point"),
    "design": ("zone", "pipe_run", "head"),
    "dig": ("permit", "locate_ticket", "utility_answer"),
    "lay": ("pressure_test", "flush"),
    "wire": ("valve_box", "cable", "conductor", "valve", "fixed_point", "tie"),
    "bury": ("backfill",),
    "control": ("controller", "terminal"),
    "service": ("backflow_assembly", "backflow_test"),
}
"""By stage, the tables of a sound job that are filled as its work is done."""


def sound_up_to(stage: Stage, zones: int = 2) -> LoadedJob:
    """A sound job whose work is done up to a stage, and not begun after it."""
    job = sound_job(zones)
    for later in STAGES[STAGES.index(stage) + 1 :]:
        job = without(job, *_BEGINS.get(later, ()))
    return job


def signed_off(job: LoadedJob) -> LoadedJob:
    """The job with a sign-off on record for every stretch that says it is signed."""
    for stretch in job.backfills:
        job = signed(job, "backfill", stretch.signed_at, stretch.zone_id, stretch.signed_by)
    return job


def signed(
    job: LoadedJob, kind: str, at: str, zone_id: str | None = None, by: str = "AB"
) -> LoadedJob:
    """The job with one more sign-off, over what is in its record now."""
    values: dict[str, Any] = {"kind": kind, "zone_id": zone_id, "signed_by": by, "signed_at": at}
    parts = covered(job, kind, zone_id)
    values.update(digest=whole_digest(parts, values), covered=json.dumps(parts))
    made = row(SignOff, f"sign-{len(job.sign_offs)}", **values)
    return replace(job, sign_offs=(*job.sign_offs, made))


_DAY_SIGNED = {
    "price": "2026-04-13",
    "dig": "2026-04-20",
    "pressurise": "2026-04-29",
    "wire backfill": "2026-05-01",
    "energise": "2026-05-01",
    "in service": "2026-05-03",
    "handover": "2026-05-04",
    "close": "2026-05-05",
}


def all_signed(job: LoadedJob, last: str = "close") -> LoadedJob:
    """The job with every sign-off in the order of the work, up to and with `last`."""
    job = signed_off(job)
    for kind, day in _DAY_SIGNED.items():
        job = signed(job, kind, f"{day}T08:00:00-05:00")
        if kind == last:
            break
    return job


def put(job: LoadedJob, table: str, row_id: str, **values: object) -> LoadedJob:
    """The job with columns of one row changed, the row made if it is not there yet."""
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


def ruled(job: LoadedJob, key: str, value: object, source: str = "Local 1-1") -> LoadedJob:
    """The job under a local rule."""
    row_id = natural_id(JOB, "rule", key)
    return put(job, "rule", row_id, key=key, value=json.dumps(value), source=source)


def mend(job: LoadedJob, finding: Finding, value: object) -> LoadedJob:
    """The job after the cell that a flag points at was given a value."""
    return put(job, finding.at.table, finding.at.row_id, **{finding.at.column: value})


def checked(job: LoadedJob) -> Verdicts:
    """Every answer of a job on the day that built jobs are checked on."""
    return verdicts(job, TODAY)


def codes(job: LoadedJob) -> list[str]:
    """The names of all flags of a job, but for its sign-offs, which builders leave out."""
    return [finding.code for finding in checked(job).flags if finding.code != UNSIGNED]


def only(job: LoadedJob, code: str) -> Finding:
    """The one flag of this name; fails if there is none or more than one."""
    flags = checked(job).flags
    found = [finding for finding in flags if finding.code == code]
    assert len(found) == 1, [finding.sentence for finding in flags]
    return found[0]


def open_words(job: LoadedJob, check: str = "") -> list[str]:
    """What is missing of everything that is due and not checked, of one check or of all."""
    answers = checked(job).not_checked
    return [one.words for a in answers if check in ("", a.check) for one in a.missing]


def words_of(job: LoadedJob, check: str) -> set[str]:
    """The words of a check's answers: sound, wrong, not checked, not due."""
    return {answer.word for answer in checked(job).answers if answer.check == check}
