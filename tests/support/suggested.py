"""A job after a suggestion was followed, as a crew would enter it."""

from __future__ import annotations

from fieldbook.checks.water.advice.zone_asked import changed, only_group, only_heads_of
from fieldbook.checks.water.advice.zone_remedies import Suggestion
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.records.loaded_job import LoadedJob


def followed(job: LoadedJob, group: ZoneGroup, one: Suggestion) -> list[LoadedJob]:
    """The job with a suggestion made, holding the group alone; one job a group of a split."""
    network, alone = group.job_network, only_group(job, group)
    assert network is not None
    if one.kind == "split":
        return [only_heads_of(alone, group, names) for names in one.groups]
    if one.kind == "one after the other":
        apart: dict[tuple[str, str], dict[str, str | None]] = {
            ("zone", zone.id): {"runs_with": None} for zone in group.zones
        }
        return [changed(alone, apart)]
    changes: dict[tuple[str, str], dict[str, str | float | None]] = {}
    if one.kind == "nozzles":
        for rows in network.heads.values():
            flow = (rows.head.nozzle_gpm or 0.0) * one.part
            changes["head", rows.head.id] = {"nozzle_gpm": flow}
        for zone in group.zones:
            if zone.design_flow_gpm is not None:
                changes["zone", zone.id] = {"design_flow_gpm": zone.design_flow_gpm * one.part}
    for name, size in one.sizes.items():
        changes["pipe_run", network.runs[name].id] = {"size": size}
    if one.service_size:
        assert job.supply is not None
        changes["supply", job.supply.id] = {"service_size": one.service_size}
    return [changed(alone, changes)]
