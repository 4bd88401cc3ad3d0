"""What is proven at the ground before it is buried: cement, pressure test, flush, backfill."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fieldbook.actions.signing import flushed, is_signed
from fieldbook.actions.usual import TICKS_OF_ZONE, backfill_is_usual, usual_is_open, usual_ticks
from fieldbook.checks.finding import CellRef
from fieldbook.checks.ground.pressure_test import cemented_runs, cured_at
from fieldbook.checks.progress.holds import BACKFILL
from fieldbook.records.ids import backfill_id, flush_id, pressure_test_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import Backfill, Flush
from fieldbook.records.tables.permits import Inspection
from fieldbook.records.tables.tests import PressureTest
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.sheets.options import countersigned_rows, signature_words, zone_label
from fieldbook.screens.sheets.presses import AddRow, SignBackfill, TickBackfill, TickFlush
from fieldbook.screens.sheets.sheet import (
    Asked,
    Cell,
    CellMaker,
    Count,
    Row,
    Section,
    blanks,
    press_cell,
    table_section,
)
from fieldbook.screens.sheets.sign_off_sections import sign_off_section
from fieldbook.trade.cautions import cautions_at
from fieldbook.units import System

_LABEL = 12
_SIGNED = 22
_LET_ON = (("let_on_by", 10), ("came_out_at", 20), ("ran_clear", 5), ("bleed_closed", 6))
_FITTED = ("tops_back", 6)
_HOW_LONG = (("clear_min", 7), ("discharged", 16))
_FLUSH_HEADS = ("Flushed", "Let on", "Came out at", "Ran clear", "Closed")


def proofs(job: LoadedJob, system: System) -> Iterator[Section]:
    """The sections, in the order of the work."""
    yield _cement(job, system)
    yield sign_off_section(job, "pressurise")
    yield _pressure(job, system)
    yield from _flush(job, system)
    yield _inspections(job, system)
    yield _backfill(job, system)


def open_in_proofs(job: LoadedJob) -> Count:
    """How many cells these sections ask for, and how many of them are open."""
    count = Count()
    for _, zone in _stretches(job):
        zone_id = zone.id if zone is not None else None
        count += blanks(Flush, [job.flush_of(zone_id)], _asked_of_flush(zone))
        count += blanks(Backfill, [job.backfill_of(zone_id)], _asked_of_stretch(job, zone))
        is_open = int(usual_is_open(job, zone_id))
        count += Count(is_open, is_open)
        count += blanks(PressureTest, [job.pressure_test_of(zone_id)])
    return count + blanks(Inspection, job.inspections)


def _stretches(job: LoadedJob) -> list[tuple[str, Zone | None]]:
    """What is flushed, tested and buried at once: the mainline (None) once there is one, zones.

    A mainline that is signed for stays, so that its signature can be taken back.
    """
    there = bool(job.runs_of(None)) or is_signed(job, BACKFILL, None)
    mainline: list[tuple[str, Zone | None]] = [("Mainline", None)] if there else []
    return [*mainline, *((zone_label(zone), zone) for zone in job.zones)]


def _test_maker(job: LoadedJob, system: System, zone: Zone | None) -> CellMaker:
    zone_id = zone.id if zone is not None else None
    row_id = pressure_test_id(job.job.id, zone_id)
    return CellMaker(
        PressureTest, row_id, job.pressure_test_of(zone_id), system, {"zone_id": zone_id}
    )


def _cement(job: LoadedJob, system: System) -> Section:
    """When the last joint was cemented; a stretch of other pipe has no cure time and no row."""
    rows = []
    for label, zone in _stretches(job):
        zone_id = zone.id if zone is not None else None
        test = job.pressure_test_of(zone_id)
        held = test is not None and test.cemented_at is not None
        if job.runs_of(zone_id) and not cemented_runs(job, zone_id) and not held:
            continue
        make = _test_maker(job, system, zone)
        cured = cured_at(job, test) if test is not None else None
        cells = make.cells(cemented_at=16, label_min=9, air_deg_f=5, humidity_pct=8)
        tail = f"cured {cured:%m-%d %H:%M}" if cured is not None else ""
        rows.append(Row(label, cells, tail=tail))
    heads = ("Last joint at", "Cure time", "Air, deg F", "Humidity, %")
    title = "Cement, before the pressure test"
    return Section(title, tuple(rows), heads, _LABEL, cautions_at("cement"))


def _pressure(job: LoadedJob, system: System) -> Section:
    """The pressure test of the mainline and of laterals."""
    rows = []
    for label, zone in _stretches(job):
        make = _test_maker(job, system, zone)
        cells = make.cells(water_only=5, began_at=16, start_psi=8, ended_at=16, end_psi=8)
        rows.append(Row(label, cells))
    heads = ("Water only", "Began", "At start", "Ended", "At end")
    title = "Pressure test, water only"
    return Section(title, tuple(rows), heads, _LABEL, cautions_at("pressure test"))


def _flush(job: LoadedJob, system: System) -> list[Section]:
    """The mainline, which has no heads to fit, then each zone."""
    title, cautions = "Flush, the mainline first", cautions_at("flush")
    stretches = _stretches(job)
    sections = []
    main = [_flushed(job, system, label, None) for label, zone in stretches if zone is None]
    if main:
        heads_of_main = (*_FLUSH_HEADS, "Minutes", "Went to")
        sections.append(Section(title, tuple(main), heads_of_main, _LABEL, cautions))
        title, cautions = "Flush of the zones", ()
    zones = [_flushed(job, system, label, zone) for label, zone in stretches if zone is not None]
    if zones or not main:
        heads = (*_FLUSH_HEADS, "Fitted", "Minutes", "Went to")
        sections.append(Section(title, tuple(zones), heads, _LABEL, cautions))
    return sections


def _flushed(job: LoadedJob, system: System, label: str, zone: Zone | None) -> Row:
    zone_id = zone.id if zone is not None else None
    row_id, log = flush_id(zone_id or job.job.id), job.flush_of(zone_id)
    make = CellMaker(Flush, row_id, log, system, {"zone_id": zone_id}, _asked_of_flush(zone))
    done = "flushed" if flushed(job, zone_id) else "-"
    at = CellRef("flush", row_id, "flush")
    why = "Space enters the usual way at once, for a line flushed in order without a hitch."
    whole = press_cell(TickFlush(zone_id), at, done, 7, why)
    fitted = (_FITTED,) if zone is not None else ()
    steps = tuple(make.cell(*column) for column in (*_LET_ON, *fitted, *_HOW_LONG))
    return Row(label, (whole, *steps))


def _asked_of_flush(zone: Zone | None) -> Asked:
    """There are no sprinkler heads on the mainline to be fitted."""
    return {"tops_back": zone is not None}


def _inspections(job: LoadedJob, system: System) -> Section:
    """The inspector's visits: what is buried has been seen first."""
    return table_section(
        job.inspections,
        Inspection,
        system,
        "Inspections",
        (("kind", 15), ("held_on", 10), ("result", 10), ("inspector", 20), ("number", 12)),
        AddRow("inspection", "inspection", "kind"),
    )


def _backfill(job: LoadedJob, system: System) -> Section:
    rows: list[Row] = []
    for label, zone in _stretches(job):
        rows.append(_stretch(job, system, label, zone))
        rows += countersigned_rows(job, BACKFILL, zone.id if zone is not None else None)
    heads = ("Cover", "Usual", "Rock-free", "Plumb", "At grade", "Bedding", "Tape", "Signed")
    return Section("Backfill", tuple(rows), heads, _LABEL, cautions_at("backfill"))


def _stretch(job: LoadedJob, system: System, label: str, zone: Zone | None) -> Row:
    zone_id = zone.id if zone is not None else None
    row_id, stretch = backfill_id(job.job.id, zone_id), job.backfill_of(zone_id)
    seed = {"zone_id": zone_id}
    make = CellMaker(Backfill, row_id, stretch, system, seed, _asked_of_stretch(job, zone))
    cells = (
        make.cell("cover_in", 7),
        _usual(job, zone_id, CellRef("backfill", row_id, "usual")),
        *make.cells(rock_free=9, heads_plumb=5, heads_at_grade=5),
        *make.cells(bedding=7, warning_tape=4),
        _signature(job, zone_id, CellRef("backfill", row_id, "sign")),
    )
    return Row(label, cells)


def _usual(job: LoadedJob, zone_id: str | None, at: CellRef) -> Cell:
    """One key for a stretch that is as it should be; what is not so is entered in its own cell."""
    text = "as usual" if backfill_is_usual(job, zone_id) else "-"
    why = "Space ticks what is not answered yet; where a thing is not so, say no in its own cell."
    cell = press_cell(TickBackfill(zone_id), at, text, 8, why)
    is_open = usual_is_open(job, zone_id)
    return replace(cell, asked=is_open, open=is_open)


def _signature(job: LoadedJob, zone_id: str | None, at: CellRef) -> Cell:
    """Who signed the stretch and when, and whether that is unproven or overrides a hold."""
    by = signature_words(job, BACKFILL, zone_id, _SIGNED) or "-"
    why = "Space asks to sign that what burying needs is recorded, with your initials and the time."
    return press_cell(SignBackfill(zone_id), at, by, _SIGNED, why)


def _asked_of_stretch(job: LoadedJob, zone: Zone | None) -> Asked:
    """The ticks are asked for by the one cell for all of them, until one of them is answered."""
    zone_id = zone.id if zone is not None else None
    each = not usual_is_open(job, zone_id)
    return {column: each and column in usual_ticks(zone_id) for column in TICKS_OF_ZONE}
