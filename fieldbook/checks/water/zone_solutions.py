"""The water of a job: each group of zones that run together, solved where enough is entered."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from fieldbook.checks.common.job_rules import velocity_maximum
from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.water.network_draft import HeadRows, MissingError
from fieldbook.checks.water.networks import SERVICE, JobNetwork, network_of
from fieldbook.checks.water.pipe_tree import lateral_of, mainline_to
from fieldbook.checks.water.zone_flow import (
    allowed_lacks,
    bore_of,
    bores_of,
    needed_psi,
    street_of,
    zone_flow_gpm,
)
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.water import HeadResult, Network, NetworkError, Solution, solve, velocity_ft_s


@dataclass(frozen=True)
class ZoneGroup:
    """A group of zones that run together; most groups are one zone.

    job_network and solution are None while a figure is not entered: `missing` then names the
    first. refusal: the solver's sentence where what is entered can't be solved.
    """

    zones: tuple[Zone, ...]
    job_network: JobNetwork | None
    solution: Solution | None
    refusal: str = ""
    missing: str = ""
    missing_at: CellRef | None = None

    @property
    def solved(self) -> bool:
        """Whether there is a solution to trust."""
        return self.solution is not None and self.solution.converged

    @property
    def failed(self) -> bool:
        """Whether every figure is entered and yet there is no solution to trust."""
        return bool(self.refusal) or (self.solution is not None and not self.solution.converged)

    def heads_of(self, zone: Zone) -> list[tuple[HeadRows, HeadResult]]:
        """A zone's heads with their results, in the order of its runs; none if not solved."""
        if self.job_network is None or self.solution is None:
            return []
        results = self.solution.heads
        return [
            (rows, results[name])
            for name, rows in self.job_network.heads.items()
            if rows.zone is zone
        ]


@once_per_job
def zone_groups(job: LoadedJob) -> list[ZoneGroup]:
    """Every group of zones, solved where it can be."""
    return [_solve_group(job, zones) for zones in job.running_together()]


def _solve_group(job: LoadedJob, zones: tuple[Zone, ...]) -> ZoneGroup:
    try:
        job_network = network_of(job, zones)
        return ZoneGroup(zones, job_network, solved(job_network.network))
    except MissingError as figure:
        return ZoneGroup(zones, None, None, missing=str(figure), missing_at=figure.at)
    except NetworkError as error:
        return ZoneGroup(zones, None, None, refusal=str(error))


# Most entries change no zone's network, or one: the others keep their solution. A network is the
# whole key, so an answer is never that of other figures.
@lru_cache(maxsize=128)
def solved(network: Network) -> Solution:
    """The solution of a network; raises NetworkError as `solve` does."""
    return solve(network)


def zone_lacks(job: LoadedJob, group: ZoneGroup, zone: Zone) -> tuple[Missing, ...]:
    """What is not entered of a zone's water, each thing once."""
    found = allowed_lacks(job, zone)
    if group.missing and group.missing_at is not None:
        found.append(Missing(group.missing.rstrip(","), group.missing_at))
    for head in job.heads_of(zone.id):
        if needed_psi(head, zone) is None and amount(head, "min_psi") is None:
            at = CellRef("head", head.id, "rated_psi")
            found.append(Missing(f"what a head of {zone_name(zone)} needs", at))
            break
    return tuple({missing.at: missing for missing in reversed(found)}.values())[::-1]


@dataclass(frozen=True)
class Speed:
    """The velocity in a pipe while zones run; `run` is None for the service line."""

    run: PipeRun | None
    flow_gpm: float
    ft_s: float
    limit_ft_s: float
    source: str

    @property
    def excess(self) -> float:
        """The velocity as a part of its limit."""
        return self.ft_s / self.limit_ft_s


def speeds(job: LoadedJob, group: ZoneGroup) -> list[Speed]:
    """The velocity in every pipe: as solved, else at the design flow with each zone alone."""
    solved = group.job_network is not None and group.solution is not None
    figures = _solved_speeds(job, group) if solved else _design_speeds(job, group)
    return [_speed(job, run, gpm, ft_s) for run, gpm, ft_s in figures]


def _speed(job: LoadedJob, run: PipeRun | None, gpm: float, ft_s: float) -> Speed:
    """A velocity beside the limit for what the pipe is made of; the service line's for None."""
    service = job.supply.service_class if job.supply is not None else None
    limit = velocity_maximum(job, run.pipe_class if run is not None else service)
    return Speed(run, gpm, ft_s, limit.value, limit.source)


_Figures = Iterator[tuple[PipeRun | None, float, float]]
"""A run (None: the service line), its flow in gpm, its velocity in ft/s."""


def _solved_speeds(job: LoadedJob, group: ZoneGroup) -> _Figures:
    assert group.job_network is not None
    assert group.solution is not None
    links = group.solution.links
    for name, run in group.job_network.pipes().items():
        yield run, abs(links[name].gpm), links[name].ft_s or 0.0
    bore_in = street_of(job).service_bore_in
    if SERVICE not in links and bore_in is not None:
        # A flow test stands for the service line in the network; its water still runs through it.
        gpm = group.solution.supply_gpm
        yield None, gpm, velocity_ft_s(gpm, bore_in)


def _design_speeds(job: LoadedJob, group: ZoneGroup) -> _Figures:
    service_in = street_of(job).service_bore_in
    for zone in group.zones:
        gpm = zone_flow_gpm(job, zone)
        if gpm is None:
            continue
        if service_in is not None:
            yield None, gpm, velocity_ft_s(gpm, service_in)
        main, lateral = mainline_to(job, zone), _lateral_flows(job, zone)
        for run in (*main, *job.runs_of(zone.id)):
            bore = bore_of(run.pipe_class, run.size, bores_of(job))
            run_gpm = gpm if run in main else lateral.get(run.id)
            if bore is not None and run_gpm is not None:
                yield run, run_gpm, velocity_ft_s(run_gpm, bore.bore_in)


def _lateral_flows(job: LoadedJob, zone: Zone) -> Mapping[str, float]:
    """By the id of each sound lateral run, the nozzle flow in gpm beyond it.

    Empty while a nozzle is not entered.
    """
    flows: dict[str, float] = defaultdict(float)
    for path in lateral_of(job, zone).paths():
        head = job.head_at(path[-1].id)
        nozzle_gpm = amount(head, "nozzle_gpm") or 0.0
        if head is not None and not nozzle_gpm:
            return {}
        for run in path:
            flows[run.id] += nozzle_gpm
    return flows
