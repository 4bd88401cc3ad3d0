"""The ground: zones, flush, backfill, pressure tests, the mainline and the laterals."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.actions.rows import add_zone
from fieldbook.actions.signing import flushed
from fieldbook.checks.finding import CellRef
from fieldbook.checks.ground.pressure_test import cured_at
from fieldbook.checks.water.zone_solutions import zone_groups
from fieldbook.checks.water.zone_status import HeadWord, head_word
from fieldbook.records.ids import backfill_id, flush_id, head_id, pressure_test_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import FLUSH_STEPS, Backfill, Flush
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.tests import PressureTest
from fieldbook.records.tables.zones import Head, Zone
from fieldbook.screens.sheets.options import link_cell, zone_label
from fieldbook.screens.sheets.presses import AddRow, AddRun, SignBackfill, TickFlush
from fieldbook.screens.sheets.sheet import (
    Asked,
    Cell,
    CellMaker,
    Mood,
    Row,
    Section,
    Sheet,
    add_line,
    blanks,
    press_cell,
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


def open_at_ground(job: LoadedJob) -> int:
    """How many cells of the sheet still want a value, counted without building it."""
    # Where two heads name one run the sheet shows the first, which this dict meets last.
    heads = {head.run_id: head for head in reversed(job.heads)}
    count = sum(blanks(Zone, [zone], _asked_of_zone(job, zone)) for zone in job.zones)
    for _, zone in _stretches(job):
        zone_id = zone.id if zone is not None else None
        count += blanks(Flush, [job.flush_of(zone_id)])
        count += blanks(Backfill, [job.backfill_of(zone_id)], _asked_of_stretch(zone))
        count += blanks(PressureTest, [job.pressure_test_of(zone_id)])
        count += blanks(PipeRun, job.runs_of(zone_id))
        for run_id, asked in _heads_asked(job, zone).items():
            count += blanks(Head, [heads.get(run_id)], _asked_of_head(asked))
    return count


def _stretches(job: LoadedJob) -> list[tuple[str, Zone | None]]:
    """What is flushed, tested and buried at once: the mainline (None) once there is one, zones."""
    mainline: list[tuple[str, Zone | None]] = [("Mainline", None)] if job.runs_of(None) else []
    return [*mainline, *((zone_label(zone), zone) for zone in job.zones)]


def _asked_of_zone(job: LoadedJob, zone: Zone) -> Asked:
    """The flow by design is asked for until there are pipe runs, whose heads say it."""
    return {"design_flow_gpm": not job.runs_of(zone.id)}


def _zones(job: LoadedJob, system: System) -> Section:
    several = len(job.backflow_assemblies) > 1
    rows = []
    for zone in job.zones:
        make = CellMaker(Zone, zone.id, zone, system, asked=_asked_of_zone(job, zone))
        cells = [
            *make.cells(number=4, name=19, head_kind=13, design_flow_gpm=11, waters=10),
            make.cell("needed_psi", 9),
            link_cell(make, job, "runs_with", 9),
            make.cell("pressure_h", 10),
        ]
        if several:
            cells.append(link_cell(make, job, "backflow_id", 14))
        rows.append(Row("Zone", tuple(cells), removable=("zone", zone.id)))
    rows.append(add_line(AddRow("zone", "zone", "name", add_zone), "+ a zone"))
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


def _flush(job: LoadedJob, system: System) -> Section:
    rows = []
    for label, zone in _stretches(job):
        zone_id = zone.id if zone is not None else None
        row_id, log = flush_id(zone_id or job.job.id), job.flush_of(zone_id)
        make = CellMaker(Flush, row_id, log, system, {"zone_id": zone_id})
        done = "flushed" if flushed(job, zone_id) else "-"
        at = CellRef("flush", row_id, "flush")
        why = "Space ticks all six steps at once, for a zone done in order without a hitch."
        whole = press_cell(TickFlush(zone_id), at, done, 8, why)
        steps = tuple(make.cell(step, 8) for step in FLUSH_STEPS)
        more = (make.cell("clear_min", 11), make.cell("discharged", 20))
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
    rows = [_stretch(job, system, label, zone) for label, zone in _stretches(job)]
    heads = ("Cover", "Rock-free", "Plumb", "At grade", "Signed", "Bedding", "Tape")
    return Section("Backfill", tuple(rows), heads, label_width=15)


def _stretch(job: LoadedJob, system: System, label: str, zone: Zone | None) -> Row:
    zone_id = zone.id if zone is not None else None
    row_id, stretch = backfill_id(job.job.id, zone_id), job.backfill_of(zone_id)
    seed = {"zone_id": zone_id}
    make = CellMaker(Backfill, row_id, stretch, system, seed, _asked_of_stretch(zone))
    by = f"{stretch.signed_by} {stretch.signed_at[:10]}" if stretch and stretch.signed_by else "-"
    evidence = job.signed("backfill", zone_id)
    if evidence is not None and evidence.overridden:
        by = f"{by} override"
    why = "Space signs that this stretch may be buried, with your initials and the time."
    at = CellRef("backfill", row_id, "sign")
    cells = (
        *make.cells(cover_in=9, rock_free=10, heads_plumb=6, heads_at_grade=9),
        press_cell(SignBackfill(zone_id), at, by, 23, why),
        make.cell("bedding", 7),
        make.cell("warning_tape", 4),
    )
    return Row(label, cells)


def _asked_of_stretch(zone: Zone | None) -> Asked:
    """There are no sprinkler heads on the mainline."""
    return {"heads_plumb": zone is not None, "heads_at_grade": zone is not None}


def _pressure(job: LoadedJob, system: System) -> Section:
    """The pressure test of the mainline and of laterals, and the cement before it."""
    rows = []
    for label, zone in _stretches(job):
        zone_id = zone.id if zone is not None else None
        test, row_id = job.pressure_test_of(zone_id), pressure_test_id(job.job.id, zone_id)
        make = CellMaker(PressureTest, row_id, test, system, {"zone_id": zone_id})
        cured = cured_at(job, test) if test is not None else None
        cells = (
            *make.cells(cemented_at=16, began_at=16, start_psi=9, ended_at=16, end_psi=9),
            *make.cells(water_only=10, label_min=10, air_deg_f=7, humidity_pct=8),
        )
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
    heads_asked = _heads_asked(job, zone)
    rows = []
    for run in job.runs_of(zone_id):
        make = CellMaker(PipeRun, run.id, run, system)
        cells = (
            *make.cells(after=5, size=6, pipe_class=12, length_ft=8, rise_ft=7),
            *(_head_cells(job, run, system, heads_asked[run.id]) if zone is not None else ()),
            *make.cells(fittings_ft=8, fittings_k=4),
        )
        beside, mood = pressures.get(run.id, ("", ""))
        label, removable = f"Run {run.number or '?'}", ("pipe_run", run.id)
        rows.append(Row(label, cells, removable=removable, beside=beside, mood=mood))
    text = "+ a run (repeats the row above)" if rows else "+ a run"
    rows.append(add_line(AddRun(zone_id), text))
    title = f"Lateral of zone {zone_label(zone)}" if zone is not None else "Mainline"
    between = _HEAD_HEADS if zone is not None else ()
    heads = (*_PIPE_HEADS, *between, "Fittings", "K")
    return Section(title, tuple(rows), heads, label_width=21 if pressures else 7)


def _pressures(job: LoadedJob, zone: Zone, system: System) -> dict[str, tuple[str, Mood]]:
    """By run: the pressure that the sprinkler head at its end gets, and how good that is."""
    found: dict[str, tuple[str, Mood]] = {}
    for group in zone_groups(job):
        for served in group.heads_of(zone):
            rows, result = served
            word = head_word(served)
            psi = show(result.psi, PRESSURE, system)
            found[rows.run.id] = f"{psi} {word or ''}".rstrip(), _MOODS[word]
    return found


def _heads_asked(job: LoadedJob, zone: Zone | None) -> dict[str, bool]:
    """By run whether its sprinkler head is asked for: at a pipe's end, or where there is one."""
    if zone is None:
        return {}
    runs, headed = job.runs_of(zone.id), {head.run_id for head in job.heads}
    feeding = {run.after for run in runs}
    return {run.id: run.id in headed or run.number not in feeding for run in runs}


def _head_cells(job: LoadedJob, run: PipeRun, system: System, asked: bool) -> tuple[Cell, ...]:
    head, seed = job.head_at(run.id), {"run_id": run.id}
    make = CellMaker(Head, head_id(run.id), head, system, seed, _asked_of_head(asked))
    return (
        *make.cells(nozzle_gpm=9, rated_psi=8, kind=13, arc_deg=7, radius_ft=7, min_psi=7),
        *make.cells(max_psi=7, regulated_psi=9, elevation_ft=9, pop_up_in=7),
    )


def _asked_of_head(asked: bool) -> Asked:
    return {"nozzle_gpm": asked, "rated_psi": asked}
