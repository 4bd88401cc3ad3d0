"""The water of a job: each group of zones that run together, solved where enough is entered."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.checks.common.job_rules import velocity_maximum
from fieldbook.checks.water.heights import heads_by_run
from fieldbook.checks.water.networks import (
    SERVICE,
    HeadOf,
    JobNetwork,
    MissingError,
    network_of,
    pipes_of,
    running_together,
)
from fieldbook.checks.water.pipe_tree import lateral_of, mainline_to
from fieldbook.checks.water.zone_flow import bore_of, street_of, zone_flow_gpm
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.water import HeadResult, NetworkError, Solution, solve, velocity_ft_s


@dataclass(frozen=True)
class Speed:
    """Velocity in a pipe while zones run; `run` is None for the service line."""

    run: PipeRun | None
    flow_gpm: float
    ft_s: float
    limit_ft_s: float
    source: str


@dataclass(frozen=True)
class Water:
    """A group of zones that run together. `found` and `solution` are None while figures miss.

    `missing` names the first figure not entered yet; `why_not` is the solver's sentence where what
    is entered can't be a network.
    """

    zones: tuple[Zone, ...]
    found: JobNetwork | None
    solution: Solution | None
    why_not: str = ""
    missing: str = ""

    def heads_of(self, zone: Zone) -> list[tuple[HeadOf, HeadResult]]:
        """A zone's heads with their results, in the order of its runs."""
        if self.found is None or self.solution is None:
            return []
        heads = self.solution.heads
        return [(rows, heads[n]) for n, rows in self.found.heads.items() if rows.zone is zone]


@once_per_job
def waters(job: LoadedJob) -> list[Water]:
    """Every group of zones, solved where it can be."""
    return [water_of(job, zones) for zones in running_together(job)]


def water_of(job: LoadedJob, zones: tuple[Zone, ...]) -> Water:
    """One group of zones."""
    try:
        found = network_of(job, zones)
        return Water(zones, found, solve(found.network))
    except MissingError as what:
        return Water(zones, None, None, missing=str(what))
    except NetworkError as why:
        return Water(zones, None, None, why_not=str(why))


def speeds(job: LoadedJob, water: Water) -> list[Speed]:
    """Velocity in every pipe: as solved, else at the design flow, each zone alone."""
    limit = velocity_maximum(job)
    if water.found is None or water.solution is None:
        flows = [_design_flows(job, zone) for zone in water.zones]
        rows: Mapping[str, PipeRun] = {run.id: run for run in job.pipe_runs}
        made = [
            (rows.get(row_id), gpm, _bore_in(job, rows.get(row_id)))
            for flow in flows
            for row_id, gpm in flow.items()
        ]
        return [
            Speed(run, gpm, velocity_ft_s(gpm, bore), limit.value, limit.source)
            for run, gpm, bore in made
            if bore is not None
        ]
    links = water.solution.links
    return [
        Speed(run, abs(links[name].gpm), links[name].ft_s or 0.0, limit.value, limit.source)
        for name, run in pipes_of(water.found).items()
    ] + _beyond_the_test(job, water)


def _beyond_the_test(job: LoadedJob, water: Water) -> list[Speed]:
    """The service line's velocity where a flow test stands for it in the network."""
    assert water.solution is not None
    assert water.found is not None
    bore_in, limit = _bore_in(job, None), velocity_maximum(job)
    if SERVICE in water.solution.links or bore_in is None:
        return []
    gpm = water.solution.supply_gpm
    return [Speed(None, gpm, velocity_ft_s(gpm, bore_in), limit.value, limit.source)]


def _bore_in(job: LoadedJob, run: PipeRun | None) -> float | None:
    """A run's bore; the service line's for None."""
    if run is None:
        return street_of(job).service_bore_in
    bore = bore_of(run.pipe_class, run.size)
    return bore.bore_in if bore is not None else None


def _design_flows(job: LoadedJob, zone: Zone) -> dict[str, float]:
    """Flow in gpm by the id of a run, "" for the service line, from design flow and nozzles."""
    gpm = zone_flow_gpm(job, zone)
    if gpm is None:
        return {}
    main = mainline_to(job, zone)
    return {"": gpm, **dict.fromkeys((run.id for run in main), gpm), **_lateral_flows(job, zone)}


def _lateral_flows(job: LoadedJob, zone: Zone) -> dict[str, float]:
    """Nozzle flow beyond each sound lateral run; empty while a nozzle is not entered."""
    flows: dict[str, float] = defaultdict(float)
    heads = heads_by_run(job)
    for path in lateral_of(job, zone).paths():
        head = heads.get(path[-1].id)
        nozzle_gpm = amount(head, "nozzle_gpm") or 0.0
        if head is not None and not nozzle_gpm:
            return {}
        for run in path:
            flows[run.id] += nozzle_gpm
    return flows
