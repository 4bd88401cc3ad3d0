"""How fast a zone waters: from its flow and area, its drip, or the spacing of its heads."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.checks.measured.audits import audited_uniformity
from fieldbook.checks.measured.compared import measured_flow
from fieldbook.checks.water.zone_flow import zone_flow_gpm
from fieldbook.checks.water.zone_solutions import ZoneGroup, zone_groups
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.watering.zone_watering import ZoneWatering
from fieldbook.records.tables.zones import Head, Zone
from fieldbook.watering import rates
from fieldbook.watering.figure import Figure

FULL_CIRCLE_DEG = 360.0


def group_of(job: LoadedJob, zone: Zone) -> ZoneGroup | None:
    """The group of zones that a zone runs with, if it is solved."""
    found = (group for group in zone_groups(job) if group.solved)
    return next((group for group in found if any(one is zone for one in group.zones)), None)


def zone_gpm(job: LoadedJob, zone: Zone) -> Figure | None:
    """The flow of a zone while it runs: measured, solved, of its emitters, or by design."""
    measured = measured_flow(job, zone.id)
    if measured is not None:
        return Figure(measured.gpm, "measured", f"by {measured.by} {measured.on}".rstrip())
    group = group_of(job, zone)
    if group is not None:
        gpm = sum(result.gpm for _, result in group.heads_of(zone))
        if gpm > 0.0:
            return Figure(gpm, "solved", "flows of its heads at the pressures solved for them")
    drip = drip_gpm(job.watering_of(zone.id))
    if drip is not None:
        return drip
    gpm = zone_flow_gpm(job, zone) or 0.0
    return Figure(gpm, "entered", "design flow or nozzle flows") if gpm > 0.0 else None


def drip_gpm(row: ZoneWatering | None) -> Figure | None:
    """The flow of a zone's emitters."""
    each = amount(row, "emitter_gph")
    if row is None or row.emitters is None or each is None:
        return None
    return Figure(row.emitters * each / 60.0, "entered", f"{row.emitters} emitters of {each:g} gph")


def plant_gph(row: ZoneWatering | None) -> float | None:
    """Gallons an hour that each plant of a drip zone gets."""
    drip = drip_gpm(row)
    if row is None or drip is None or not row.plant_count:
        return None
    return drip.value * 60.0 / row.plant_count


def zone_rate(job: LoadedJob, zone: Zone) -> Figure | None:
    """The rate of a zone in in/h; None while its area, or the spacing of its heads, is missing.

    What cans caught wins, then the area: it is the ground that is really watered.
    """
    audited = audited_uniformity(job, zone.id)
    if audited is not None and audited.rate_in_h:
        words = f"caught by {audited.cans} cans {audited.on}".rstrip()
        return Figure(audited.rate_in_h, "measured", words)
    row, gpm = job.watering_of(zone.id), zone_gpm(job, zone)
    area_ft2 = amount(row, "area_ft2")
    if area_ft2 is not None and gpm is not None:
        words = f"{rates.IN_H_PER_GPM_FT2} x {gpm.value:.2f} gpm / {area_ft2:.0f} ft2; {gpm.source}"
        return Figure(rates.area_rate(gpm.value, area_ft2), gpm.origin, words)
    return _by_spacing(job, zone, row)


def _by_spacing(job: LoadedJob, zone: Zone, row: ZoneWatering | None) -> Figure | None:
    """The rate of heads, or of dripline, by the distances between them."""
    between, rows_ft = amount(row, "spacing_ft"), amount(row, "rows_ft")
    if row is None or between is None:
        return None
    each = amount(row, "emitter_gph")
    if each is not None:
        rows_in = 12.0 * (rows_ft or between)
        words = f"231 x {each:g} gph / ({rows_in:.0f} in x {12.0 * between:.0f} in)"
        return Figure(rates.grid_rate(each, rows_in, 12.0 * between), "entered", words)
    full = full_circle_gpm(job.heads_of(zone.id))
    if full is None:
        return None
    if row.pattern == "triangle":
        words = f"full circles of {full:.2f} gpm, triangle of {between:g} ft"
        return Figure(rates.triangle_rate(full, between), "entered", words)
    words = f"full circles of {full:.2f} gpm, {between:g} x {rows_ft or between:g} ft"
    return Figure(rates.square_rate(full, between, rows_ft), "entered", words)


def full_circle_gpm(heads: Sequence[Head]) -> float | None:
    """What a full circle of these heads takes: their flows over the circles that they water."""
    pairs = [(amount(head, "nozzle_gpm"), amount(head, "arc_deg")) for head in heads]
    known = [(gpm, arc) for gpm, arc in pairs if gpm is not None and arc is not None]
    if not known or len(known) < len(pairs):
        return None
    return sum(gpm for gpm, _ in known) * FULL_CIRCLE_DEG / sum(arc for _, arc in known)


def matched_heads(job: LoadedJob, zone: Zone) -> rates.Matched | None:
    """How the rates of a zone's nozzles compare; None while a flow, arc or radius is missing."""
    found = []
    for head in job.heads_of(zone.id):
        gpm, arc = amount(head, "nozzle_gpm"), amount(head, "arc_deg")
        radius_ft = amount(head, "radius_ft")
        if gpm is None or arc is None or radius_ft is None:
            return None
        found.append(rates.Sprinkler(head.run_id, gpm, arc, radius_ft))
    return rates.matched(found)
