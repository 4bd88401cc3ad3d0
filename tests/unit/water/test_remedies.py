"""Remedies for a network, and where supply and zone meet: every answer is solved again."""

from __future__ import annotations

from dataclasses import replace

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from laying import Laying, worked

from fieldbook.water import (
    Network,
    NetworkError,
    Pipe,
    PipeChoice,
    Requirements,
    Supply,
    assess,
    find_remedies,
    only_heads,
    operating_curves,
    solve,
)
from fieldbook.water.remedies import most_heads, resized

SIZES = (
    PipeChoice("1", 1.049, 150.0),
    PipeChoice("1-1/4", 1.380, 150.0),
    PipeChoice("1-1/2", 1.610, 150.0),
)


def row(heads: int, bore_in: float = 0.824, static_psi: float = 45.0) -> Network:
    """Heads of 2 gpm at 30 psi in a row behind a main of 60 ft."""
    laid = Laying(static_psi).go("main", Pipe(60.0, bore_in))
    for no in range(1, heads + 1):
        laid.go(f"run {no}", Pipe(15.0, bore_in)).head(2.0)
    return laid.network()


def names(network: Network) -> list[str]:
    return [head.name for node in network.nodes for head in node.heads]


def aim(network: Network, psi: float = 30.0, **more: float) -> Requirements:
    return Requirements(dict.fromkeys(names(network), psi), **more)  # type: ignore[arg-type]


def choices(network: Network) -> dict[str, tuple[PipeChoice, ...]]:
    return {link.name: SIZES for link in network.links}


def test_a_network_that_is_good_needs_nothing() -> None:
    network = row(3)
    found = find_remedies(network, aim(network), choices(network), names(network))
    assert found.now.met
    assert found.upsizing is None
    assert found.most_heads == 3


def test_the_least_pipe_that_does_it_is_suggested() -> None:
    network = row(6)
    asked = aim(network, 35.0)
    found = find_remedies(network, asked, choices(network), names(network))
    assert not found.now.met
    assert found.pipe_helps
    assert found.upsizing is not None
    assert found.upsizing.proven
    by_word = {one.size: one for one in SIZES}
    change = {name: by_word[size] for name, size in found.upsizing.sizes.items()}
    verdict = assess(resized(network, change), asked)
    assert verdict.met
    assert verdict == found.upsizing.margins
    # Nothing shorter alone, and no smaller size of the same run, would do.
    for name, (only,) in ((link.name, (link,)) for link in network.links):
        assert isinstance(only.kind, Pipe)
        for size in SIZES:
            if only.kind.length_ft < found.upsizing.length_ft:
                assert not assess(resized(network, {name: size}), asked).met


def test_a_pair_of_runs_is_suggested_where_no_single_one_does_it() -> None:
    laid = Laying(40.0).go("one", Pipe(60.0, 0.824)).go("two", Pipe(60.0, 0.824))
    for _ in range(4):
        laid.head(2.0)
    network = laid.network()
    only_one = {"one": SIZES[:1], "two": SIZES[:1]}
    asked = aim(network, 36.5)
    found = find_remedies(network, asked, only_one, names(network))
    assert found.upsizing is not None
    assert set(found.upsizing.sizes) == {"one", "two"}
    assert not assess(resized(network, {"one": SIZES[0]}), asked).met
    assert not assess(resized(network, {"two": SIZES[0]}), asked).met


def test_no_pipe_is_suggested_where_none_helps() -> None:
    network = row(6, static_psi=29.0)
    found = find_remedies(network, aim(network), choices(network), names(network))
    assert not found.pipe_helps
    assert found.upsizing is None
    assert found.split is None
    assert found.nozzles is None
    assert found.most_heads == 0


def test_a_search_cut_short_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fieldbook.water.remedies.MOST_TRIES", 12)
    network = row(6)
    found = find_remedies(network, aim(network, 38.0), choices(network), names(network))
    assert found.pipe_helps
    assert found.upsizing is None or not found.upsizing.proven


@given(st.integers(3, 12), st.floats(38, 60), st.floats(25, 40))
@examples(25)
def test_every_split_and_nozzle_holds_when_solved(
    heads: int, static_psi: float, psi: float
) -> None:
    network = row(heads, 0.622, static_psi)
    asked = aim(network, psi)
    found = find_remedies(network, asked, {}, names(network))
    if found.split is not None:
        assert [name for group in found.split.groups for name in group] == names(network)
        for group in found.split.groups:
            alone = solve(only_heads(network, group, names(network)))
            assert min(alone.heads[name].psi for name in group) >= psi - 1e-6
    if found.nozzles is not None:
        assert 0.2 < found.nozzles.part < 1.0
        assert found.nozzles.margins.margin_psi >= -1e-9
    most = found.most_heads
    if most:
        kept = only_heads(network, names(network)[:most], names(network))
        assert assess(kept, _first(asked, most)).met
    if most < heads:
        more = names(network)[: most + 1]
        assert not assess(only_heads(network, more, names(network)), _first(asked, most + 1)).met


def _first(asked: Requirements, count: int) -> Requirements:
    return replace(asked, needed_psi=dict(list(asked.needed_psi.items())[:count]))


def test_flow_is_judged_as_solved_or_as_drawn() -> None:
    network = row(4)
    solved = solve(network).supply_gpm
    assert solved > 8.0
    assert not assess(network, aim(network, most_gpm=8.0)).met
    drawn = replace(aim(network, most_gpm=8.0), draw_gpm=dict.fromkeys(names(network), 2.0))
    assert assess(network, drawn).met
    assert most_heads(network, replace(drawn, most_gpm=5.0), names(network)) == 2


def test_velocity_is_judged_by_its_limit() -> None:
    network = row(6)
    fastest = max(link.ft_s or 0.0 for link in solve(network).links.values())
    verdict = assess(network, aim(network, 1.0, most_ft_s=5.0))
    assert verdict.spare_ft_s == pytest.approx(5.0 - fastest)
    assert verdict.met == (fastest <= 5.0)


def test_an_impossible_network_is_not_good() -> None:
    network = row(2)._replace(supply=Supply(40.0, 45.0, 3.0))
    verdict = assess(network, Requirements({}))
    assert not verdict.converged
    assert not verdict.met


def test_supply_and_zone_meet_where_the_network_is_solved() -> None:
    network = worked().network()
    found = solve(network)
    drawn = operating_curves(network, ("meter", "service"), 20.0, count=200)
    assert [gpm for gpm, _ in drawn.supply] == sorted(gpm for gpm, _ in drawn.supply)
    assert drawn.supply[0] == (0.0, 60.0)
    assert [psi for _, psi in drawn.supply] == sorted((p for _, p in drawn.supply), reverse=True)
    assert [gpm for gpm, _ in drawn.zone] == sorted(gpm for gpm, _ in drawn.zone)
    at_psi = found.node_psi["service"]
    near = min(drawn.supply, key=lambda point: abs(point[0] - found.supply_gpm))
    assert near[1] == pytest.approx(at_psi, abs=0.1)
    nearest = min(drawn.zone, key=lambda point: abs(point[1] - at_psi))
    assert nearest[0] == pytest.approx(found.supply_gpm, abs=0.05)


def test_a_supply_with_a_flow_test_has_nothing_before_its_curve() -> None:
    network = row(3)._replace(supply=Supply(60.0, 48.0, 10.0))
    drawn = operating_curves(network, (), 10.0, count=10)
    assert drawn.supply[-1] == pytest.approx((10.0, 48.0))
    with pytest.raises(NetworkError):
        operating_curves(network._replace(supply=Supply(40.0, 48.0, 10.0)), (), 10.0)
