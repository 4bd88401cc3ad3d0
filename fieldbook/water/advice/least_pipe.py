"""Sizes for a zone's pipe before the trench is filled: the least pipe cost that is enough.

Pipe is priced by length times bore squared, about in proportion to the plastic in it (common
practice, no source); only the order of prices matters.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fieldbook.water.advice.asked import Outcome
from fieldbook.water.advice.sizes import Choice, Run, every_plan, fed

Sizes = dict[str, Choice]
Try = Callable[[Sizes], Outcome]
"""Solves the network with these sizes."""
_MOST_STEPS = 120
_MOST_PLANS = 3000
_MOST_TRIES = 600


def price(sizes: Sizes, runs: Sequence[Run]) -> float:
    """The price of the pipe, in ft times square inches of bore."""
    return sum(run.length_ft * sizes[run.name].bore_in ** 2 for run in runs)


def least_cost(
    runs: Sequence[Run], tried: Try, held: Callable[[Sizes], bool] = lambda _sizes: True
) -> tuple[Sizes, bool] | None:
    """The cheapest sizes with which everything is met, and whether they are proven to be so.

    `runs` have all sold sizes as `larger`, feeders come first. `held` is asked of sizes that meet
    what `tried` judges: whether they hold by all else too. None where none is found.
    """
    grown = _grown(runs, tried)
    if grown is None:
        return None
    found = _trimmed(runs, grown, tried)
    if not held(found):
        return (grown, False) if held(grown) else None
    plans = _all_sizes(runs)
    if plans is None:
        return found, False
    dear = price(found, runs)
    cheaper = sorted(
        (plan for plan in plans if price(plan, runs) < dear - 1e-9),
        key=lambda plan: price(plan, runs),
    )
    for plan in cheaper[:_MOST_TRIES]:
        if tried(plan).met and held(plan):
            return plan, True
    return found, len(cheaper) <= _MOST_TRIES


def _all_sizes(runs: Sequence[Run]) -> list[Sizes] | None:
    """Every choice of sizes in which no run is larger than its feeder; None if too many."""
    plans = every_plan([_from_nothing(run) for run in runs], 8 * _MOST_PLANS)
    if plans is None:
        return None
    whole = [dict(plan) for plan in plans if len(plan) == len(runs)]
    return whole if len(whole) <= _MOST_PLANS else None


def _from_nothing(run: Run) -> Run:
    """The run as if nothing were laid: it may take any size that its feeder lets it."""
    return Run(run.name, run.feeder, -1, run.length_ft, 0.0, run.larger, run.feeder_rank)


def _grown(runs: Sequence[Run], tried: Try) -> Sizes | None:
    """From the smallest sizes, always the step that helps most for its price."""
    by_name = {run.name: run for run in runs}
    sizes = {run.name: run.larger[0] for run in runs if run.larger}
    if len(sizes) < len(runs) or not fed(sizes, by_name):
        return None
    lack = _lack(tried(sizes))
    for _ in range(_MOST_STEPS):
        if lack == 0.0:
            return sizes
        best: tuple[float, Sizes, float] | None = None
        for run in runs:
            step = _one_up(run, sizes, by_name)
            if step is None:
                continue
            less = _lack(tried(step))
            gain = (lack - less) / max(price(step, runs) - price(sizes, runs), 1e-9)
            if best is None or gain > best[0]:
                best = (gain, step, less)
        if best is None or best[0] <= 0.0:
            return None
        _, sizes, lack = best
    return None


def _one_up(run: Run, sizes: Sizes, by_name: dict[str, Run]) -> Sizes | None:
    """The sizes with one run a size up, its feeders raised along; None where that can't be."""
    up = dict(sizes)
    wanted = next((one for one in run.larger if one.rank > sizes[run.name].rank), None)
    at: Run | None = run
    while at is not None and wanted is not None and up[at.name].rank < wanted.rank:
        rank = wanted.rank
        fit = next((one for one in at.larger if one.rank >= rank), None)
        if fit is None:
            return None
        up[at.name] = fit
        wanted = fit
        at = by_name[at.feeder] if at.feeder is not None else None
    return up if wanted is not None and fed(up, by_name) else None


def _trimmed(runs: Sequence[Run], sizes: Sizes, tried: Try) -> Sizes:
    """The sizes with every run as small as it can be on its own, from the far end."""
    by_name = {run.name: run for run in runs}
    again = True
    while again:
        again = False
        for run in reversed(runs):
            smaller = [one for one in run.larger if one.rank < sizes[run.name].rank]
            if not smaller:
                continue
            trial = {**sizes, run.name: smaller[-1]}
            if fed(trial, by_name) and tried(trial).met:
                sizes, again = trial, True
    return sizes


def _lack(outcome: Outcome) -> float:
    """How much is not met, over all that is asked; 0 where everything is."""
    if not outcome.converged:
        return 1e9
    parts = (
        outcome.margin_psi,
        outcome.spare_gpm,
        # A foot per second costs about as much pressure as several psi over a zone.
        3.0 * outcome.spare_ft_s,
        outcome.under_most_psi,
        outcome.spread_left_psi,
    )
    return 0.0 if outcome.met else sum(max(-part, 0.0) for part in parts)
