"""The street: whose property it is, what the supply gives, the hazards, the backflow assembly."""

from __future__ import annotations

from fieldbook.actions.usual import no_hazards
from fieldbook.checks.common.water_source import has_meter
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.job import Job
from fieldbook.records.tables.supply import HAZARDS, FlowTestPoint, IsolationValve, Supply
from fieldbook.records.tables.tests import BackflowTest
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import AddRow, AnswerAll
from fieldbook.screens.sheets.sheet import (
    Asked,
    Cell,
    CellMaker,
    Count,
    Row,
    Section,
    Sheet,
    add_line,
    blanks,
    press_cell,
    table_section,
)
from fieldbook.screens.sheets.sign_off_sections import sign_off_section
from fieldbook.trade.backflow import AVB_KINDS, PASS_VALUES, TEST_TICKS
from fieldbook.trade.cautions import cautions_at
from fieldbook.units import System

_WHO = ("address", "customer", "phone", "email", "billing_address", "access", "units")
_METERED = ("meter_size", "service_class", "service_size", "service_length_ft")
"""What is asked only where the water comes through a street meter: a well has none."""
_READINGS = ("check_1_psi", "check_2_psi", "relief_psi", "inlet_psi")
_TICKS = ("check_1_tight", "check_2_tight", "opened_fully")


def street(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the street."""
    return Sheet(
        (
            _property(job, system),
            _supply(job, system),
            _isolation(job, system),
            _flow_test(job, system),
            _hazards(job, system),
            *_backflow(job, system),
            sign_off_section(job, "in service"),
        )
    )


def open_at_street(job: LoadedJob) -> Count:
    """How many cells the sheet asks for and how many are open, counted without building it."""
    count = blanks(Job, [job.job]) + blanks(Supply, [job.supply], _asked_of_supply(job))
    count += blanks(IsolationValve, job.isolation_valves)
    for point in job.flow_test_points:
        count += blanks(FlowTestPoint, [point], _asked_of_reading(point))
    for assembly in job.backflow_assemblies:
        count += blanks(BackflowAssembly, [assembly], _asked_of_assembly(assembly))
    # Without an assembly the sections of its tests are not shown.
    return count + blanks(BackflowTest, job.backflow_tests if job.backflow_assemblies else ())


def _property(job: LoadedJob, system: System) -> Section:
    make = CellMaker(Job, job.job.id, job.job, system)
    rows = make.form(*_WHO, width=50)
    return Section("Property", tuple(rows), label_width=16)


def _maker(job: LoadedJob, system: System) -> CellMaker:
    """Makes the cells of the supply's row."""
    row_id = once_id(job.job.id, "supply") if job.supply is None else job.supply.id
    return CellMaker(Supply, row_id, job.supply, system, asked=_asked_of_supply(job))


def _asked_of_supply(job: LoadedJob) -> Asked:
    """Each hazard is asked; a meter and its service line only where the source is the street."""
    metered = has_meter(job)
    asked = dict.fromkeys(_METERED, metered) | {"source_gpm": not metered}
    pumped = job.supply is not None and job.supply.pump is True
    return asked | dict.fromkeys(HAZARDS, True) | {"pump_side": pumped}


def _supply(job: LoadedJob, system: System) -> Section:
    gives = (
        ("meter_size", "meter_number", "meter_safe_gpm", *_METERED[1:])
        if has_meter(job)
        else ("source_gpm",)
    )
    rows = _maker(job, system).form(
        "source",
        "static_psi",
        "behind_regulator",
        "static_where",
        *gives,
        "elevation_ft",
    )
    title = "Pressure, meter, service line" if has_meter(job) else "Pressure and source"
    return Section(title, tuple(rows), label_width=25)


def _isolation(job: LoadedJob, system: System) -> Section:
    """The valves that shut off a part of the pipe."""
    return table_section(
        job.isolation_valves,
        IsolationValve,
        system,
        "Isolation valves",
        (("location", 24), ("shuts", 22), ("kind", 14), ("found", 9)),
        AddRow("isolation_valve", "isolation valve", "location"),
    )


def _hazards(job: LoadedJob, system: System) -> Section:
    """Each hazard by itself; the first line answers all of them."""
    make, supply = _maker(job, system), job.supply
    none = supply is not None and all(getattr(supply, column) is False for column in HAZARDS)
    why = "Space answers no to each hazard that is not answered yet; Ctrl+Z takes it back."
    at = CellRef("supply", make.row_id, "none of these")
    act = AnswerAll((("Space", "none of these"),), no_hazards)
    press = press_cell(act, at, "none of these" if none else "-", 34, why)
    columns = (*HAZARDS, "pump_side") if supply is not None and supply.pump else HAZARDS
    rows = (Row("None of these", (press,)), *make.form(*columns))
    return Section("Hazards, each asked by itself", rows, label_width=25)


def _flow_test(job: LoadedJob, system: System) -> Section:
    rows = [
        Row(
            f"Reading {count}",
            _reading(point, system),
            removable=("flow_test_point", point.id),
        )
        for count, point in enumerate(job.flow_test_points, start=1)
    ]
    rows.append(
        add_line(AddRow("flow_test_point", "flow test", "residual_psi"), "+ a flow test reading")
    )
    heads = ("Residual", "Flow", "Bucket", "Filled in")
    return Section("Flow test", tuple(rows), heads, 12, cautions_at("flow test"))


def _reading(point: FlowTestPoint, system: System) -> tuple[Cell, ...]:
    """A reading's cells: a flow, or a bucket and its time."""
    make = CellMaker(FlowTestPoint, point.id, point, system, asked=_asked_of_reading(point))
    return tuple(map(make.cell, ("residual_psi", "flow_gpm", "bucket_gal", "bucket_s")))


def _asked_of_reading(point: FlowTestPoint) -> Asked:
    """A flow is asked for, or the bucket and its time once either of these is there."""
    bucket = point.bucket_gal is not None or point.bucket_s is not None
    timed = bucket and point.flow_gpm is None
    return {"flow_gpm": not bucket, "bucket_gal": timed, "bucket_s": timed}


def _backflow(job: LoadedJob, system: System) -> list[Section]:
    """Each assembly, the line that adds one, then the tests of those that have a field test."""
    sections = []
    several = len(job.backflow_assemblies) > 1
    for count, one in enumerate(job.backflow_assemblies, start=1):
        make = CellMaker(BackflowAssembly, one.id, one, system, asked=_asked_of_assembly(one))
        title = "Backflow assembly" + (f" {count}" if several else "")
        rows = [
            Row(row.label, row.cells, removable=("backflow_assembly", one.id))
            for row in make.form(*_columns_of_assembly(one))
        ]
        sections.append(
            Section(title, tuple(rows), label_width=25, cautions=cautions_at("backflow"))
        )
    add = AddRow("backflow_assembly", "backflow", "kind")
    line = (add_line(add, "+ a backflow assembly"),)
    if not sections:
        return [Section("Backflow assembly", line, cautions=cautions_at("backflow"))]
    return [*sections, Section("", line), *_tests(job, system)]


def _columns_of_assembly(assembly: BackflowAssembly) -> list[str]:
    """What is shown of an assembly, in the order of the work: an AVB is inspected, not tested."""
    looked_at = assembly.kind in AVB_KINDS or assembly.inspected_on or assembly.inspected_by
    return [
        *("kind", "name", "make", "model", "size", "serial", "installed_on"),
        *("critical_level_ft", "above_grade_in"),
        *("valve_after", "back_pressure", "drain", "exposed_pvc", "pvc_painted"),
        *("loss_psi", "loss_curve", "moved_on", "repaired_on"),
        *(("inspected_on", "inspected_by") if looked_at else ()),
    ]


def _asked_of_assembly(assembly: BackflowAssembly) -> Asked:
    """Each kind is measured at another point; paint matters where PVC is in the sun."""
    inspected = assembly.kind in AVB_KINDS
    return {
        "above_grade_in": assembly.kind == "RP",
        "critical_level_ft": assembly.kind not in ("RP", "DC"),
        "pvc_painted": assembly.exposed_pvc is True,
        "inspected_on": inspected,
        "inspected_by": inspected,
    }


def _tests(job: LoadedJob, system: System) -> list[Section]:
    """The tester's reports, newest last, each with the readings of its assembly's kind."""
    sections = []
    for count, test in enumerate(job.backflow_tests, start=1):
        make = CellMaker(BackflowTest, test.id, test, system)
        rows = make.form("tested_on", "why", "tester", "tester_no", *_readings(job, test))
        if len(job.backflow_assemblies) > 1:
            cell = link_cell(make, job, "assembly_id", 34)
            rows.insert(1, Row(cell.fact.label, (cell,)))
        rows += make.form("certified")
        removable = ("backflow_test", test.id)
        shown = tuple(Row(row.label, row.cells, removable=removable) for row in rows)
        sections.append(Section(f"Backflow test {count}", shown, label_width=25))
    if all(one.kind in AVB_KINDS for one in job.backflow_assemblies):
        return sections
    adds = AddRow("backflow_test", "backflow test", "tested_on")
    title = "" if sections else "Backflow tests"
    return [*sections, Section(title, (add_line(adds, "+ a test by a licensed tester"),))]


def _readings(job: LoadedJob, test: BackflowTest) -> list[str]:
    """The columns that a report on this kind has, in the order of the test, and any filled in."""
    assemblies = job.backflow_assemblies
    named = [one for one in assemblies if one.id == test.assembly_id] or list(assemblies[:1])
    kind = named[0].kind or ""
    wanted = [value.column for value in PASS_VALUES.get(kind, ())]
    wanted += [column for column, _ in TEST_TICKS.get(kind, ())]
    if kind not in PASS_VALUES and kind not in AVB_KINDS:
        wanted = [*_READINGS, *_TICKS]
    held = [one for one in (*_READINGS, *_TICKS) if getattr(test, one) is not None]
    return list(dict.fromkeys([*wanted, *held]))
