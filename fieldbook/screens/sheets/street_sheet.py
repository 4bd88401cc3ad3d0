"""The street: pressure, meter and service line, the flow test, the backflow assembly, its tests."""

from __future__ import annotations

from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.supply import FlowTestPoint, Supply
from fieldbook.records.tables.tests import BackflowTest
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import AddRow
from fieldbook.screens.sheets.sheet import (
    Asked,
    Cell,
    CellMaker,
    Row,
    Section,
    Sheet,
    add_line,
    blanks,
)
from fieldbook.units import System


def street(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the street."""
    return Sheet((_supply(job, system), _flow_test(job, system), *_backflow(job, system)))


def open_at_street(job: LoadedJob) -> int:
    """How many cells of the sheet still want a value, counted without building it."""
    count = blanks(Supply, [job.supply])
    for point in job.flow_test_points:
        count += blanks(FlowTestPoint, [point], _asked_of_reading(point))
    for assembly in job.backflow_assemblies:
        count += blanks(BackflowAssembly, [assembly], _asked_of_assembly(assembly))
    # Without an assembly the section of its tests is not shown.
    return count + (blanks(BackflowTest, job.backflow_tests) if job.backflow_assemblies else 0)


def _supply(job: LoadedJob, system: System) -> Section:
    row_id = once_id(job.job.id, "supply") if job.supply is None else job.supply.id
    make = CellMaker(Supply, row_id, job.supply, system)
    rows = make.form(
        "static_psi",
        "static_where",
        "meter_size",
        "meter_safe_gpm",
        "service_class",
        "service_size",
        "service_length_ft",
        "elevation_ft",
        "chemicals",
        "septic",
        "second_source",
        "pump",
    )
    return Section("Pressure, meter, service line, hazards", tuple(rows))


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
    return Section(
        "Flow test", tuple(rows), ("Residual", "Flow", "Bucket", "Filled in"), label_width=12
    )


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
    sections = []
    several = len(job.backflow_assemblies) > 1
    for count, one in enumerate(job.backflow_assemblies, start=1):
        make = CellMaker(BackflowAssembly, one.id, one, system, asked=_asked_of_assembly(one))
        title = "Backflow assembly" + (f" {count}" if several else "")
        rows = make.form(
            "kind",
            "name",
            "size",
            "serial",
            "critical_level_ft",
            "above_grade_in",
            "loss_psi",
            "loss_curve",
            "exposed_pvc",
            "pvc_painted",
            "valve_after",
            "back_pressure",
            "drain",
        )
        removable = ("backflow_assembly", one.id)
        sections.append(
            Section(title, tuple(Row(r.label, r.cells, removable=removable) for r in rows))
        )
    sections.append(
        Section(
            "Backflow assembly" if not sections else "",
            (add_line(AddRow("backflow_assembly", "backflow", "kind"), "+ a backflow assembly"),),
        )
    )
    return [*sections, _tests(job, system)] if job.backflow_assemblies else sections


def _asked_of_assembly(assembly: BackflowAssembly) -> Asked:
    """Each kind is measured at another point; paint matters where PVC is in the sun."""
    return {
        "above_grade_in": assembly.kind == "RP",
        "critical_level_ft": assembly.kind not in ("RP", "DC"),
        "pvc_painted": assembly.exposed_pvc is True,
    }


def _tests(job: LoadedJob, system: System) -> Section:
    """The tester's readings, newest last."""
    rows = []
    for test in job.backflow_tests:
        make = CellMaker(BackflowTest, test.id, test, system)
        cells = (
            *make.cells(tested_on=10, tester=18, check_1_psi=9, check_2_psi=9, relief_psi=9),
            *make.cells(inlet_psi=9, certified=9, tester_no=12, why=9),
            link_cell(make, job, "assembly_id", 14),
        )
        rows.append(Row("Test", cells, removable=("backflow_test", test.id)))
    adds = AddRow("backflow_test", "backflow test", "tested_on")
    rows.append(add_line(adds, "+ a test by a licensed tester"))
    heads = (
        *("Tested", "Tester", "Check 1", "Check 2", "Relief", "Inlet", "Certified", "Tester no."),
        *("Why", "Assembly"),
    )
    return Section("Backflow tests", tuple(rows), heads, label_width=5)
