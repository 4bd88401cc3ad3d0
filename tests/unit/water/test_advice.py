"""The search for larger pipe, splits and sizes, the band and the uniformity: all solved again."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from laying import Laying

from fieldbook.water import Network, Pipe, Supply, WhatIf, solve
from fieldbook.water.advice import (
    Asked,
    Choice,
    Doubts,
    Outcome,
    Plan,
    Run,
    band_of,
    find_pipe,
    halving_test_gpm,
    judge,
    least_cost,
    least_static_psi,
    like_last,
    most_heads,
    nozzle_parts,
    run_time_part,
    splits,
    uniformity,
)
from fieldbook.water.advice.sizes import cost_of, every_plan, fed

SOLD = (
    Choice("3/4", 1, 0.824, 150.0),
    Choice("1", 2, 1.049, 150.0),
    Choice("1-1/4", 3, 1.380, 150.0),
    Choice("1-1/2", 4, 1.610, 150.0),
)


def row(heads: int, static_psi: float = 45.0, **test: float) -> Network:
    """Heads of 2 gpm at 30 psi in a row of 3/4 in behind a main of 60 ft."""
    laid = Laying(static_psi, **test).go("main", Pipe(60.0, 0.824))
    for no in range(1, heads + 1):
        laid.go(f"run {no}", Pipe(15.0, 0.824)).head(2.0)
    return laid.network()


def runs_of(network: Network, rank: int = 1, *, any_size: bool = False) -> list[Run]:
    """Every pipe of a row, each fed by the one before it; a line of 1-1/2 in feeds the first."""
    feeders = (None, *(link.name for link in network.links))
    larger = SOLD if any_size else tuple(size for size in SOLD if size.rank > rank)
    found = []
    for link, feeder in zip(network.links, feeders, strict=False):
        assert isinstance(link.kind, Pipe)
        dig = link.kind.length_ft if link.name == "main" else 0.0
        found.append(Run(link.name, feeder, rank, link.kind.length_ft, dig, larger, 4))
    return found


def names(network: Network) -> list[str]:
    return [head.name for node in network.nodes for head in node.heads]


def aim(network: Network, psi: float) -> Asked:
    return Asked(dict.fromkeys(names(network), psi))


def trial(network: Network, asked: Asked) -> list[Plan]:
    """All plans that are enough, solved one by one."""
    plans = every_plan(runs_of(network), 10_000)
    assert plans is not None
    return [plan for plan in plans if outcome(network, asked, plan).met]


def outcome(network: Network, asked: Asked, plan: Plan) -> Outcome:
    links = {link.name: link.kind for link in network.links}
    kinds = {name: Pipe(links[name].length_ft, size.bore_in, size.c) for name, size in plan.items()}  # type: ignore[union-attr]
    return judge(WhatIf(network).solve(kinds), asked)


@pytest.mark.parametrize("psi", [34.0, 36.0, 37.5])
def test_the_cheapest_plan_is_found_and_proven(psi: float) -> None:
    network = row(4)
    asked = aim(network, psi)
    runs = {run.name: run for run in runs_of(network)}
    found = find_pipe(list(runs.values()), lambda plan: outcome(network, asked, plan).met)
    assert found.complete
    all_of_them = trial(network, asked)
    assert cost_of(found.plans[0], runs) == min(cost_of(plan, runs) for plan in all_of_them)
    for plan in all_of_them:
        assert fed(plan, runs)


def test_none_does_is_said_only_of_a_search_that_was_complete() -> None:
    network = row(4)
    full = find_pipe(runs_of(network), lambda _plan: False)
    assert full.complete
    assert full.tried == len(every_plan(runs_of(network), 10_000) or [])
    cut = find_pipe(runs_of(network), lambda _plan: False, tries=20)
    assert not cut.complete
    # Twelve runs that all lie behind the same large one: 4^12 plans are not tried.
    wide = find_pipe([replace(run, feeder=None) for run in runs_of(row(11))], lambda _plan: False)
    assert not wide.complete


def test_where_many_runs_are_needed_the_first_runs_from_the_source_are_found() -> None:
    network = row(14, 60.0)
    tops = max(
        outcome(network, aim(network, 0.0), {run.name: size for run in runs_of(network)}).margin_psi
        for size in SOLD[-1:]
    )
    asked = aim(network, tops - 1.0)
    found = find_pipe(runs_of(network), lambda plan: outcome(network, asked, plan).met, tries=50)
    assert not found.complete
    assert found.plans
    assert len(found.plans[0]) > 3


def test_no_plan_has_a_run_larger_than_its_feeder() -> None:
    runs = runs_of(row(3))
    by_name = {run.name: run for run in runs}
    plans = every_plan(runs, 10_000)
    assert plans is not None
    assert all(fed(plan, by_name) for plan in plans)
    # Sizes that do not grow along a chain of four runs with four sizes: C(7, 3), but for none.
    assert len(plans) == math.comb(7, 3) - 1


@given(st.integers(4, 12), st.floats(38, 60), st.floats(25, 40))
@examples(15)
def test_every_split_runs_well_and_no_fewer_groups_do(
    heads: int, static_psi: float, psi: float
) -> None:
    network = row(heads, static_psi)
    asked, every = aim(network, psi), names(network)
    whatif = WhatIf(network)

    def well(group: tuple[str, ...]) -> bool:
        off = dict.fromkeys([name for name in every if name not in group])
        return judge(whatif.solve(heads=off), asked.of_heads(group)).met

    groups = next(splits([every], well), None)
    if groups is not None:
        assert sorted(name for group in groups for name in group) == sorted(every)
        for group in groups:
            off = dict.fromkeys([name for name in every if name not in group])
            alone = solve(_without(network, off))
            assert min(alone.heads[name].psi for name in group) >= psi - 1e-6
        if len(groups) > 2:
            halves = [(every[:at], every[at:]) for at in range(1, heads)]
            assert not any(well(tuple(a)) and well(tuple(b)) for a, b in halves)
    most = most_heads(every, well)
    assert most == heads or not well(tuple(every[: most + 1]))


def _without(network: Network, off: dict[str, None]) -> Network:
    nodes = tuple(
        node._replace(heads=tuple(head for head in node.heads if head.name not in off))
        for node in network.nodes
    )
    return network._replace(nodes=nodes)


def test_no_nozzle_gives_under_half_its_flow() -> None:
    parts = list(nozzle_parts())
    assert parts[0] == 0.95
    assert min(parts) == 0.5
    assert all(a > b for a, b in pairwise(parts))


def test_more_heads_stand_behind_the_last_one() -> None:
    network = row(3)
    longer = like_last(network, "run 3", "head run 3", 2)
    same, found = solve(row(5)), solve(longer)
    assert sorted(head.psi for head in found.heads.values()) == pytest.approx(
        sorted(head.psi for head in same.heads.values())
    )
    asked = aim(network, 20.0).with_more("head run 3", "run 3", 2)
    assert len(asked.needed_psi) == 5
    assert judge(found, asked).met


@given(st.integers(2, 7), st.floats(40, 60), st.floats(25, 38))
@examples(10)
def test_the_least_pipe_cost_is_enough_and_nothing_cheaper_is(
    heads: int, static_psi: float, psi: float
) -> None:
    network = row(heads, static_psi)
    asked = aim(network, psi)
    runs = runs_of(network, any_size=True)
    found = least_cost(runs, lambda sizes: outcome(network, asked, sizes))
    largest = {run.name: SOLD[-1] for run in runs}
    if found is None:
        assert not outcome(network, asked, largest).met
        return
    sizes, proven = found
    assert outcome(network, asked, sizes).met
    assert fed(sizes, {run.name: run for run in runs})
    if proven:
        for run in runs:
            smaller = [size for size in SOLD if size.rank < sizes[run.name].rank]
            for size in smaller:
                trial_sizes = {**sizes, run.name: size}
                if fed(trial_sizes, {one.name: one for one in runs}):
                    assert not outcome(network, asked, trial_sizes).met


def least(network: Network, psi: float) -> float:
    return min(head.psi for head in solve(network).heads.values()) - psi


@pytest.mark.parametrize("flow_test", [{}, {"residual_psi": 38.0, "test_gpm": 14.0}])
def test_a_zone_holds_down_to_the_pressure_at_which_its_worst_head_just_has_enough(
    flow_test: dict[str, float],
) -> None:
    network = row(4, 50.0, **flow_test)

    def margin(psi: float) -> float:
        """The worst head's margin over 25 psi with the whole supply curve moved to this static."""
        supply = network.supply._replace(static_psi=psi)
        if supply.residual_psi is not None:
            supply = supply._replace(residual_psi=supply.residual_psi + psi - 50.0)
        return least(network._replace(supply=supply), 25.0)

    found = least_static_psi(
        network, lambda solution: min(head.psi for head in solution.heads.values()) - 25.0
    )
    assert found is not None
    assert margin(found) == pytest.approx(0.0, abs=0.02)
    assert margin(found - 0.5) < 0.0


GAUGE_PSI, FLOW_PART = 2.0, 0.05


def test_the_band_holds_the_truth_for_95_percent_of_simulated_gauge_errors() -> None:
    """True readings, each misread by a normal error whose 95 % is what the band is told."""
    pick, inside, count = Random(7), 0, 200
    for _ in range(count):
        static, tested = pick.uniform(45, 80), pick.uniform(8, 25)
        residual = static * pick.uniform(0.6, 0.88)
        true = row(pick.randint(2, 6), static, residual_psi=residual, test_gpm=tested)
        read = Supply(
            static + pick.gauss(0.0, GAUGE_PSI / 1.96),
            residual + pick.gauss(0.0, GAUGE_PSI / 1.96),
            tested * (1 + pick.gauss(0.0, FLOW_PART / 1.96)),
        )
        if read.residual_psi is None or read.residual_psi >= read.static_psi:
            inside += 1
            continue
        band = band_of(
            true._replace(supply=read),
            lambda solution: min(head.psi for head in solution.heads.values()),
            Doubts(GAUGE_PSI, FLOW_PART, 0.0, {}),
        )
        truth = least(true, 0.0)
        inside += band.low_psi <= truth <= band.high_psi
    # 190 of 200 are 95 %; 183 is three standard deviations of a fair count below it.
    assert inside >= 183


def test_a_test_of_this_flow_halves_what_the_flow_test_adds() -> None:
    def by_test(tested: float) -> float:
        true = row(3, 60.0)
        residual = 60.0 - 15.0 * (tested / 12.0) ** 1.852
        network = true._replace(supply=Supply(60.0, residual, tested))
        band = band_of(
            network,
            lambda solution: min(head.psi for head in solution.heads.values()),
            Doubts(0.5, 0.0, 0.0, {}),
        )
        return band.by_test_psi

    assert by_test(halving_test_gpm(12.0)) == pytest.approx(by_test(12.0) / 2.0, rel=0.02)


def test_low_quarter_uniformity_and_its_run_time() -> None:
    """Low quarter of eight: the mean of the two lowest over the mean of all."""
    parts = [1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.8, 0.9]
    assert uniformity(parts) == pytest.approx(0.85 / (sum(parts) / 8))
    assert uniformity([1.0, 0.7]) == pytest.approx(0.7 / 0.85)
    assert uniformity([]) is None
    assert run_time_part(0.8) == pytest.approx(0.25)
    with pytest.raises(ValueError, match="above zero"):
        run_time_part(0.0)


def test_everything_asked_is_judged() -> None:
    network = row(3, 60.0)
    found = solve(network)
    psi = {name: head.psi for name, head in found.heads.items()}
    fastest = max(link.ft_s or 0.0 for link in found.links.values())
    low, high = min(psi.values()), max(psi.values())
    every = frozenset(psi)
    assert judge(found, Asked({}, alike=((every, high - low + 0.01),))).met
    assert not judge(found, Asked({}, alike=((every, high - low - 0.01),))).met
    held = dict.fromkeys(psi, low - 1.0)
    assert judge(found, Asked({}, alike=((every, 0.01),), regulated_psi=held)).met
    assert not judge(found, Asked({}, most_psi={next(iter(psi)): high - 0.01})).met
    assert not judge(found, Asked({}, most_ft_s={"main": fastest - 0.01})).met
    assert judge(found, Asked({}, most_ft_s={"main": fastest + 0.01})).met
    assert not judge(found, Asked({}, most_gpm=found.supply_gpm - 0.01)).met
    assert not judge(found, Asked({}, most_gpm=99.0, least_draw_gpm=100.0)).met
