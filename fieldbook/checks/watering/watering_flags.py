"""Flags on the watering: mixed rates, run-off, uneven zones, sensors, the water budget."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import required, rule_source
from fieldbook.checks.common.naming import listed, quantity, run_name, sentence, zone_name
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked
from fieldbook.checks.watering.water_budget import WaterBudget, allowance_cell, water_budget
from fieldbook.checks.watering.zone_rates import matched_heads
from fieldbook.checks.watering.zone_seasons import ZoneSeason, zone_seasons
from fieldbook.records.column_values import amount
from fieldbook.records.ids import zone_watering_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.watering.watering_site import Sensor
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.plants_and_soils import MOST_SOURCE, plants_and_soils
from fieldbook.units import VOLUME, WATERING_RATE
from fieldbook.watering.run_multiplier import LEAST_WORTH_IT

MOST_RATIO = 1.25
"""The fastest nozzle's rate over the slowest's: common practice, no source."""
SENSOR_RULES = {"freeze": "freeze_sensor_required", "soil moisture": "soil_sensor_required"}
"""The rule that requires a sensor of a kind. A rain sensor has its own rule and cell."""


def check_watering(job: LoadedJob) -> Iterator[Finding | Looked]:
    """The zones for whose watering something is entered, the sensors, the chosen budget."""
    for season in zone_seasons(job):
        yield from _mixed(job, season.zone)
        if job.watering_of(season.zone.id) is not None:
            rows = frozenset({zone_watering_id(season.zone.id), season.zone.id})
            name = f"watering of {zone_name(season.zone)}"
            yield Looked(name, rows, season.missing, "handover")
            yield from _unmatched(job, season.zone)
            yield from _run_off(job, season)
            yield from _uneven(season)
    yield from _sensors(job)
    if job.watering_site is not None and job.watering_site.allowance:
        budget = water_budget(job)
        at = allowance_cell(job)
        yield Looked("water budget", frozenset({at.row_id}), budget.missing, "handover")
        yield from _over_budget(job, budget, at)


def _mixed(job: LoadedJob, zone: Zone) -> Iterator[Finding]:
    """Kinds of heads that water at different rates at the same time."""
    kinds = sorted({head.kind for head in job.heads_of(zone.id) if head.kind})
    found = matched_heads(job, zone)
    if len(kinds) > 1 and (found is None or found.ratio > MOST_RATIO):
        yield Finding(
            "head kinds mixed",
            "fix",
            f"{sentence(zone_name(zone))} has {listed(kinds)} heads, which water at different "
            "rates.",
            "Give each kind a zone of its own, or fit nozzles of one rate.",
            CellRef("zone", zone.id, "head_kind"),
        )


def _unmatched(job: LoadedJob, zone: Zone) -> Iterator[Finding]:
    """Nozzles of one kind whose flows do not follow the ground that they water."""
    found = matched_heads(job, zone)
    if found is None or found.ratio <= MOST_RATIO:
        return
    runs = [job.find(PipeRun, one.name) for one in (found.slowest, found.fastest)]
    slow, fast = (run_name(job, run) if run is not None else "a run" for run in runs)
    head = job.head_at(found.fastest.name)
    yield Finding(
        "rates not matched",
        "note",
        f"The head at {fast} waters {found.ratio:.1f} times as fast as that at {slow}.",
        "Fit nozzles whose flow follows their arc and radius, or correct these figures.",
        CellRef("head", head.id if head is not None else "", "nozzle_gpm"),
        numbers=(Number("ratio", found.ratio, ""),),
    )


def _run_off(job: LoadedJob, season: ZoneSeason) -> Iterator[Finding]:
    """A zone that waters faster than its soil is said to take, or than was seen to run off."""
    zone, water, peak = season.zone, season.water, season.peak
    if water is None or peak is None or peak.cycles.count < 2:
        return
    row = job.watering_of(zone.id)
    bare, compact = row is not None and row.cover == "bare", row is not None and bool(row.compact)
    soil = plants_and_soils().soils.get(zone.soil or "")
    slope_pct = amount(zone, "slope_pct") or 0.0
    most = soil.most_at(slope_pct, bare=bare, compact=compact) if soil is not None else None
    timed = water.runoff_min is not None
    if not timed and (most is None or water.rate.value <= most):
        return
    cycles = peak.cycles
    rate = quantity(job, water.rate.value, WATERING_RATE)
    takes = quantity(job, most or 0.0, WATERING_RATE)
    why = (
        f"ran off after {water.runoff_min:g} min"
        if timed
        else f"waters at {rate}; its {zone.soil} takes {takes}"
    )
    yield Finding(
        "water runs off",
        "note",
        f"{sentence(zone_name(zone))} {why}.",
        f"Run it in {cycles.count} cycles of {cycles.whole_min} min with "
        f"{cycles.soak_min:.0f} min between them, or fit slower nozzles.",
        CellRef("zone_watering", zone_watering_id(zone.id), "runoff_min"),
        source="Timed on the spot." if timed else f"{MOST_SOURCE}.",
        numbers=(Number("rate", water.rate.value, "in/h"),),
    )


def _uneven(season: ZoneSeason) -> Iterator[Finding]:
    """A zone that was measured so uneven that running it longer is the wrong remedy."""
    quarter = season.evenness.low_quarter
    if quarter.origin == "measured" and quarter.value < LEAST_WORTH_IT:
        yield Finding(
            "zone too uneven",
            "fix",
            f"{sentence(zone_name(season.zone))} was measured at a low-quarter uniformity of "
            f"{100 * quarter.value:.0f} %.",
            "Mend its pressure, spacing or nozzles first: running it longer wastes water.",
            CellRef("zone_watering", zone_watering_id(season.zone.id), "area_ft2"),
            numbers=(Number("uniformity", quarter.value, ""),),
        )


def _sensors(job: LoadedJob) -> Iterator[Finding | Looked]:
    """The sensors that a rule requires, and those that are there."""
    for kind, key in SENSOR_RULES.items():
        if required(job, key) and not any(one.kind == kind for one in job.sensors):
            yield Looked(f"{kind} sensor", frozenset({""}), (), "handover")
            yield Finding(
                "no required sensor",
                "fix",
                f"The local rules require a {kind} sensor; none is entered.",
                "Fit one and enter it among the sensors at the controller.",
                CellRef("sensor", "", "add sensor"),
                source=rule_source(job, key),
            )
    for sensor in job.sensors:
        yield Looked(_sensor_name(sensor), frozenset({sensor.id}), _untested(sensor), "handover")
        if sensor.stops is False:
            yield Finding(
                "sensor stops nothing",
                "fix",
                f"The {_sensor_name(sensor)} did not stop a zone that ran.",
                "Wire it to the controller's sensor terminals, clear its bypass, and test it anew.",
                CellRef("sensor", sensor.id, "stops"),
            )


def _sensor_name(sensor: Sensor) -> str:
    return f"{sensor.kind} sensor" if sensor.kind else "sensor"


def _untested(sensor: Sensor) -> tuple[Missing, ...]:
    """What is missing of a sensor's test."""
    name = _sensor_name(sensor)
    words = {
        "tested_on": f"when the {name} was tested",
        "stops": f"whether the {name} stops a zone",
    }
    return tuple(
        Missing(words[column], CellRef("sensor", sensor.id, column))
        for column in words
        if getattr(sensor, column) in (None, "")
    )


def _over_budget(job: LoadedJob, budget: WaterBudget, at: CellRef) -> Iterator[Finding]:
    """More water in a year than the ordinance allows."""
    if not budget.exceeded or budget.allowance is None:
        return
    used, allowed = budget.used_gal or 0.0, budget.allowed_gal or 0.0
    yield Finding(
        "over water budget",
        "fix",
        f"The plantings use {quantity(job, round(used), VOLUME)} a year; {budget.allowance.name} "
        f"allows {quantity(job, round(allowed), VOLUME)}.",
        "Change plantings to ones that use less, or check the zones' areas and factors.",
        at,
        source=f"{budget.allowance.source}, since {budget.allowance.since.isoformat()}.",
        numbers=(Number("use", used, "gal"), Number("allowed", allowed, "gal")),
    )
