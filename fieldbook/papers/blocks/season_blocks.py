"""Blocks on winter and spring: the plan, the air of each zone, what was done the last time."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import quantity, sentence, stretch_name
from fieldbook.checks.season.blow_out import AirLimit, ZoneAir, in_order, pipe_lengths, zone_air
from fieldbook.checks.season.season_check import compressor_cfm
from fieldbook.checks.season.season_rows import (
    CLOSING,
    order_of_zones,
    season_visits,
    way_of,
    work_of,
    zone_work,
)
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import cell_of, facts_block, rows_table
from fieldbook.papers.paper import Block, Cell, Heading, Paragraph, Table
from fieldbook.records.tables.season.season_plan import DrainPoint, SeasonPlan
from fieldbook.records.tables.season.season_work import SeasonWork
from fieldbook.records.tables.visits import Visit
from fieldbook.season.air_and_fill import GAL_PER_FT3, fill_gpm, fill_seconds
from fieldbook.trade.winter import BLOWN_OUT, ORDER_SOURCES
from fieldbook.units import AIR_FLOW, AIR_VOLUME, FLOW, VOLUME

_PLAN = ("way", "frost_on", "spring_on", "shut_off", "air_port", "compressor_cfm", "blow_order")
_CLOSED = (
    *("supply_shut", "breaker_off", "air_enters", "regulator_psi", "compressor_cfm"),
    *("air_deg_f", "eyes_covered", "damage"),
)
_OPENED = ("far_open", "filled_slowly", "meter_still", "filters_clean", "battery_good", "damage")


def plan_blocks(source: PaperSource) -> Iterator[Block]:
    """The plan of the property and its drain points, where either is recorded."""
    say, job = source.say, source.job
    if job.season_plan is not None:
        yield facts_block(source, job.season_plan, SeasonPlan, _PLAN)
    if job.drain_points:
        names = [sentence(stretch_name(job, point.zone_id or None)) for point in job.drain_points]
        columns = ("where", "how", "note")
        yield Heading(say("Drain points"))
        yield rows_table(source, (say("Pipe"), names), job.drain_points, DrainPoint, columns)


def air_blocks(source: PaperSource, limit: AirLimit) -> Iterator[Block]:
    """The air of each stretch in the order of the zones, with the time at the compressor."""
    say, job = source.say, source.job
    newest = next(iter(season_visits(job)), None)
    order = order_of_zones(job, newest)
    zones = in_order(job, order)
    main = [zone_air(job, None, limit.psi)] if job.runs_of(None) else []
    airs = [*main, *(zone_air(job, zone, limit.psi) for zone in zones)]
    if not airs:
        return
    cfm = compressor_cfm(job, newest)
    headers = ("Pipe", "It holds", "Free air", "Time at the compressor", "At its own flow")
    rows = tuple(_air_row(source, air, cfm) for air in airs)
    yield Table(tuple(map(say, headers)), rows, frozenset({1, 2, 3, 4}))
    said = say("In the order {order}: {source}") if order else ""
    if order:
        yield Paragraph(said.format(order=say(order), source=ORDER_SOURCES[order]), "source")
    yield Paragraph(
        say(
            "Calculated from the pipe recorded: its volume, and free air at sea level that pushes "
            "the water out once at the pressure above. Go on until mist comes."
        ),
        "source",
    )


def _air_row(source: PaperSource, air: ZoneAir, cfm: float | None) -> tuple[Cell, ...]:
    say, job = source.say, source.job
    name = sentence(stretch_name(job, air.zone.id if air.zone is not None else None))
    flow = air.pushing_cfm
    at_flow = quantity(job, flow, AIR_FLOW) if flow is not None else "-"
    if air.missing:
        return name, say("not recorded"), "-", "-", at_flow
    seconds = air.seconds(cfm)
    return (
        name,
        quantity(job, round(air.volume_ft3 * GAL_PER_FT3, 1), VOLUME),
        quantity(job, air.free_ft3, AIR_VOLUME),
        f"{seconds:.0f} s" if seconds is not None else "-",
        at_flow,
    )


def filling_words(source: PaperSource) -> str:
    """How slowly the mainline is filled, and how long that takes; empty while it is not known."""
    job = source.job
    pipes, missing = pipe_lengths(job, job.runs_of(None))
    if missing or not pipes:
        return ""
    gpm = fill_gpm(min(pipe.bore_in for pipe in pipes))
    words = source.say(
        "Fill the mainline at {flow} or less, which is 1 ft/s in its narrowest pipe: it takes "
        "about {seconds} s."
    )
    return words.format(flow=quantity(job, gpm, FLOW), seconds=f"{fill_seconds(pipes):.0f}")


def last_time_blocks(source: PaperSource, *, closing: bool) -> Iterator[Block]:
    """What the newest closing, or the newest opening, did: as a whole and zone by zone."""
    job = source.job
    visits = [one for one in season_visits(job) if (one.reason == CLOSING) == closing]
    for visit in visits[:1]:
        work = work_of(job, visit)
        who = visit.who or visit.entered_by
        day = visit.held_on or source.say("no date")
        title = source.say("Last time: {day}").format(day=day)
        yield Heading(f"{title}, {who}" if who else title)
        by_air = closing and way_of(job, visit) == BLOWN_OUT
        columns = _OPENED if not closing else _CLOSED if by_air else ("supply_shut", "damage")
        yield facts_block(source, work, SeasonWork, columns)
        yield _zones_done(source, visit, closing=closing)


def _zones_done(source: PaperSource, visit: Visit, *, closing: bool) -> Table:
    say, job = source.say, source.job
    column = "emptied" if closing else "ran_well"
    rows: list[tuple[Cell, ...]] = []
    main = [None] if closing and job.runs_of(None) else []
    for zone_id in (*main, *(zone.id for zone in job.zones)):
        held = zone_work(job, visit, zone_id)
        day = (held.done_on if held is not None else None) or visit.held_on or ""
        by = (held.done_by or held.entered_by) if held is not None else ""
        note = held.note if held is not None else ""
        done = cell_of(source, held, column)
        rows.append((sentence(stretch_name(job, zone_id)), done, day, by, note))
    headers = ("Pipe", "Emptied" if closing else "Ran well", "On", "By", "Note")
    return Table(tuple(map(say, headers)), tuple(rows))
