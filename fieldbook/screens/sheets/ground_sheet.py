"""The ground: zones, what comes before digging, mainline, laterals; what is proven follows."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.actions.rows import add_zone
from fieldbook.checks.water.zone_solutions import zone_groups
from fieldbook.checks.water.zone_status import HeadWord, head_word
from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Head, Zone
from fieldbook.screens.sheets.ground_digging import before_digging, open_before_digging
from fieldbook.screens.sheets.ground_proofs import open_in_proofs, proofs
from fieldbook.screens.sheets.options import link_cell, zone_label
from fieldbook.screens.sheets.presses import AddRow, AddRun
from fieldbook.screens.sheets.sheet import (
    Asked,
    Cell,
    CellMaker,
    Count,
    Mood,
    Row,
    Section,
    Sheet,
    add_line,
    blanks,
)
from fieldbook.screens.sheets.watering.zone_water_sections import zone_watering
from fieldbook.trade.cautions import cautions_at
from fieldbook.trade.pipes import rated_psi
from fieldbook.units import PRESSURE, System, show

_PIPE_HEADS = ("After", "Size", "Class", "Length", "Rise")
_HEAD_HEADS = (
    "Nozzle",
    "Rated at",
    "Head type",
    "Arc",
    "Radius",
    "Minimum",
    "Maximum",
    "Regulated",
    "Elevation",
    "Pops up",
    "Make",
    "Model",
)
_MOODS: Mapping[HeadWord | None, Mood] = {
    None: "",
    "good": "good",
    "tight": "tight",
    "low": "bad",
    "dry": "bad",
    "high": "bad",
}


_SIGNS: Mapping[Mood, str] = {"": "", "good": "+", "tight": "~", "bad": "!"}
"""Before the pressure at a sprinkler head, so that no colour is needed."""


def ground(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the ground, in the order of the work."""
    return Sheet(
        (
            _zones(job, system),
            *before_digging(job, system),
            _runs(job, system, None),
            *(_runs(job, system, zone) for zone in job.zones),
            *proofs(job, system),
            zone_watering(job, system),
        )
    )


def open_at_ground(job: LoadedJob) -> Count:
    """How many cells the sheet asks for and how many are open, counted without building it."""
    # Where two heads name one run the sheet shows the first, which this dict meets last.
    heads = {head.run_id: head for head in reversed(job.heads)}
    zones = (blanks(Zone, [zone], _asked_of_zone(job, zone)) for zone in job.zones)
    count = sum(zones, Count())
    for zone in (None, *job.zones):
        for run in job.runs_of(zone.id if zone is not None else None):
            count += blanks(PipeRun, [run], _asked_of_run(job, run))
        for run_id, asked in _heads_asked(job, zone).items():
            count += blanks(Head, [heads.get(run_id)], _asked_of_head(asked))
    return count + open_before_digging(job) + open_in_proofs(job)


def _asked_of_zone(job: LoadedJob, zone: Zone) -> Asked:
    """The flow by design is asked for until there are pipe runs, whose heads say it."""
    return {"design_flow_gpm": not job.runs_of(zone.id)}


def _zones(job: LoadedJob, system: System) -> Section:
    # A zone may still name an assembly that is gone.
    gone = any(zone.backflow_id and job.backflow_of(zone) is None for zone in job.zones)
    several = len(job.backflow_assemblies) > 1 or gone
    rows = []
    for zone in job.zones:
        make = CellMaker(Zone, zone.id, zone, system, asked=_asked_of_zone(job, zone))
        cells = [
            *make.cells(number=4, name=19, head_kind=13, design_flow_gpm=11, no_higher=9),
            make.cell("waters", 10),
            make.cell("needed_psi", 9),
            link_cell(make, job, "runs_with", 9),
            *make.cells(pressure_h=10, soil=10, slope_pct=5, sun=10, plants=20),
        ]
        if several:
            cells.append(link_cell(make, job, "backflow_id", 14))
        rows.append(Row("Zone", tuple(cells), removable=("zone", zone.id)))
    rows.append(add_line(AddRow("zone", "zone", "name", add_zone), "+ a zone"))
    heads = (
        "No.",
        "Name",
        "Head type",
        "Design flow",
        "No higher",
        "Waters",
        "Needed at head",
        "Runs with",
        "Hours",
        "Soil",
        "Slope",
        "Sun",
        "Plants",
        "Backflow",
    )
    shown = heads if several else heads[:-1]
    return Section("Zones", tuple(rows), shown, 5, cautions_at("zones"))


def _runs(job: LoadedJob, system: System, zone: Zone | None) -> Section:
    zone_id = zone.id if zone is not None else None
    pressures = _pressures(job, zone, system) if zone is not None else {}
    heads_asked = _heads_asked(job, zone)
    rows = []
    for run in job.runs_of(zone_id):
        make = CellMaker(PipeRun, run.id, run, system, asked=_asked_of_run(job, run))
        cells = (
            *make.cells(after=5, size=6, pipe_class=12, length_ft=8, rise_ft=7),
            *(_head_cells(job, run, system, heads_asked[run.id]) if zone is not None else ()),
            *make.cells(fittings_ft=8, fittings_k=6, rating_psi=8),
        )
        beside, mood = pressures.get(run.id, ("", ""))
        label, removable = f"Run {run.number or '?'}", ("pipe_run", run.id)
        rows.append(Row(label, cells, removable=removable, beside=beside, mood=mood))
    text = "+ a run (repeats the row above)" if rows else "+ a run"
    rows.append(add_line(AddRun(zone_id), text))
    title = f"Lateral of zone {zone_label(zone)}" if zone is not None else "Mainline"
    between = _HEAD_HEADS if zone is not None else ()
    heads = (*_PIPE_HEADS, *between, "Fittings", "Loss K", "Rating")
    cautions = cautions_at("pipe") if zone is None else ()
    return Section(title, tuple(rows), heads, 21 if pressures else 7, cautions)


def _asked_of_run(job: LoadedJob, run: PipeRun) -> Asked:
    """The rating of pipe that is tested is asked for as printed, where no standard has one."""
    tested = run.zone_id is None or job.pressure_test_of(run.zone_id) is not None
    known = tested and bool(run.pipe_class and run.size)
    return {"rating_psi": known and rated_psi(run.pipe_class, run.size) is None}


def _pressures(job: LoadedJob, zone: Zone, system: System) -> dict[str, tuple[str, Mood]]:
    """By run: the pressure that the sprinkler head at its end gets, and how good that is."""
    found: dict[str, tuple[str, Mood]] = {}
    for group in zone_groups(job):
        for served in group.heads_of(zone):
            rows, result = served
            word = head_word(served)
            psi = show(result.psi, PRESSURE, system)
            mood = _MOODS[word]
            found[rows.run.id] = f"{_SIGNS[mood]} {psi} {word or ''}".strip(), mood
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
        *make.cells(max_psi=7, regulated_psi=9, elevation_ft=9, pop_up_in=7, make=12, model=14),
    )


def _asked_of_head(asked: bool) -> Asked:
    return {"nozzle_gpm": asked, "rated_psi": asked}
