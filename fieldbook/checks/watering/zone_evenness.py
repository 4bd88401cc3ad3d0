"""How evenly a zone waters: by what was measured, else by its solved flows and stated defaults."""

from __future__ import annotations

from fieldbook.checks.measured.audits import AuditedUniformity, audited_uniformity
from fieldbook.checks.water.zone_flow import nozzle_pressure_psi
from fieldbook.checks.watering.zone_rates import group_of
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.plants_and_soils import UNIFORMITY_SOURCE, plants_and_soils
from fieldbook.water.advice import uniformity
from fieldbook.watering.figure import Figure
from fieldbook.watering.run_multiplier import Evenness

_USUAL_KIND = "spray"
"""The kind that is taken where none is entered: the least even of them."""
_NO_PATTERN = ("drip", "bubbler")
"""Kinds that do not throw water: where their flows are alike, so is what they water."""


def zone_evenness(job: LoadedJob, zone: Zone) -> Evenness:
    """How evenly a zone waters: by its newest audit that counts, else by solved flows.

    Solved flows tell of the pressures alone. What drips is as even as its flows; what is thrown is
    as even as its pattern besides, for which a default is stated.
    """
    audited = audited_uniformity(job, zone.id)
    return _solved(job, zone) if audited is None else _measured(audited)


def _measured(audited: AuditedUniformity) -> Evenness:
    """The figures of an audit, with the count that its low quarter was taken of."""
    cans = f"{audited.cans} cans, {audited.on}".rstrip(", ")
    quarter = f"low quarter of {cans}: {audited.quarter_cans:g} counted, {audited.rule}"
    most = audited.most_scheduling
    return Evenness(
        Figure(audited.low_quarter, "measured", quarter),
        Figure(audited.low_half, "measured", f"low half of {cans}"),
        None if most is None else Figure(most, "measured", f"mean over the driest of {cans}"),
    )


def _solved(job: LoadedJob, zone: Zone) -> Evenness:
    """The solved flows, and the default of the pattern where water is thrown."""
    kind = zone.head_kind or _USUAL_KIND
    listed = plants_and_soils().uniformity
    usual = listed.get(kind, listed[_USUAL_KIND])
    flows = flow_uniformity(job, zone)
    if flows is None:
        return Evenness(Figure(usual, "stated default", f"{kind}: {UNIFORMITY_SOURCE}"))
    if kind in _NO_PATTERN:
        return Evenness(Figure(flows, "solved", "low quarter of the solved flows"))
    words = f"{usual:g} for {kind} ({UNIFORMITY_SOURCE}) x {flows:.2f} by the solved flows"
    return Evenness(Figure(usual * flows, "stated default", words))


def flow_uniformity(job: LoadedJob, zone: Zone) -> float | None:
    """The low-quarter uniformity of a zone's solved flows, each as a part of its nozzle's."""
    group = group_of(job, zone)
    if group is None:
        return None
    parts = []
    for rows, result in group.heads_of(zone):
        rated_gpm = amount(rows.head, "nozzle_gpm")
        if rated_gpm and nozzle_pressure_psi(rows.head, zone) is not None:
            parts.append(result.gpm / rated_gpm)
    found = uniformity(parts)
    # A zone with a dry head has no uniformity to divide by: a flag says that it is dry.
    return found if found else None
