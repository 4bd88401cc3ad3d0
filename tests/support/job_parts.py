"""The parts that jobs in memory are built of: single rows, and the rows of one thing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, TypeVar

from fieldbook.records.base import Record
from fieldbook.records.ids import (
    backfill_id,
    flush_id,
    head_id,
    once_id,
    pressure_test_id,
    terminal_id,
    valve_id,
    zone_shown_id,
)
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.flush_backfill import (
    FLUSH_STEPS,
    MAINLINE_STEPS,
    Backfill,
    Flush,
)
from fieldbook.records.tables.job import Job
from fieldbook.records.tables.owner.walk_through import WalkThrough, ZoneShown
from fieldbook.records.tables.permits import LocateTicket, Permit, UtilityAnswer
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.supply import FlowTestPoint, Supply
from fieldbook.records.tables.tests import BackflowTest, PressureTest
from fieldbook.records.tables.wires import Cable, Conductor, Valve
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


def walked_through(**values: object) -> WalkThrough:
    """The walk-through of an owner who was shown and given everything, but for the values given."""
    done: dict[str, Any] = {"owner": "A. Customer", "held_at": "2026-05-03T15:00"}
    done |= {"shown_by": "AB", "season_taught": True, "checklist": True, "manual": True}
    done |= {"schedule": True, "parts_list": True, "drawing": True}
    return row(WalkThrough, once_id(JOB, "walk_through"), **{**done, **values})


def shown_to_owner(number: int, shown_min: float = 5.0) -> ZoneShown:
    """Zone `number`, that ran for so long while the owner watched."""
    owner = f"zone-{number}"
    return row(ZoneShown, zone_shown_id(owner), zone_id=owner, shown_min=shown_min)


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
        # As published friction charts have it; a job where nothing is chosen has average bores.
        "pipe_bores": "minimum wall",
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
