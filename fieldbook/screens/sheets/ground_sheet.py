"""The ground: zones, flush, backfill, mainline and laterals."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.actions.signing import flushed
from fieldbook.checks.ground.pressure_test import cured_at
from fieldbook.checks.water.zone_solutions import zone_groups
from fieldbook.checks.water.zone_status import HeadWord, head_word
from fieldbook.records.ids import backfill_id, flush_id, head_id, pressure_test_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import FLUSH_STEPS, Backfill, Flush
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.tests import PressureTest
from fieldbook.records.tables.zones import Head, Zone
from fieldbook.screens.sheets.options import link_options, zone_label
from fieldbook.screens.sheets.sheet import (
    Cell,
    CellMaker,
    Mood,
    Row,
    Section,
    Sheet,
    act_cell,
    add_row,
)
from fieldbook.units import PRESSURE, System, show

_PIPE_HEADS = ("After", "Size", "Class", "Length", "Rise")
_HEAD_HEADS = (
    "Nozzle",
    "Rated at",
    "Head",
    "Arc",
    "Radius",
    "Min",
    "Max",
    "Regulated",
    "Elevation",
    "Pops up",
)


_MOODS: Mapping[HeadWord | None, Mood] = {
    None: "",
    "good": "good",
    "tight": "tight",
    "low": "bad",
    "dry": "bad",
    "high": "bad",
}


def ground(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the ground."""
    return Sheet(
        (
            _zones(job, system),
            _flush(job, system),
            _backfill(job, system),
            _pressure(job, system),
            _runs(job, system, None),
            *(_runs(job, system, zone) for zone in job.zones),
        )
    )


def _zones(job: LoadedJob, system: System) -> Section:
    several = len(job.backflow_assemblies) > 1
    links = link_options([(one.id, one.name or one.kind or "?") for one in job.backflow_assemblies])
    together = link_options([(one.id, str(one.number or one.name)) for one in job.zones])
    rows = []
    for zone in job.zones:
        make = CellMaker(Zone, "zone", zone.id, zone, system)
        cells = [
            make.cell("number", 4),
            make.cell("name", 19),
            make.cell("head_kind", 13),
            make.cell("design_flow_gpm", 11, wanted=not job.runs_of(zone.id)),
            make.cell("waters", 10),
            make.cell("needed_psi", 9),
            make.cell("runs_with", 9, options=together, text=_partner(job, zone)),
            make.cell("pressure_h", 10),
        ]
        if several:
            assembly = job.backflow_of(zone)
            name = (assembly.name or assembly.kind or "?") if assembly else ""
            cells.append(make.cell("backflow_id", 14, options=links, text=name))
        rows.append(Row("Zone", tuple(cells), removable=("zone", zone.id)))
    rows.append(add_row("add zone", "zone", None, "+ a zone"))
    heads = (
        "No.",
        "Name",
        "Heads",
        "Design flow",
        "Waters",
        "Needs",
        "Runs with",
        "Hours",
        "Backflow",
    )
    return Section("Zones", tuple(rows), heads if several else heads[:-1], label_width=5)


def _partner(job: LoadedJob, zone: Zone) -> str:
    other = job.zone(zone.runs_with)
    return str(other.number or other.name) if other is not None else ""


def _flush(job: LoadedJob, system: System) -> Section:
    rows = []
    stretches: list[Zone | None] = [*([None] if job.runs_of(None) else []), *job.zones]
    for zone in stretches:
        zone_id = zone.id if zone is not None else None
        seed = {"zone_id": zone_id}
        row_id, log = flush_id(zone_id or job.job.id), job.flush_of(zone_id)
        make = CellMaker(Flush, "flush", row_id, log, system, seed)
        done = "flushed" if flushed(job, zone_id) else "-"
        whole = act_cell(
            "flush",
            "flush",
            row_id,
            done,
            8,
            "Space ticks all six steps at once, for a zone done in order without a hitch.",
            seed,
        )
        steps = tuple(make.cell(step, 8) for step in FLUSH_STEPS)
        more = (make.cell("clear_min", 11), make.cell("discharged", 20))
        label = zone_label(zone) if zone is not None else "Mainline"
        rows.append(Row(label, (whole, *steps, *more)))
    heads = (
        "All",
        "Main on",
        "Tops off",
        "Bleed",
        "Clear",
        "Closed",
        "Tops on",
        "Clear after",
        "Ran out at",
    )
    return Section("Flush, in this order", tuple(rows), heads, label_width=15)


def _backfill(job: LoadedJob, system: System) -> Section:
    rows = [_stretch(job, system, "Mainline", None)] if job.runs_of(None) else []
    rows += [_stretch(job, system, zone_label(zone), zone.id) for zone in job.zones]
    heads = ("Cover", "Rock-free", "Plumb", "At grade", "Signed", "Bedding", "Tape")
    return Section("Backfill", tuple(rows), heads, label_width=15)


def _stretch(job: LoadedJob, system: System, label: str, zone_id: str | None) -> Row:
    row_id, signed = backfill_id(job.job.id, zone_id), job.backfill_of(zone_id)
    make = CellMaker(Backfill, "backfill", row_id, signed, system, {"zone_id": zone_id})
    heads = zone_id is not None
    by = f"{signed.signed_by} {signed.signed_at[:10]}" if signed and signed.signed_by else "-"
    evidence = job.signed("backfill", zone_id)
    if evidence is not None and evidence.overridden:
        by = f"{by} override"
    return Row(
        label,
        (
            make.cell("cover_in", 9),
            make.cell("rock_free", 10),
            make.cell("heads_plumb", 6, wanted=heads),
            make.cell("heads_at_grade", 9, wanted=heads),
            act_cell(
                "sign",
                "backfill",
                row_id,
                by,
                23,
                "Space signs that this stretch may be buried, with your initials and the time.",
                {"zone_id": zone_id},
            ),
            make.cell("bedding", 7),
            make.cell("warning_tape", 4),
        ),
    )


def _pressure(job: LoadedJob, system: System) -> Section:
    """The pressure test of the mainline and of laterals, and the cement before it."""
    rows = []
    stretches: list[Zone | None] = [*([None] if job.runs_of(None) else []), *job.zones]
    for zone in stretches:
        zone_id = zone.id if zone is not None else None
        test, row_id = job.pressure_test_of(zone_id), pressure_test_id(job.job.id, zone_id)
        make = CellMaker(PressureTest, "pressure_test", row_id, test, system, {"zone_id": zone_id})
        cured = cured_at(job, test) if test is not None else None
        cells = (
            make.cell("cemented_at", 16),
            make.cell("began_at", 16),
            make.cell("start_psi", 9),
            make.cell("ended_at", 16),
            make.cell("end_psi", 9),
            make.cell("water_only", 10),
            make.cell("label_min", 10),
            make.cell("air_deg_f", 7),
            make.cell("humidity_pct", 8),
        )
        label = zone_label(zone) if zone is not None else "Mainline"
        tail = f"cured {cured:%m-%d %H:%M}" if cured is not None else ""
        rows.append(Row(label, cells, tail=tail))
    heads = (
        "Last joint at",
        "Began",
        "At start",
        "Ended",
        "At end",
        "Water only",
        "Label says",
        "Air F",
        "Humidity",
    )
    return Section("Pressure test, water only", tuple(rows), heads, label_width=15)


def _runs(job: LoadedJob, system: System, zone: Zone | None) -> Section:
    zone_id = zone.id if zone is not None else None
    pressures = _pressures(job, zone, system) if zone is not None else {}
    rows = []
    for run in job.runs_of(zone_id):
        make = CellMaker(PipeRun, "pipe_run", run.id, run, system)
        cells = [
            make.cell("after", 5),
            make.cell("size", 6),
            make.cell("pipe_class", 12),
            make.cell("length_ft", 8),
            make.cell("rise_ft", 7),
        ]
        fittings = [make.cell("fittings_ft", 8), make.cell("fittings_k", 4)]
        if zone is not None:
            cells += _head_cells(job, run, system)
        cells += fittings
        beside, mood = pressures.get(run.id, ("", ""))
        label = f"Run {run.number or '?'}"
        gone = ("pipe_run", run.id)
        rows.append(Row(label, tuple(cells), removable=gone, beside=beside, mood=mood))
    text = "+ a run (repeats the row above)" if rows else "+ a run"
    rows.append(add_row("add run", "pipe_run", zone_id, text))
    title = f"Lateral of zone {zone_label(zone)}" if zone is not None else "Mainline"
    between = _HEAD_HEADS if zone is not None else ()
    heads = (*_PIPE_HEADS, *between, "Fittings", "K")
    return Section(title, tuple(rows), heads, label_width=21 if pressures else 7)


def _pressures(job: LoadedJob, zone: Zone, system: System) -> dict[str, tuple[str, Mood]]:
    """What the head at the end of each run gets, and how that is for it, by the run's id."""
    found: dict[str, tuple[str, Mood]] = {}
    for water in zone_groups(job):
        for served in water.heads_of(zone):
            rows, result = served
            word = head_word(served)
            psi = show(result.psi, PRESSURE, system)
            found[rows.run.id] = f"{psi} {word or ''}".rstrip(), _MOODS[word]
    return found


def _head_cells(job: LoadedJob, run: PipeRun, system: System) -> list[Cell]:
    head = job.head_at(run.id)
    make = CellMaker(Head, "head", head_id(run.id), head, system, {"run_id": run.id})
    ends_here = not any(other.after == run.number for other in job.runs_of(run.zone_id))
    asked = head is not None or ends_here
    return [
        make.cell("nozzle_gpm", 9, wanted=asked),
        make.cell("rated_psi", 8, wanted=asked),
        make.cell("kind", 13),
        make.cell("arc_deg", 7),
        make.cell("radius_ft", 7),
        make.cell("min_psi", 7),
        make.cell("max_psi", 7),
        make.cell("regulated_psi", 9),
        make.cell("elevation_ft", 9),
        make.cell("pop_up_in", 7),
    ]
