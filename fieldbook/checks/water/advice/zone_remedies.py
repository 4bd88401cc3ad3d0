"""What would mend a zone: changes that pass every check of its water, cheapest to make first.

Each change is searched for in the zone's network, then made in a copy of the record and held
against all checks; what fails there is not suggested. The search solves the zone hundreds of
times, so nothing here runs while a crew types: the zone's page and the command ask for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from fieldbook.checks.water.advice.advice_search import PipePlan, Seeker, larger_pipe
from fieldbook.checks.water.advice.zone_asked import is_buried, only_group
from fieldbook.checks.water.advice.zone_result import Result, result_of
from fieldbook.checks.water.networks import JobNetwork
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.water import NetworkError
from fieldbook.water.advice import most_heads

SuggestionKind = Literal["one after the other", "nozzles", "pipe", "service line", "split"]


@dataclass(frozen=True)
class Suggestion:
    """One change that is enough, and how the zone would stand with it.

    sizes: new sizes of runs by their link's name; service_size: that of the service line, "" as
    it is. groups: heads by name that run together. part: of the nozzles' flow. dig_ft: feet of
    buried pipe to dig up. proven: no cheaper plan of its kind is enough; None where one is listed
    too, and this lays the first runs all alike.
    """

    kind: SuggestionKind
    result: Result
    sizes: Mapping[str, str] = field(default_factory=dict)
    service_size: str = ""
    groups: tuple[tuple[str, ...], ...] = ()
    part: float = 1.0
    dig_ft: float = 0.0
    feet: float = 0.0
    pieces: int = 0
    proven: bool | None = True

    @property
    def cost(self) -> tuple[float, int, float, int]:
        """What it costs, to be compared: feet to dig, valves to add, feet of pipe, pieces."""
        return self.dig_ft, max(len(self.groups) - 1, 0), self.feet, self.pieces


@dataclass(frozen=True)
class Advice:
    """How a group of zones stands today, and what would mend it, cheapest first.

    pipe_complete: every plan of larger pipe was tried; pipe_tried: how many were. feeds: how many
    of its heads, counted from the first, run well as it is. more: how many more heads like the
    last it could feed. None for what was not asked.
    """

    job_network: JobNetwork
    today: Result
    suggestions: tuple[Suggestion, ...] = ()
    pipe_complete: bool = True
    pipe_tried: int = 0
    feeds: int | None = None
    more: int | None = None

    @property
    def by_pipe(self) -> bool:
        """Whether larger pipe mends it."""
        return any(one.kind in ("pipe", "service line") for one in self.suggestions)


def advice(job: LoadedJob, group: ZoneGroup) -> Advice | None:
    """What would mend a group of zones; None while it is not solved."""
    if group.job_network is None or not group.solved:
        return None
    alone = only_group(job, group)
    today = result_of(alone)
    one_zone = len(group.zones) == 1
    try:
        seeker = Seeker(alone)
        if today.met:
            more = seeker.more_heads() if one_zone else None
            return Advice(group.job_network, today, more=more)
        pipe = larger_pipe(alone)
        found = [_laid(plan) for plan in pipe.plans]
        found += _split_or_apart(seeker)
        smaller = seeker.smaller_nozzles()
        if smaller is not None:
            part, result = smaller
            found.append(Suggestion("nozzles", result, part=part, pieces=len(seeker.heads)))
        feeds = most_heads(list(seeker.heads), seeker.runs_well) if one_zone else None
    except NetworkError:
        # A change that can't be solved ended the search: nothing may be said of what it left out.
        return Advice(group.job_network, today, pipe_complete=False)
    found.sort(key=lambda one: one.cost)
    return Advice(group.job_network, today, tuple(found), pipe.complete, pipe.tried, feeds)


def _laid(plan: PipePlan) -> Suggestion:
    return Suggestion(
        "pipe" if plan.sizes else "service line",
        plan.result,
        plan.sizes,
        plan.service_size,
        dig_ft=plan.dig_ft,
        feet=plan.feet,
        pieces=plan.pieces,
        proven=plan.proven,
    )


def _split_or_apart(seeker: Seeker) -> Iterator[Suggestion]:
    """One zone is split; zones that run together run one after the other."""
    if len(seeker.group.zones) > 1:
        result = seeker.apart()
        if result.met:
            yield Suggestion("one after the other", result)
        return
    groups = seeker.split()
    if groups is None:
        return
    worst = min(map(seeker.result_with, groups), key=lambda one: one.margin_psi or 0.0)
    zone = seeker.group.zones[0]
    buried = is_buried(seeker.job, zone.id)
    lengths = [amount(run, "length_ft") or 0.0 for run in seeker.job.runs_of(zone.id)]
    yield Suggestion("split", worst, groups=groups, dig_ft=sum(lengths) if buried else 0.0)
