"""Winter and spring at the service: the plan, drain points, the newest closing or opening."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import quantity
from fieldbook.checks.season.blow_out import in_order, zone_air
from fieldbook.checks.season.season_check import compressor_cfm, limit_on
from fieldbook.checks.season.season_rows import (
    CLOSING,
    order_of_zones,
    season_visits,
    way_of,
    work_id,
    work_of,
    zone_work,
)
from fieldbook.records.base import facts_of
from fieldbook.records.ids import once_id, season_zone_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.season.season_plan import DrainPoint, SeasonPlan
from fieldbook.records.tables.season.season_work import SeasonWork, SeasonZone
from fieldbook.records.tables.visits import Visit
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.sheets.options import link_cell, zone_label
from fieldbook.screens.sheets.presses import AddRow
from fieldbook.screens.sheets.sheet import CellMaker, Count, Row, Section, add_line, blanks
from fieldbook.trade.cautions import cautions_at
from fieldbook.trade.winter import BLOWN_OUT, NO_FROST
from fieldbook.units import PRESSURE, System

_PLAN = ("frost_on", "spring_on", "way", "blow_order", "compressor_cfm", "air_port", "shut_off")
_AIR = (
    *("breaker_off", "air_enters", "regulator_psi", "compressor_cfm", "air_deg_f"),
    *("blow_order", "eyes_covered"),
)
_OPENING = ("far_open", "filled_slowly", "meter_still", "filters_clean", "battery_good")
_CLOSED = (("emptied", 7), ("way", 16), ("done_on", 10), ("done_by", 8), ("note", 24))
_OPENED = (("ran_well", 8), ("done_on", 10), ("done_by", 8), ("note", 24))
_LABEL = 20


def season_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """The plan and the drain points once there is pipe, then the newest visit of the season."""
    if not (job.pipe_runs or job.season_plan or job.drain_points):
        return
    make = _plan_maker(job, system)
    yield Section("Winter and spring: the plan of each year", tuple(make.form(*_PLAN)))
    yield _drain_points(job, system)
    for visit in season_visits(job)[:1]:
        yield _whole(job, system, visit)
        if visit.reason != CLOSING or way_of(job, visit) != NO_FROST:
            yield _zones(job, system, visit)


def open_in_season(job: LoadedJob) -> Count:
    """How many cells these sections ask for, and how many of them are open."""
    return blanks(DrainPoint, job.drain_points)


def _plan_maker(job: LoadedJob, system: System) -> CellMaker:
    held = job.season_plan
    row_id = held.id if held is not None else once_id(job.job.id, "season_plan")
    return CellMaker(SeasonPlan, row_id, held, system)


def _drain_points(job: LoadedJob, system: System) -> Section:
    rows: list[Row] = []
    for point in job.drain_points:
        make = CellMaker(DrainPoint, point.id, point, system)
        cells = (
            make.cell("where", 28),
            link_cell(make, job, "zone_id", 5),
            *make.cells(how=10, note=24),
        )
        rows.append(Row(str(len(rows) + 1), cells, removable=("drain_point", point.id)))
    rows.append(add_line(AddRow("drain_point", "drain point", "where"), "+ a drain point"))
    return Section("Drain points", tuple(rows), ("Where", "Zone", "Drains", "Note"), label_width=4)


def _whole(job: LoadedJob, system: System, visit: Visit) -> Section:
    """What the visit did as a whole; the cells on air only where air is used."""
    make = CellMaker(
        SeasonWork, work_id(job, visit), work_of(job, visit), system, {"visit_id": visit.id}
    )
    day = visit.held_on or "no date"
    if visit.reason != CLOSING:
        rows = make.form(*_OPENING, "damage")
        return Section(f"Start-up, {day}", tuple(rows), cautions=cautions_at("opening"))
    by_air = way_of(job, visit) == BLOWN_OUT
    rows = make.form("supply_shut", "way", *(_AIR if by_air else ()), "damage")
    cautions = cautions_at("closing") if by_air else ()
    return Section(f"Closing, {day}", tuple(rows), cautions=cautions)


def _zones(job: LoadedJob, system: System, visit: Visit) -> Section:
    """The stretches in their order, each with the air's time beside it."""
    closing = visit.reason == CLOSING
    columns = _CLOSED if closing else _OPENED
    zones = in_order(job, order_of_zones(job, visit)) if closing else job.zones
    main: list[Zone | None] = [None] if closing and job.runs_of(None) else []
    rows = [_stretch(job, system, visit, zone, columns) for zone in (*main, *zones)]
    facts = facts_of(SeasonZone)
    heads = tuple(facts[column].label for column, _ in columns)
    title = "Zones looked at in spring"
    if closing:
        title = "Zones emptied"
        if way_of(job, visit) == BLOWN_OUT:
            limit = quantity(job, limit_on(job, visit).psi, PRESSURE)
            title = f"Zones blown out: time once through, {limit} at most"
    return Section(title, tuple(rows), heads, _LABEL)


def _stretch(
    job: LoadedJob,
    system: System,
    visit: Visit,
    zone: Zone | None,
    columns: tuple[tuple[str, int], ...],
) -> Row:
    zone_id = zone.id if zone is not None else None
    held = zone_work(job, visit, zone_id)
    row_id = held.id if held is not None else season_zone_id(visit.id, zone_id)
    seed = {"visit_id": visit.id, "zone_id": zone_id}
    make = CellMaker(SeasonZone, row_id, held, system, seed)
    cells = tuple(make.cell(column, width) for column, width in columns)
    label = zone_label(zone) if zone is not None else "Mainline"
    return Row(label, cells, beside=_time_words(job, visit, zone))


def _time_words(job: LoadedJob, visit: Visit, zone: Zone | None) -> str:
    """How long the compressor takes to push the water out once, such as "69 s"."""
    if visit.reason != CLOSING or way_of(job, visit) != BLOWN_OUT:
        return ""
    seconds = zone_air(job, zone, limit_on(job, visit).psi).seconds(compressor_cfm(job, visit))
    return f"{seconds:.0f} s" if seconds is not None else ""
