"""Flags on the water of each zone: flow against the supply, heads, velocity, surge, pipe rows.

A zone whose figures are not all entered is not solved: it is not checked.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.finding import Finding
from fieldbook.checks.looked import Looked, zone_rows
from fieldbook.checks.water.pipe_rows import check_pipe_rows
from fieldbook.checks.water.velocities import check_surge, check_velocities
from fieldbook.checks.water.zone_flags import doubt_flags, flow_flags, head_flags
from fieldbook.checks.water.zone_solutions import zone_groups, zone_lacks
from fieldbook.records.loaded_job import LoadedJob


def check_hydraulics(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Every zone's flow against the supply, and its heads; then impossible pipe rows."""
    groups = zone_groups(job)
    for group in groups:
        for zone in group.zones:
            yield Looked(
                f"water of {zone_name(zone)}", zone_rows(job, zone), zone_lacks(job, group, zone)
            )
    for group in groups:
        yield from flow_flags(job, group)
    for group in groups:
        for zone in group.zones:
            yield from head_flags(job, group, zone)
        yield from doubt_flags(job, group)
    yield from check_velocities(job, groups)
    yield from check_surge(job, groups)
    yield from check_pipe_rows(job)
