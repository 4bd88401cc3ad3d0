"""The search for changes that mend a group of zones: in its network first, then by all checks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from fieldbook.checks.water.advice.zone_asked import (
    Changes,
    asked_of,
    changed,
    is_buried,
    only_heads_of,
    rank_of,
    runs_to_lay,
    size_changes,
    sold_sizes,
)
from fieldbook.checks.water.advice.zone_result import Result, result_of
from fieldbook.checks.water.networks import JobNetwork
from fieldbook.checks.water.zone_solutions import zone_groups
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.values import Value
from fieldbook.water import Head, Kind, Pipe, WhatIf
from fieldbook.water.advice import (
    Plan,
    Run,
    cost_of,
    find_pipe,
    from_the_source,
    judge,
    like_last,
    nozzle_parts,
    splits,
)

_MOST_MORE = 20
"""Heads that are tried behind the last one."""


@dataclass(frozen=True)
class PipePlan:
    """Larger pipe that is enough: sizes of runs by their link, and of the service line ("": as is).

    proven: no cheaper plan is enough; None for a plan that is offered beside the cheapest one,
    because it lays the first runs all alike.
    """

    sizes: Mapping[str, str]
    service_size: str
    dig_ft: float
    feet: float
    pieces: int
    result: Result
    proven: bool | None


@dataclass(frozen=True)
class PipeSearch:
    """The plans found, whether every possible plan was tried, and how many were."""

    plans: tuple[PipePlan, ...]
    complete: bool
    tried: int


class Seeker:
    """A job with one group of zones, solved again with changes. Raises NetworkError as `solve`."""

    def __init__(self, job: LoadedJob) -> None:
        """Lay out the group's network once."""
        self.job = job
        (self.group,) = zone_groups(job)
        assert self.group.job_network is not None
        self.network: JobNetwork = self.group.job_network
        self.asked = asked_of(job, self.group, self.network)
        self.whatif = WhatIf(self.network.network)
        nodes = self.network.network.nodes
        self.heads = {head.name: head for node in nodes for head in node.heads}

    def runs_well(self, names: Sequence[str]) -> bool:
        """Whether these heads run well when no others do."""
        gone: dict[str, Head | None] = {name: None for name in self.heads if name not in names}
        asked = self.asked.of_heads(names)
        if not judge(self.whatif.solve(heads=gone), asked).met:
            return False
        return self.result_with(names).met

    def result_with(self, names: Sequence[str]) -> Result:
        """How the zones stand when only these heads run."""
        return result_of(only_heads_of(self.job, self.group, names))

    def apart(self) -> Result:
        """How the zones stand one after the other."""
        changes: Changes = {("zone", zone.id): {"runs_with": None} for zone in self.group.zones}
        return result_of(changed(self.job, changes))

    def smaller_nozzles(self) -> tuple[float, Result] | None:
        """The largest part of the nozzles' flow that is enough, and the result."""
        for part in nozzle_parts():
            scaled: dict[str, Head | None] = {
                name: head._replace(k=head.k * part) for name, head in self.heads.items()
            }
            asked = replace(self.asked, least_draw_gpm=self.asked.least_draw_gpm * part)
            if judge(self.whatif.solve(heads=scaled), asked).met:
                result = result_of(changed(self.job, self._nozzles(part)))
                if result.met:
                    return part, result
        return None

    def _nozzles(self, part: float) -> Changes:
        changes: dict[tuple[str, str], dict[str, Value]] = {}
        for rows in self.network.heads.values():
            flow = (amount(rows.head, "nozzle_gpm") or 0.0) * part
            changes["head", rows.head.id] = {"nozzle_gpm": flow}
        for zone in self.group.zones:
            designed = amount(zone, "design_flow_gpm")
            if designed is not None:
                changes["zone", zone.id] = {"design_flow_gpm": designed * part}
        return changes

    def split(self) -> tuple[tuple[str, ...], ...] | None:
        """The fewest groups of heads that each run well, neighbours if they can be."""
        results, nodes = self.whatif.now.heads, self.network.network.node_at
        names = list(self.heads)
        by_psi = sorted(names, key=lambda name: results[name].psi)
        by_ft = sorted(names, key=lambda name: nodes[results[name].node].elevation_ft)
        return next(splits([names, by_psi, by_ft], self.runs_well), None)

    def more_heads(self) -> int | None:
        """How many more heads like the last run well behind it, each as far on.

        None where its pipe is buried already.
        """
        order = self.network.order(self.group.zones[0])
        if not order or is_buried(self.job, self.group.zones[0].id):
            return None
        last = order[-1]
        row = self.network.heads[last].run
        run = next(name for name, one in self.network.runs.items() if one is row)
        for more in range(1, _MOST_MORE + 1):
            network = like_last(self.network.network, run, last, more)
            asked = self.asked.with_more(last, run, more)
            if not judge(WhatIf(network).now, asked).met:
                return more - 1
        return _MOST_MORE


def larger_pipe(job: LoadedJob) -> PipeSearch:
    """Larger pipe for the one group of a job: of its runs, and of the service line if need be.

    The cheapest plan of runs comes first, then one that lays the first runs a size up. Where runs
    alone are enough the service line is offered beside them only if it is enough by itself.
    """
    as_it_is = _with_service(job, "")
    if as_it_is.plans:
        alone = next(filter(None, (_service_alone(job, at) for at in _service_sizes(job))), [])
        return PipeSearch((*as_it_is.plans, *alone), as_it_is.complete, as_it_is.tried)
    complete, tried = as_it_is.complete, as_it_is.tried
    for size in _service_sizes(job):
        searched = _with_service(job, size)
        complete, tried = complete and searched.complete, tried + searched.tried
        if searched.plans:
            return PipeSearch(searched.plans, complete, tried)
    return PipeSearch((), complete, tried)


def _service_sizes(job: LoadedJob) -> Iterator[str]:
    """Each larger size in which the class of the service line is sold, the smallest first."""
    supply = job.supply
    rank = rank_of(supply.service_size) if supply is not None else None
    if supply is not None and rank is not None:
        for size in sold_sizes(job, supply.service_class):
            if size.rank > rank:
                yield size.size


def _with_service_size(job: LoadedJob, size: str) -> LoadedJob:
    if not size or job.supply is None:
        return job
    return changed(job, {("supply", job.supply.id): {"service_size": size}})


def _service_alone(job: LoadedJob, size: str) -> list[PipePlan]:
    result = result_of(_with_service_size(job, size))
    return [_plan(job, {}, {}, size, result, proven=True)] if result.met else []


def _with_service(job: LoadedJob, service: str) -> PipeSearch:
    """The search over all runs with the service line in one size."""
    laid = _with_service_size(job, service)
    if service:
        alone = _service_alone(job, service)
        if alone:
            return PipeSearch(tuple(alone), True, 1)
    seeker = Seeker(laid)
    if judge(seeker.whatif.now, seeker.asked).spare_gpm < 0.0:
        # Less friction in any pipe never lowers the draw of the whole network.
        return PipeSearch((), True, 1)
    runs = runs_to_lay(laid, seeker.network)
    results: dict[frozenset[tuple[str, str]], Result] = {}

    def enough(plan: Plan) -> bool:
        if not judge(seeker.whatif.solve(kinds=kinds_of(seeker.network, plan)), seeker.asked).met:
            return False
        result = result_of(changed(laid, size_changes(seeker.network, plan)))
        results[_key(plan)] = result
        return result.met

    search = find_pipe(runs, enough)
    plans = list(search.plans)
    up = next((plan for plan in from_the_source(runs) if enough(plan)), None) if plans else None
    if up is not None and _key(up) not in map(_key, plans):
        plans.append(up)
    by_name = {run.name: run for run in runs}
    made = [
        _plan(
            job,
            plan,
            by_name,
            service,
            results[_key(plan)],
            proven=None if plan is up else search.complete,
        )
        for plan in plans
    ]
    return PipeSearch(tuple(made), search.complete, search.tried)


def _key(plan: Plan) -> frozenset[tuple[str, str]]:
    return frozenset((name, choice.size) for name, choice in plan.items())


def _plan(
    job: LoadedJob,
    plan: Plan,
    runs: Mapping[str, Run],
    service: str,
    result: Result,
    *,
    proven: bool | None,
) -> PipePlan:
    dig_ft, feet, pieces, _ = cost_of(plan, runs)
    if service:
        # A service line is always in the ground.
        length_ft = amount(job.supply, "service_length_ft") or 0.0
        dig_ft, feet, pieces = dig_ft + length_ft, feet + length_ft, pieces + 1
    sizes = {name: choice.size for name, choice in plan.items()}
    return PipePlan(sizes, service, dig_ft, feet, pieces, result, proven)


def kinds_of(network: JobNetwork, plan: Plan) -> dict[str, Kind]:
    """The pipes of a plan as they would be laid."""
    links = {link.name: link.kind for link in network.network.links}
    found: dict[str, Kind] = {}
    for name, choice in plan.items():
        kind = links[name]
        assert isinstance(kind, Pipe)
        found[name] = kind._replace(bore_in=choice.bore_in, c=choice.c)
    return found
