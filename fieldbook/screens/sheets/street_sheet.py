"""The street: what the supply gives, the flow test, the backflow assembly."""

from __future__ import annotations

from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.supply import FlowTestPoint, Supply
from fieldbook.records.tables.tests import BackflowTest
from fieldbook.screens.sheets.options import link_options
from fieldbook.screens.sheets.sheet import Cell, CellMaker, Row, Section, Sheet, add_row
from fieldbook.units import System


def street(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the street."""
    return Sheet((_supply(job, system), _flow_test(job, system), *_backflow(job, system)))


def _supply(job: LoadedJob, system: System) -> Section:
    row_id = once_id(job.job.id, "supply") if job.supply is None else job.supply.id
    make = CellMaker(Supply, "supply", row_id, job.supply, system)
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
    rows.append(add_row("add flow test", "flow_test_point", None, "+ a flow test reading"))
    return Section(
        "Flow test", tuple(rows), ("Residual", "Flow", "Bucket", "Filled in"), label_width=12
    )


def _reading(point: FlowTestPoint, system: System) -> tuple[Cell, ...]:
    """A reading's cells: a flow, or a bucket and its time."""
    make = CellMaker(FlowTestPoint, "flow_test_point", point.id, point, system)
    bucket = point.bucket_gal is not None or point.bucket_s is not None
    return (
        make.cell("residual_psi"),
        make.cell("flow_gpm", wanted=not bucket),
        make.cell("bucket_gal", wanted=bucket and point.flow_gpm is None),
        make.cell("bucket_s", wanted=bucket and point.flow_gpm is None),
    )


def _backflow(job: LoadedJob, system: System) -> list[Section]:
    sections = []
    several = len(job.backflow_assemblies) > 1
    for count, one in enumerate(job.backflow_assemblies, start=1):
        make = CellMaker(BackflowAssembly, "backflow_assembly", one.id, one, system)
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
            above_grade_in=one.kind == "RP",
            critical_level_ft=one.kind not in ("RP", "DC"),
            pvc_painted=one.exposed_pvc is True,
        )
        removable = ("backflow_assembly", one.id)
        sections.append(
            Section(title, tuple(Row(r.label, r.cells, removable=removable) for r in rows))
        )
    sections.append(
        Section(
            "Backflow assembly" if not sections else "",
            (add_row("add backflow", "backflow_assembly", None, "+ a backflow assembly"),),
        )
    )
    return [*sections, _tests(job, system)] if job.backflow_assemblies else sections


def _tests(job: LoadedJob, system: System) -> Section:
    """The tester's readings, newest last."""
    links = link_options([(one.id, one.name or one.kind or "?") for one in job.backflow_assemblies])
    rows = []
    for one in job.backflow_tests:
        make = CellMaker(BackflowTest, "backflow_test", one.id, one, system)
        of = job.row(one.assembly_id)
        name = (of.name or of.kind or "?") if isinstance(of, BackflowAssembly) else ""
        cells = (
            make.cell("tested_on", 10),
            make.cell("tester", 18),
            make.cell("check_1_psi", 9),
            make.cell("check_2_psi", 9),
            make.cell("relief_psi", 9),
            make.cell("inlet_psi", 9),
            make.cell("certified", 9),
            make.cell("tester_no", 12),
            make.cell("why", 9),
            make.cell("assembly_id", 14, options=links, text=name),
        )
        rows.append(Row("Test", cells, removable=("backflow_test", one.id)))
    rows.append(
        add_row("add backflow test", "backflow_test", None, "+ a test by a licensed tester")
    )
    heads = (
        *("Tested", "Tester", "Check 1", "Check 2", "Relief", "Inlet", "Certified", "Tester no."),
        *("Why", "Assembly"),
    )
    return Section("Backflow tests", tuple(rows), heads, label_width=5)
