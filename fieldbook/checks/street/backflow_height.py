"""The backflow assembly: its height over the heads it serves, and PVC left in the sun.

Height is taken from the critical level to the top of the highest sprinkler of every zone the
assembly serves: retracted (30 Tex. Admin. Code 344.50 measures it so), or raised where the local
rule does.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import assembly_clearance, backflow_height, rule_value
from fieldbook.checks.common.naming import assembly_name, quantity, run_name
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.water.heights import HeadHeight, head_heights
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.units import SHORT_LENGTH

_CLOSE_ENOUGH_IN = 1e-6
"""The rounding error of heights in binary fractions of a foot; no tape reads it."""


def check_backflow(job: LoadedJob) -> Iterator[Finding]:
    """Flags on the height of each assembly, and on its PVC."""
    for assembly in job.backflow_assemblies:
        yield from _over_heads(job, assembly)
        yield from _above_grade(job, assembly)
        yield from _sun(job, assembly)


def _over_heads(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """A critical level that is too low over the highest sprinkler that it serves."""
    rule = backflow_height(job, assembly.kind)
    highest = _highest(job, assembly)
    if rule is None or highest is None:
        return
    level_ft = amount(assembly, "critical_level_ft")
    if level_ft is None:
        yield from _not_measured(job, assembly, highest)
        return
    clearance_in = (level_ft - _top_ft(job, highest)) * 12.0
    if clearance_in >= rule.value - _CLOSE_ENOUGH_IN:
        return
    name, least = assembly_name(assembly), quantity(job, rule.value, SHORT_LENGTH)
    over = quantity(job, abs(clearance_in), SHORT_LENGTH)
    stands = f"{over} over" if clearance_in >= 0 else f"{over} below"
    where = f"the highest sprinkler it serves, at {run_name(job, highest.run)}"
    yield Finding(
        "backflow too low",
        "stop",
        f"The {name} stands {stands} {where}; it needs {least}.",
        "Raise it, lower the sprinkler, or fit a kind that may stand lower; enter that at the "
        "street.",
        CellRef("backflow_assembly", assembly.id, "critical_level_ft"),
        source=rule.source,
        numbers=(Number("clearance", clearance_in, "in"), Number("minimum", rule.value, "in")),
    )


def _highest(job: LoadedJob, assembly: BackflowAssembly) -> HeadHeight | None:
    """The highest head of all zones that the assembly serves."""
    found = [
        head
        for zone in job.zones
        if job.backflow_of(zone) is assembly
        for head in head_heights(job, zone)
    ]
    return max(found, key=lambda head: _top_ft(job, head), default=None)


def _top_ft(job: LoadedJob, head: HeadHeight) -> float:
    """The height of a head's top in ft as the local rule measures it: retracted, or raised."""
    if rule_value(job, "heads_measured") != "raised":
        return head.elevation_ft
    return head.elevation_ft + (amount(head.head, "pop_up_in") or 0.0) / 12.0


def _not_measured(
    job: LoadedJob, assembly: BackflowAssembly, highest: HeadHeight
) -> Iterator[Finding]:
    """Pipe buried before the assembly's height is entered, though the heads' heights are known."""
    if highest.measured and _buried(job, assembly):
        name = assembly_name(assembly)
        at = CellRef("backflow_assembly", assembly.id, "critical_level_ft")
        yield Finding(
            "backflow not measured",
            "fix",
            f"Zones on the {name} are signed for backfill, but its critical level is not entered.",
            "Measure the critical level above the job's datum and enter it at the street.",
            at,
            source=at.source,
        )


def _above_grade(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """An assembly that must stand clear of the soil and does not."""
    rule = assembly_clearance(job, assembly.kind)
    above_in = amount(assembly, "above_grade_in")
    if rule is None or above_in is None or above_in >= rule.value - _CLOSE_ENOUGH_IN:
        return
    name = assembly_name(assembly)
    yield Finding(
        "backflow too near grade",
        "stop",
        f"The {name} stands {quantity(job, above_in, SHORT_LENGTH)} above grade; it needs "
        f"{quantity(job, rule.value, SHORT_LENGTH)}.",
        f"Raise the {name} clear of the soil and enter its new height at the street.",
        CellRef("backflow_assembly", assembly.id, "above_grade_in"),
        source=rule.source,
        numbers=(Number("above grade", above_in, "in"), Number("minimum", rule.value, "in")),
    )


def _sun(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """PVC above ground without paint. Paint not entered counts once a zone it serves is signed."""
    not_entered = assembly.pvc_painted is None
    if assembly.exposed_pvc is not True or assembly.pvc_painted is True:
        return
    if not_entered and not _buried(job, assembly):
        return
    name = assembly_name(assembly)
    state = "is not entered as painted" if not_entered else "is not painted"
    at = CellRef("backflow_assembly", assembly.id, "pvc_painted")
    yield Finding(
        "pvc in the sun",
        "fix",
        f"PVC at the {name} stands in the sun and {state}.",
        "Paint every exposed inch with light-coloured water-based paint, then tick PVC painted at "
        "the street.",
        at,
        source=at.source,
    )


def _buried(job: LoadedJob, assembly: BackflowAssembly) -> bool:
    """Whether the backfill of any zone that it serves is signed."""
    return any(
        job.backflow_of(zone) is assembly and stretch.signed_by
        for zone in job.zones
        for stretch in job.backfills
        if stretch.zone_id == zone.id
    )
