"""The water of each zone: flow against the supply, pressure at heads, velocity, surge, tables.

Nothing is said of a zone whose figures are not yet all entered.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed, quantity, sentence, zone_name, zone_word
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.water.head_pressures import check_heads, law_source
from fieldbook.checks.water.pipe_rows import check_pipe_rows
from fieldbook.checks.water.velocities import check_surge, check_velocities
from fieldbook.checks.water.zone_flow import available, flow_test, over_supply
from fieldbook.checks.water.zone_solutions import Water, waters
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import FLOW


def check_hydraulics(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every zone's water, then on pipe rows that can't be."""
    found = waters(job)
    for water in found:
        yield from _flow(job, water)
    for water in found:
        for zone in water.zones:
            yield from check_heads(job, zone, water.heads_of(zone))
        yield from _doubtful(job, water)
    yield from check_velocities(job, found)
    yield from check_surge(job, found)
    yield from check_pipe_rows(job)


def _flow(job: LoadedJob, water: Water) -> Iterator[Finding]:
    """Design flow over the available flow, and the rule that governs it."""
    over = over_supply(job, water.zones)
    if over is None:
        return
    zone = water.zones[0]
    limits = [limit for one in water.zones if (limit := available(job, one)) is not None]
    limit = min(limits, key=lambda one: one.flow_gpm)
    total = limit.flow_gpm + over
    wants, gives = quantity(job, total, FLOW), quantity(job, limit.flow_gpm, FLOW)
    who = sentence(listed([zone_name(one) for one in water.zones]))
    draws = "draws" if len(water.zones) == 1 else "draw together"
    yield Finding(
        "flow over supply",
        "stop",
        f"{who} {draws} {wants}, but {limit.rule} allows {gives}: "
        f"{quantity(job, over, FLOW)} too much.",
        f"Split {zone_word(zone)} or fit smaller nozzles, and correct its design flow or nozzles "
        "at the ground; or correct the meter, service line or flow test at the street.",
        CellRef("zone", zone.id, "design_flow_gpm" if len(water.zones) == 1 else "runs_with"),
        source=limit.source,
        numbers=(
            Number("design flow", total, "gpm"),
            Number("available flow", limit.flow_gpm, "gpm"),
            Number("margin", -over, "gpm"),
        ),
    )


def _doubtful(job: LoadedJob, water: Water) -> Iterator[Finding]:
    """What makes the figures of a zone less sure, or stops them altogether."""
    zone = water.zones[0]
    at, who = CellRef("zone", zone.id, "design_flow_gpm"), sentence(zone_name(zone))
    if water.why_not or (water.solution is not None and not water.solution.converged):
        yield Finding(
            "zone not solved",
            "fix",
            f"{who} can't be worked out: "
            f"{water.why_not or 'its pressures and flows do not settle.'}",
            "Look at the pipe rows, curves and flow test that feed it, and correct what can't be.",
            at,
            source=law_source(job),
        )
        return
    if water.solution is None or water.found is None:
        return
    outside = [link.name for link in water.solution.links.values() if link.outside]
    if outside:
        gpm = quantity(job, abs(water.solution.links[outside[0]].gpm), FLOW)
        yield Finding(
            "outside the loss curve",
            "note",
            f"{who} draws {gpm} through the {outside[0]}, outside its loss curve.",
            "Enter more points of the curve at the street or valve boxes.",
            at,
            source=law_source(job),
        )
    test = flow_test(job)
    if test is not None and water.solution.supply_gpm > test[1] * (1 + 1e-9):
        drawn = quantity(job, water.solution.supply_gpm, FLOW)
        yield Finding(
            "beyond the flow test",
            "note",
            f"{who} draws {drawn}, more than the {quantity(job, test[1], FLOW)} that was tested: "
            "the pressures are extrapolated.",
            "Test the flow again with more water running, and enter it at the street.",
            at,
            source=law_source(job),
        )
