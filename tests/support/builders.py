"""Small builders of loaded jobs in memory: a bare job, and a sound one to spoil one thing of."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from job_parts import (
    ASSEMBLY,
    CABLE,
    COLOURS,
    JOB,
    TODAY,
    UNSIGNED,
    R,
    assembly,
    bare_job,
    buried,
    common_terminal,
    conductors,
    digging,
    field_test,
    flushed,
    lateral,
    pressure_tested,
    row,
    shown_to_owner,
    street,
    terminal,
    valve,
    walked_through,
    wired_job,
    zone,
)

from fieldbook.checks.finding import Finding
from fieldbook.checks.looked import STAGES, Stage
from fieldbook.checks.progress.digests import covered, whole_digest
from fieldbook.checks.registry import verdicts
from fieldbook.checks.verdicts import Verdicts
from fieldbook.records.base import Record, natural_id
from fieldbook.records.ids import (
    once_id,
    terminal_id,
    valve_id,
)
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.controller import Controller
from fieldbook.records.tables.job import Job
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.records.tables.wires import Cable, ValveBox

__all__ = [
    "ASSEMBLY",
    "CABLE",
    "COLOURS",
    "JOB",
    "TODAY",
    "UNSIGNED",
    "R",
    "all_signed",
    "assembly",
    "bare_job",
    "buried",
    "checked",
    "codes",
    "common_terminal",
    "conductors",
    "digging",
    "field_test",
    "flushed",
    "lateral",
    "mend",
    "only",
    "open_words",
    "pressure_tested",
    "put",
    "row",
    "ruled",
    "signed",
    "signed_off",
    "sound_job",
    "sound_up_to",
    "street",
    "terminal",
    "valve",
    "wired_job",
    "with_rows",
    "without",
    "words_of",
    "zone",
]


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
    striped = (f"{wire}/{stripe}" for stripe in COLOURS for wire in COLOURS if wire != stripe)
    colours = (*COLOURS[1:], *striped)[:zones]
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
        walk_through=walked_through(),
        zones_shown=tuple(shown_to_owner(number) for number in numbers),
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
    "handover": ("walk_through", "zone_shown"),
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
    "walk-through": "2026-05-04",
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
    kept = old.values() if old is not None else {"id": row_id, "job_id": JOB}
    new = record(**{**kept, **values})
    changed = tuple(new if one.id == row_id else one for one in rows)
    return with_rows(job, table, changed if old is not None else (*rows, new))


def own_values(row: Record) -> dict[str, Any]:
    """The values of a row but for what says which row it is."""
    return {name: value for name, value in row.values().items() if name not in ("id", "job_id")}


def without(job: LoadedJob, *tables: str) -> LoadedJob:
    """The job with nothing in these tables."""
    for table in tables:
        job = with_rows(job, table, ())
    return job


def with_rows(job: LoadedJob, table: str, rows: tuple[Record, ...]) -> LoadedJob:
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


def number(finding: Finding, name: str) -> float:
    """One figure of a flag."""
    return next(one.value for one in finding.numbers if one.name == name)


def t(number_: int) -> str:
    """The id of a zone terminal."""
    return terminal_id(JOB, "zone", number_)


def energised(job: LoadedJob, number_: int, *zones: str) -> LoadedJob:
    """The job with a terminal energised: these zones ran, or none."""
    values: dict[str, object] = {"ran_nothing": True} if not zones else {"ran_zone_id": zones[0]}
    if len(zones) > 1:
        values["ran_also_id"] = zones[1]
    return put(job, "terminal", t(number_), **values)


def metered(**ohms: float) -> LoadedJob:
    """Three zones with 30 ohm coils 300 ft away on 18 gauge; terminal 1 read so."""
    job = wired_job(("red", "blue", "green"), ("red", "blue", "green"))
    job = put(job, "cable", CABLE, gauge_awg="18")
    for number_ in (1, 2, 3):
        job = put(job, "valve", valve_id(f"zone-{number_}"), coil_ohm=30.0, wire_ft=300.0)
    return put(job, "terminal", t(1), **ohms)
