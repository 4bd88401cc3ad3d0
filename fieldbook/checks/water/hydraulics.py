"""Flags on the water of each zone: flow against the supply, heads, velocity, surge, pipe rows.

A zone whose figures are not all entered is not solved: it is not checked.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed, quantity, sentence, zone_name, zone_word
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.looked import Looked, zone_rows
from fieldbook.checks.water.head_pressures import check_heads, law_source
from fieldbook.checks.water.pipe_rows import check_pipe_rows
from fieldbook.checks.water.velocities import check_surge, check_velocities
from fieldbook.checks.water.zone_flow import (
    available_together,
    flow_test,
    over_supply_gpm,
)
from fieldbook.checks.water.zone_solutions import ZoneGroup, zone_groups, zone_lacks
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import FLOW


def check_hydraulics(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Every zone's flow against the supply, and its heads; then impossible pipe rows."""
    groups = zone_groups(job)
    for group in groups:
        for zone in group.zones:
            yield Looked(
                f"water of {zone_name(zone)}", zone_rows(job, zone), zone_lacks(job, group, zone)
            )
    for group in groups:
        yield from _flow(job, group)
    for group in groups:
        for zone in group.zones:
            yield from check_heads(job, zone, group.heads_of(zone))
        yield from _doubtful(job, group)
    yield from check_velocities(job, groups)
    yield from check_surge(job, groups)
    yield from check_pipe_rows(job)


def _flow(job: LoadedJob, group: ZoneGroup) -> Iterator[Finding]:
    """A design flow over what the governing rule allows."""
    over = over_supply_gpm(job, group.zones)
    limit = available_together(job, group.zones)
    if over is None or limit is None:
        return
    zone = group.zones[0]
    total = limit.flow_gpm + over
    wants, gives = quantity(job, total, FLOW), quantity(job, limit.flow_gpm, FLOW)
    who = sentence(listed([zone_name(each) for each in group.zones]))
    draws = "draws" if len(group.zones) == 1 else "draw together"
    yield Finding(
        "flow over supply",
        "stop",
        f"{who} {draws} {wants}, but {limit.rule} allows {gives}: "
        f"{quantity(job, over, FLOW)} too much.",
        f"Split {zone_word(zone)} or fit smaller nozzles, and correct its design flow or nozzles "
        "at the ground; or correct the meter, service line or flow test at the street.",
        CellRef("zone", zone.id, "design_flow_gpm" if len(group.zones) == 1 else "runs_with"),
        source=limit.source,
        numbers=(
            Number("design flow", total, "gpm"),
            Number("available flow", limit.flow_gpm, "gpm"),
            Number("margin", -over, "gpm"),
        ),
    )


def _doubtful(job: LoadedJob, group: ZoneGroup) -> Iterator[Finding]:
    """A zone that can't be solved, or whose figures reach beyond what was entered."""
    zone = group.zones[0]
    at, who = CellRef("zone", zone.id, "design_flow_gpm"), sentence(zone_name(zone))
    if group.failed:
        yield Finding(
            "zone not solved",
            "fix",
            f"{who} can't be worked out: "
            f"{group.refusal or 'no flows and pressures were found that agree.'}",
            "Look at the pipe rows, loss curves and flow test that feed it, and correct the one "
            "that is wrong.",
            at,
            source=law_source(job),
        )
        return
    if group.solution is None:
        return
    outside = [link for link in group.solution.links.values() if link.outside]
    if outside:
        gpm = quantity(job, abs(outside[0].gpm), FLOW)
        yield Finding(
            "outside the loss curve",
            "note",
            f"{who} draws {gpm} through the {outside[0].name}, outside its loss curve.",
            "Enter more points of the curve at the street or valve boxes.",
            at,
            source=law_source(job),
        )
    test = flow_test(job)
    if test is not None and group.solution.supply_gpm > test[1] * (1 + 1e-9):
        drawn = quantity(job, group.solution.supply_gpm, FLOW)
        yield Finding(
            "beyond the flow test",
            "note",
            f"{who} draws {drawn}, more than the {quantity(job, test[1], FLOW)} that was tested: "
            "the pressures are extrapolated.",
            "Test the flow again with more water running, and enter it at the street.",
            at,
            source=law_source(job),
        )
