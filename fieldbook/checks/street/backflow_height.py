"""The backflow assembly: its height over what it serves, and PVC left in the sun.

Height is taken from the critical level to the highest of everything downstream, pipe and sprinkler
(30 Tex. Admin. Code 344.50(b)(3), (4): "above any downstream piping and the highest downstream
opening"); pop-ups are measured retracted, or raised where the local rule does. Only elevations and
rises that were entered count: what is not known is never taken to be low enough.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import (
    assembly_clearance,
    backflow_height,
    figure,
    rule_value,
)
from fieldbook.checks.common.naming import assembly_name, quantity, run_name, zone_name
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import PROPERTY, Looked
from fieldbook.checks.water.heights import Highest, highest_of
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import Rule
from fieldbook.units import SHORT_LENGTH

_CLOSE_ENOUGH_IN = 1e-6
"""What binary fractions of a foot may be off by; no tape reads it."""
_PAINT = "Plastic pipe association report UNI-TR-5: light water-based paint."


def check_backflow(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each assembly: how high it stands, and its PVC."""
    if not job.backflow_assemblies:
        at = CellRef("backflow_assembly", "", "add backflow")
        yield Looked(PROPERTY, missing=(Missing("the backflow assembly", at),))
    yield from _behind_none(job)
    for assembly in job.backflow_assemblies:
        yield Looked(
            f"height of the {assembly_name(assembly)}",
            frozenset({assembly.id}),
            tuple(_lacks(job, assembly)),
        )
        yield from _over_all(job, assembly)
        yield from _above_grade(job, assembly)
        yield from _over_grade(job, assembly)
        at = CellRef("backflow_assembly", assembly.id, "exposed_pvc")
        lacks = (Missing(f"whether PVC stands in the sun at the {assembly_name(assembly)}", at),)
        yield Looked(
            f"PVC at the {assembly_name(assembly)}",
            frozenset({assembly.id}),
            lacks if assembly.exposed_pvc is None else (),
            "handover",
        )
        yield from _sun(job, assembly)


def _behind_none(job: LoadedJob) -> Iterator[Looked]:
    """Zones of which nobody said which of several assemblies they are behind."""
    for zone in job.zones if job.backflow_assemblies else ():
        if job.backflow_of(zone) is None:
            at = CellRef("zone", zone.id, "backflow_id")
            lacks = (Missing(f"the backflow assembly of {zone_name(zone)}", at),)
            yield Looked(f"backflow assembly of {zone_name(zone)}", frozenset({zone.id}), lacks)


def served(job: LoadedJob, assembly: BackflowAssembly) -> list[Zone]:
    """The zones behind an assembly."""
    return [zone for zone in job.zones if job.backflow_of(zone) is assembly]


def _tops(job: LoadedJob, assembly: BackflowAssembly) -> list[tuple[Zone, Highest]]:
    raised = rule_value(job, "heads_measured") == "raised"
    return [(zone, highest_of(job, zone, raised=raised)) for zone in served(job, assembly)]


def _lacks(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Missing]:
    """What must be known before the height can be called enough."""
    name = assembly_name(assembly)

    def cell(column: str) -> CellRef:
        return CellRef("backflow_assembly", assembly.id, column)

    if assembly.kind is None:
        yield Missing("the kind of the backflow assembly", cell("kind"))
    if assembly_clearance(job, assembly.kind) and amount(assembly, "above_grade_in") is None:
        yield Missing(f"the height of the {name} over the soil", cell("above_grade_in"))
    if backflow_height(job, assembly.kind) is None:
        return
    if amount(assembly, "critical_level_ft") is None:
        yield Missing(f"the critical level of the {name}", cell("critical_level_ft"))
    for zone, top in _tops(job, assembly):
        if top.unknown:
            words = f"the elevation of everything in {zone_name(zone)} ({len(top.unknown)} unknown)"
            yield Missing(words, top.unknown[0])
    if not served(job, assembly):
        at = CellRef("zone", "", "add zone")
        if job.zones:
            at = CellRef("zone", job.zones[0].id, "backflow_id")
        yield Missing(f"the zones that the {name} serves", at)


def _over_all(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """The critical level over the highest pipe and sprinkler that is known."""
    rule = backflow_height(job, assembly.kind)
    level_ft = amount(assembly, "critical_level_ft")
    known = [
        (top.top_ft, zone, top) for zone, top in _tops(job, assembly) if top.top_ft is not None
    ]
    if rule is None or level_ft is None or not known:
        return
    top_ft, zone, top = max(known, key=lambda one: one[0])
    clearance_in = (level_ft - top_ft) * 12.0
    if clearance_in < rule.value - _CLOSE_ENOUGH_IN:
        yield _too_low(job, assembly, rule, clearance_in, _where(job, zone, top))


def _where(job: LoadedJob, zone: Zone, top: Highest) -> str:
    """The highest thing in words."""
    if top.run is None:
        return f"the point of connection, as high as {zone_name(zone)}"
    thing = "pipe" if top.is_pipe else "sprinkler"
    return f"the highest {thing} it serves, at {run_name(job, top.run)}"


def _too_low(
    job: LoadedJob, assembly: BackflowAssembly, rule: Rule, clearance_in: float, where: str
) -> Finding:
    name, least = assembly_name(assembly), quantity(job, rule.value, SHORT_LENGTH)
    over = quantity(job, abs(clearance_in), SHORT_LENGTH)
    return Finding(
        "backflow too low",
        "stop",
        f"The {name} stands {over} {'over' if clearance_in >= 0 else 'below'} {where}; it needs "
        f"{least}.",
        f"Raise the {name} or fit a kind that may stand lower; then enter its critical level.",
        CellRef("backflow_assembly", assembly.id, "critical_level_ft"),
        source=rule.source,
        numbers=(Number("clearance", clearance_in, "in"), Number("minimum", rule.value, "in")),
    )


def _above_grade(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """The clearance of an assembly that must stand clear of the soil."""
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


def _over_grade(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """An RP that stands higher over the soil than the local rule allows."""
    most, above_in = (
        figure(job, "backflow_above_grade_most_in.RP"),
        amount(assembly, "above_grade_in"),
    )
    if assembly.kind != "RP" or above_in is None or above_in <= most.value + _CLOSE_ENOUGH_IN:
        return
    name = assembly_name(assembly)
    yield Finding(
        "backflow too high",
        "fix",
        f"The {name} stands {quantity(job, above_in, SHORT_LENGTH)} above grade; "
        f"{quantity(job, most.value, SHORT_LENGTH)} is the most here.",
        f"Lower the {name}, and enter its new height at the street.",
        CellRef("backflow_assembly", assembly.id, "above_grade_in"),
        source=most.source,
        numbers=(Number("above grade", above_in, "in"), Number("maximum", most.value, "in")),
    )


def _sun(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """PVC above ground without paint; a blank counts once a zone it serves is signed."""
    blank = assembly.pvc_painted is None
    if assembly.exposed_pvc is not True or assembly.pvc_painted is True:
        return
    if blank and not any(_buried(job, zone) for zone in served(job, assembly)):
        return
    name = assembly_name(assembly)
    state = "is not entered as painted" if blank else "is not painted"
    yield Finding(
        "pvc in the sun",
        "fix",
        f"PVC at the {name} stands in the sun and {state}.",
        "Paint every exposed inch with light-coloured water-based paint, then tick PVC painted at "
        "the street.",
        CellRef("backflow_assembly", assembly.id, "pvc_painted"),
        source=_PAINT,
    )


def _buried(job: LoadedJob, zone: Zone) -> bool:
    """Whether the backfill of a zone is signed."""
    return any(stretch.signed_by for stretch in job.backfills if stretch.zone_id == zone.id)
