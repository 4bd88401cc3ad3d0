"""Which pipe could be laid larger, and the least of it that is enough.

A plan costs, in this order: feet to be dug up again, feet laid, pieces, inches of bore. No run
becomes larger than the pipe that feeds it, and only sizes that are sold are tried.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

MOST_PLANS = 4000
"""Plans that are listed for one search before it is cut to those likely to help."""
MOST_TRIES = 1000
"""Solves spent on one search before it is cut short."""
_NEAR = 12
"""Runs nearest the source of which pairs and threes are tried in a search that is cut."""


@dataclass(frozen=True)
class Choice:
    """A size that a run could have: its word, its rank among the sizes, its bore and C."""

    size: str
    rank: int
    bore_in: float
    c: float


@dataclass(frozen=True)
class Run:
    """A pipe that may be laid anew, and the larger sizes in which it is sold, smallest first.

    `feeder` is the run that feeds it; None where it is fed by no run of the list, and then
    `feeder_rank` is the rank of what does feed it (None: nothing is known of that).
    `dig_ft` is what must be dug up to reach it.
    """

    name: str
    feeder: str | None
    rank: int
    length_ft: float
    dig_ft: float
    larger: tuple[Choice, ...]
    feeder_rank: int | None = None


Plan = Mapping[str, Choice]
"""The runs to lay anew by name, each in its new size."""
Cost = tuple[float, float, int, float]


@dataclass(frozen=True)
class Search:
    """What a search found: the plans that are enough, cheapest first.

    complete: every plan that is possible was tried, or was dearer than one that was found.
    tried: how many were solved.
    """

    plans: tuple[Plan, ...]
    complete: bool
    tried: int


def cost_of(plan: Plan, runs: Mapping[str, Run]) -> Cost:
    """What a plan costs: feet to dig, feet to lay, pieces, inches of bore."""
    laid = [runs[name] for name in plan]
    return (
        sum(run.dig_ft for run in laid),
        sum(run.length_ft for run in laid),
        len(laid),
        sum(choice.bore_in for choice in plan.values()),
    )


def find_pipe(
    runs: Sequence[Run], enough: Callable[[Plan], bool], most: int = 1, tries: int = MOST_TRIES
) -> Search:
    """Find the cheapest plans that are enough; `enough` solves one. `runs`: feeders come first."""
    by_name = {run.name: run for run in runs}
    plans = every_plan(runs, MOST_PLANS)
    complete = plans is not None
    listed = plans if plans is not None else _likely(runs)
    listed.sort(key=lambda plan: cost_of(plan, by_name))
    found: list[Plan] = []
    tried = 0
    for plan in listed:
        if tried >= tries:
            complete = False
            break
        tried += 1
        if enough(plan):
            found.append(plan)
            if len(found) >= most:
                break
    if not found and not complete:
        found, more = _by_runs_from_the_source(runs, enough)
        tried += more
    return Search(tuple(found), complete, tried)


def fed(plan: Plan, runs: Mapping[str, Run]) -> bool:
    """Whether no run of a plan becomes larger than what feeds it."""
    return all(choice.rank <= _most_rank(runs[name], plan, runs) for name, choice in plan.items())


def _most_rank(run: Run, plan: Plan, runs: Mapping[str, Run]) -> int:
    if run.feeder is not None:
        chosen = plan.get(run.feeder)
        return chosen.rank if chosen is not None else runs[run.feeder].rank
    return run.feeder_rank if run.feeder_rank is not None else 99


def every_plan(runs: Sequence[Run], most: int) -> list[Plan] | None:
    """Every plan but that which changes nothing; None where there are more than `most`."""
    by_name = {run.name: run for run in runs}
    found: list[dict[str, Choice]] = [{}]
    for run in runs:
        more = []
        for plan in found:
            top = _most_rank(run, plan, by_name)
            more += [{**plan, run.name: choice} for choice in run.larger if choice.rank <= top]
        found += more
        if len(found) > most:
            return None
    return [plan for plan in found if plan]


def _likely(runs: Sequence[Run]) -> list[Plan]:
    """Single runs, pairs and threes of those near the source, and the first runs a size up."""
    by_name = {run.name: run for run in runs}
    found: list[Plan] = list(from_the_source(runs))
    for count, among in ((1, runs), (2, runs[: 2 * _NEAR]), (3, runs[:_NEAR])):
        for chosen in combinations([run for run in among if run.larger], count):
            for sizes in product(*(run.larger[:2] for run in chosen)):
                plan = {run.name: size for run, size in zip(chosen, sizes, strict=True)}
                if fed(plan, by_name):
                    found.append(plan)
            if len(found) > MOST_PLANS:
                return found
    return found


def from_the_source(runs: Sequence[Run]) -> Iterator[Plan]:
    """The first 1, 2, 3 ... runs one size up, then two and three sizes, as far as they are fed."""
    by_name = {run.name: run for run in runs}
    for up in (1, 2, 3):
        plan: dict[str, Choice] = {}
        for run in runs:
            top = _most_rank(run, plan, by_name)
            sold = [choice for choice in run.larger[:up] if choice.rank <= top]
            if sold:
                plan = {**plan, run.name: sold[-1]}
                yield plan


def _by_runs_from_the_source(
    runs: Sequence[Run], enough: Callable[[Plan], bool]
) -> tuple[list[Plan], int]:
    """The first plan of those from the source on that is enough, and how many were tried."""
    tried = 0
    for plan in from_the_source(runs):
        tried += 1
        if enough(plan):
            return [plan], tried
    return [], tried
