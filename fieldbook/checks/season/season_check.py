"""The newest closing or opening of the system: what can hurt somebody, what broke, what it lacks.

Older visits are history: what they lack can't be looked at any more.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import required, rule_source
from fieldbook.checks.common.naming import (
    assembly_name,
    listed,
    quantity,
    run_name,
    sentence,
    stretch_name,
)
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked, Stage
from fieldbook.checks.season.blow_out import AirLimit, air_limit, zone_air
from fieldbook.checks.season.season_rows import (
    CLOSING,
    season_visits,
    visit_words,
    way_of,
    work_id,
    work_of,
    zone_work,
)
from fieldbook.checks.severity import Severity
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.records.column_values import amount
from fieldbook.records.days import day_of
from fieldbook.records.ids import season_work_id, season_zone_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.visits import Visit
from fieldbook.trade.winter import (
    AIR_BEFORE,
    AIR_HEAT,
    BLOWN_OUT,
    BREAKERS,
    ENTRY_SOURCE,
    METER_STILL_SOURCE,
    NO_FROST,
)
from fieldbook.units import AIR_FLOW, PRESSURE

_AIR_COLUMNS = (
    ("air_enters", "where the air enters"),
    ("regulator_psi", "what the regulator is set to"),
    ("eyes_covered", "that all eyes are covered"),
)
_OPENING_COLUMNS = (
    ("filled_slowly", "that it was filled slowly"),
    ("meter_still", "whether the meter stands still"),
    ("battery_good", "the controller's battery and clock"),
)


def check_season(job: LoadedJob) -> Iterator[Finding | Looked]:
    """The newest visit that closed or opened the system; before the handover nothing is due."""
    visits = season_visits(job)
    if not visits:
        return
    visit = visits[0]
    lacks = _closing_lacks(job, visit) if visit.reason == CLOSING else _opening_lacks(job, visit)
    due: Stage | None = "survey" if job.signed("handover") is not None else None
    yield Looked(visit_words(visit), _rows(job, visit), tuple(lacks), due)
    if visit.reason == CLOSING and way_of(job, visit) == BLOWN_OUT:
        yield from _air(job, visit)
        yield from _breakers(job, visit)
        yield from _small_compressor(job, visit)
    work = work_of(job, visit)
    if work is not None and work.meter_still is False:
        yield Finding(
            "meter moves with all shut",
            "fix",
            f"At {visit_words(visit)} the meter moved with all valves shut: water leaks.",
            "Shut zone after zone off, find the leak and mend it, then look at the meter again.",
            CellRef("season_work", work.id, "meter_still"),
            source=METER_STILL_SOURCE,
        )


def _air(job: LoadedJob, visit: Visit) -> Iterator[Finding]:
    """Air through the assembly, or with more pressure than the weakest pipe bears."""
    work = work_of(job, visit)
    if work is None:
        return
    # Once the visit is over nobody can be stopped: what was strained is looked at.
    severity: Severity = "fix" if visit.ended is True else "stop"
    if work.air_enters == AIR_BEFORE:
        yield Finding(
            "air through the assembly",
            severity,
            f"At {visit_words(visit)} air goes through the backflow assembly, which it harms.",
            "Stop, connect the air after the assembly, and have the assembly tested.",
            CellRef("season_work", work.id, "air_enters"),
            source=ENTRY_SOURCE,
        )
    set_to, deg_f = amount(work, "regulator_psi"), amount(work, "air_deg_f")
    limit = limit_on(job, visit)
    if set_to is not None and set_to > limit.psi:
        hot = f" with air at {deg_f:.0f} F" if deg_f is not None else ""
        most, said = quantity(job, limit.psi, PRESSURE), quantity(job, set_to, PRESSURE)
        yield Finding(
            "air over the limit",
            severity,
            f"The regulator is set to {said}; {most} is the most that this pipe may take{hot}.",
            "Set it lower before any air goes in; look for damage where it went in.",
            CellRef("season_work", work.id, "regulator_psi"),
            source=f"{limit.source} {AIR_HEAT}" if deg_f is not None else limit.source,
            numbers=(Number("regulator", set_to, "psi"), Number("most", limit.psi, "psi")),
        )


def _breakers(job: LoadedJob, visit: Visit) -> Iterator[Finding]:
    """A vacuum breaker that is not said to be off before air goes in."""
    work = work_of(job, visit)
    if not required(job, "breaker_removed_for_air") or (work and work.breaker_off is True):
        return
    for assembly in job.backflow_assemblies:
        if assembly.kind in BREAKERS:
            yield Finding(
                "remove the vacuum breaker first",
                "fix",
                f"{sentence(f'the {assembly_name(assembly)}')} is to be removed first: air from "
                "either side harms it.",
                "Take it off and cap the pipe before air goes in, then tick that it is removed.",
                CellRef("season_work", work_id(job, visit), "breaker_off"),
                source=rule_source(job, "breaker_removed_for_air"),
            )


def _small_compressor(job: LoadedJob, visit: Visit) -> Iterator[Finding]:
    """A compressor that gives less air than pushes water out at a zone's own flow."""
    cfm = compressor_cfm(job, visit)
    if cfm is None:
        return
    psi = air_limit(job).psi
    airs = (zone_air(job, zone, psi) for zone in job.zones)
    most = max((air.pushing_cfm for air in airs if air.pushing_cfm is not None), default=0.0)
    if cfm < most:
        wanted, given = quantity(job, most, AIR_FLOW), quantity(job, cfm, AIR_FLOW)
        yield Finding(
            "small compressor",
            "note",
            f"The compressor gives {given}; the largest zone takes {wanted} to be pushed out at "
            "its own flow.",
            "Let its tank fill between the zones, or open fewer heads at once: it takes longer.",
            CellRef("season_work", work_id(job, visit), "compressor_cfm"),
            source="Calculated: the zone's flow as free air at the pressure of the line.",
            numbers=(Number("given", cfm, "cfm"), Number("wanted", most, "cfm")),
        )


def limit_on(job: LoadedJob, visit: Visit) -> AirLimit:
    """The most air on a visit, with its air as hot as it was read."""
    return air_limit(job, amount(work_of(job, visit), "air_deg_f"))


def compressor_cfm(job: LoadedJob, visit: Visit | None) -> float | None:
    """The free air that the compressor of a visit gives, else the planned one's."""
    work = work_of(job, visit) if visit is not None else None
    return amount(work, "compressor_cfm") or amount(job.season_plan, "compressor_cfm")


def _closing_lacks(job: LoadedJob, visit: Visit) -> Iterator[Missing]:
    """How it was closed; where air was used, what keeps people and pipe whole; each zone."""
    work, row_id = work_of(job, visit), work_id(job, visit)
    way = way_of(job, visit)
    if way is None:
        yield Missing("how the system is closed", CellRef("season_work", row_id, "way"))
    if way == NO_FROST:
        return
    asked = [("supply_shut", "that the system's water is shut")]
    asked += _AIR_COLUMNS if way == BLOWN_OUT else []
    for column, words in asked:
        if getattr(work, column, None) in (None, "", False):
            yield Missing(words, CellRef("season_work", row_id, column))
    if way == BLOWN_OUT:
        for run in air_limit(job).unrated[:1]:
            words = f"the rating printed on {run_name(job, run)}"
            yield Missing(words, CellRef("pipe_run", run.id, "rating_psi"))
    yield from _zones_lack(job, visit, "emptied", "emptied")


def _opening_lacks(job: LoadedJob, visit: Visit) -> Iterator[Missing]:
    """How it was filled, the meter, each zone, and a test of the assembly that is due."""
    work, row_id = work_of(job, visit), work_id(job, visit)
    for column, words in _OPENING_COLUMNS:
        if getattr(work, column, None) is None:
            yield Missing(words, CellRef("season_work", row_id, column))
    yield from _zones_lack(job, visit, "ran_well", "run and looked at")
    held = day_of(visit.held_on)
    for assembly in job.backflow_assemblies:
        due = retest_on(job, assembly)
        if held is not None and due is not None and due <= held:
            words = f"the test of the {assembly_name(assembly)} that is due"
            yield Missing(words, CellRef("backflow_test", "", "add backflow test"))


def _zones_lack(job: LoadedJob, visit: Visit, column: str, word: str) -> Iterator[Missing]:
    """The stretches that are not ticked on a visit, in one: a crew ticks them in a row."""
    main = [None] if job.runs_of(None) and column == "emptied" else []
    left = [
        zone_id
        for zone_id in (*main, *(zone.id for zone in job.zones))
        if getattr(zone_work(job, visit, zone_id), column, None) is not True
    ]
    if left:
        held = zone_work(job, visit, left[0])
        row_id = held.id if held is not None else season_zone_id(visit.id, left[0])
        names = listed([stretch_name(job, zone_id) for zone_id in left], most=3)
        yield Missing(f"{names} {word}", CellRef("season_zone", row_id, column))


def _rows(job: LoadedJob, visit: Visit) -> frozenset[str]:
    """The ids of every row of a visit of the season, whether or not it exists yet."""
    found = {visit.id, season_work_id(visit.id)}
    found |= {row.id for row in job.season_works if row.visit_id == visit.id}
    found |= {row.id for row in job.season_zones if row.visit_id == visit.id}
    return frozenset(found)
