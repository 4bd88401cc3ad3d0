"""The solver: laws that any solution obeys, hundreds of seeded zones, and what it refuses."""

from __future__ import annotations

import subprocess
import sys
from random import Random

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from laying import Laying, imbalance, worked, worst
from random_kinds import any_law
from random_zones import brutal, large, realistic

import fieldbook.water
from fieldbook.water import (
    Device,
    Head,
    Link,
    Network,
    NetworkError,
    Node,
    Pipe,
    Regulator,
    Supply,
    Valve,
    ledger,
    solve,
)

seeds = st.integers(0, 10**6)


def test_realistic_zones_all_converge_and_balance() -> None:
    for seed in range(400):
        network = realistic(seed)
        found = solve(network)
        assert found.converged, seed
        psi, gpm = imbalance(network, found)
        assert psi < 1e-6, seed
        assert gpm < 1e-6, seed


def test_brutal_zones_converge_and_a_false_solution_is_never_called_converged() -> None:
    open_cases = 0
    for seed in range(400):
        network = brutal(seed)
        found = solve(network)
        assert all(head.gpm >= 0.0 for head in found.heads.values()), seed
        if not found.converged:
            open_cases += 1
            continue
        psi, gpm = imbalance(network, found)
        most = max(network.supply.static_psi, 1.0)
        assert psi < 1e-6 * most, (seed, psi)
        assert gpm < 1e-5 * max(found.supply_gpm, 1.0), (seed, gpm)
    assert open_cases <= 2


def test_brutal_zones_of_any_head_law_balance_or_say_that_they_do_not() -> None:
    open_cases = 0
    for seed in range(200):
        network = any_law(brutal(seed), seed)
        found = solve(network)
        if not found.converged:
            open_cases += 1
            continue
        psi, gpm = imbalance(network, found)
        assert psi < 1e-6 * max(network.supply.static_psi, 1.0), (seed, psi)
        assert gpm < 1e-5 * max(found.supply_gpm, 1.0), (seed, gpm)
    assert open_cases <= 2


def test_large_networks_converge_in_few_steps() -> None:
    for count in (500, 5000):
        found = solve(large(count))
        assert found.converged
        assert found.steps < 20


@given(seeds)
@examples(60)
def test_solutions_by_either_law_balance(seed: int) -> None:
    network = realistic(seed)._replace(law="darcy-weisbach", water_deg_f=50.0)
    found = solve(network)
    assert found.converged
    psi, gpm = imbalance(network, found)
    assert psi < 1e-6
    assert gpm < 1e-6


@given(seeds, st.floats(0.1, 40))
@examples(60)
def test_flow_rises_with_static_pressure(seed: int, more_psi: float) -> None:
    network = without_falling_tables(realistic(seed))
    supply = network.supply
    residual = None if supply.residual_psi is None else supply.residual_psi + more_psi
    raised = supply._replace(static_psi=supply.static_psi + more_psi, residual_psi=residual)
    before = solve(network).supply_gpm
    assert solve(network._replace(supply=raised)).supply_gpm >= before - 1e-7


@given(seeds, st.floats(1.01, 3.0))
@examples(60)
def test_flow_rises_with_pipe_size(seed: int, part: float) -> None:
    network = without_falling_tables(realistic(seed))
    pick = Random(seed)
    name = pick.choice([link.name for link in network.links if isinstance(link.kind, Pipe)])

    def larger(link: Link) -> Link:
        if link.name != name or not isinstance(link.kind, Pipe):
            return link
        return link._replace(kind=link.kind._replace(bore_in=link.kind.bore_in * part))

    wide = network._replace(links=tuple(map(larger, network.links)))
    assert solve(wide).supply_gpm >= solve(network).supply_gpm - 1e-7


def without_falling_tables(network: Network) -> Network:
    """Let no loss table fall: where more flow loses less, nothing is sure to rise."""

    def rising(link: Link) -> Link:
        if not isinstance(link.kind, Device):
            return link
        points = sorted(psi for _, psi in link.kind.points)
        flows = [gpm for gpm, _ in link.kind.points]
        return link._replace(kind=Device(tuple(zip(flows, points, strict=True))))

    return network._replace(links=tuple(map(rising, network.links)))


@given(seeds)
@examples(60)
def test_a_pipe_of_no_length_changes_nothing(seed: int) -> None:
    network = realistic(seed)
    link = Random(seed).choice(network.links)
    middle = Node("middle", network.node_at[link.start].elevation_ft)
    links = [
        one._replace(start="middle") if one is link else one
        for one in (*network.links, Link("nothing", link.start, "middle", Pipe(0.0, 1.0)))
    ]
    longer = network._replace(nodes=(*network.nodes, middle), links=tuple(links))
    same_heads(network, longer)


@given(seeds)
@examples(60)
def test_the_order_of_entry_does_not_matter(seed: int) -> None:
    network, pick = realistic(seed), Random(seed)
    nodes, links = list(network.nodes), list(network.links)
    pick.shuffle(nodes)
    pick.shuffle(links)
    same_heads(network, network._replace(nodes=tuple(nodes), links=tuple(links)))


def same_heads(one: Network, other: Network) -> None:
    """Every head is as in the other network."""
    first, second = solve(one), solve(other)
    assert first.converged
    assert second.converged
    for name, head in first.heads.items():
        assert second.heads[name].psi == pytest.approx(head.psi, abs=1e-6)
        assert second.heads[name].gpm == pytest.approx(head.gpm, abs=1e-6)


@given(seeds)
@examples(40)
def test_every_head_s_ledger_adds_up(seed: int) -> None:
    network = realistic(seed)
    found = solve(network)
    for name, head in found.heads.items():
        told = ledger(network, found, name)
        taken = sum(item.psi for item in told.items)
        assert told.static_psi - taken == pytest.approx(head.psi, abs=1e-6)
        assert told.left_psi == head.psi


def test_a_head_is_normal_regulated_or_dry() -> None:
    laid = Laying(40.0).go("main", Pipe(20.0, 1.049)).head(2.0, 30.0, 20.0)
    laid.go("up", Pipe(10.0, 1.049), 120.0).head(2.0).go("down", Pipe(5.0, 1.049), -100.0).head(1.0)
    states = [head.state for head in solve(laid.network()).heads.values()]
    assert states == ["regulated", "dry", "normal"]


def test_a_regulator_holds_or_stands_open() -> None:
    laid = Laying(60.0).go("regulator", Regulator(30.0)).go("run", Pipe(1.0, 1.049)).head(1.0)
    holding = solve(laid.network())
    assert holding.node_psi["regulator"] == pytest.approx(30.0)
    assert holding.links["regulator"].state == "holding"
    assert holding.links["regulator"].loss_psi == pytest.approx(30.0)
    laid.supply = Supply(25.0)
    still = solve(laid.network())
    assert still.links["regulator"].state == "open"
    assert still.node_psi["regulator"] == pytest.approx(25.0)


def test_flow_beyond_a_table_is_marked() -> None:
    points = ((0.0, 2.0), (4.0, 3.0))
    laid = Laying(60.0).go("device", Device(points)).head(3.0, 30.0, 30.0)
    assert not solve(laid.network()).links["device"].outside
    laid.head(3.0, 30.0, 30.0)
    found = solve(laid.network()).links["device"]
    assert found.outside
    assert found.loss_psi == pytest.approx(3.5)


def test_water_against_a_link_s_direction_is_negative() -> None:
    laid = Laying(60.0).go("main", Pipe(10.0, 1.0)).head(2.0)
    network = laid.network()
    turned = tuple(one._replace(start=one.end, end=one.start) for one in network.links)
    found = solve(network._replace(links=turned))
    assert found.links["main"].gpm == pytest.approx(-solve(network).links["main"].gpm)


def test_a_balanced_loop_shares_the_flow() -> None:
    laid = Laying(60.0).go("main", Pipe(20.0, 1.380)).go("left", Pipe(40.0, 0.824))
    laid.go("right", Pipe(40.0, 0.824), start="main").close("join", "left", Pipe(1.0, 0.824))
    laid.head(3.0)
    found = solve(laid.network())
    assert found.converged
    left, right = found.links["left"].gpm, found.links["right"].gpm
    assert right > left > 0.45 * found.supply_gpm
    assert left + right == pytest.approx(found.supply_gpm)
    assert max(imbalance(laid.network(), found)) < 1e-6


def pipe_to(name: str, start: str, end: str) -> Link:
    return Link(name, start, end, Pipe(10.0, 1.0))


@pytest.mark.parametrize(
    ("network", "words"),
    [
        (
            Laying(40.0, 40.0, 10.0).go("a", Pipe(1.0, 1.0)).head(1.0),
            "residual 40 psi is not below",
        ),
        (Laying(40.0, 45.0, 10.0).go("a", Pipe(1.0, 1.0)).head(1.0), "residual 45 psi"),
        (Laying(40.0, 30.0, 0.0).go("a", Pipe(1.0, 1.0)).head(1.0), "a flow above zero"),
        (Laying(-1.0).go("a", Pipe(1.0, 1.0)).head(1.0), "static pressure"),
        (Laying(40.0).go("a", Device(((5.0, 1.0), (5.0, 2.0)))).head(1.0), "Link a: .*must rise"),
        (
            Laying(40.0).go("rp", Device(((0, 9), (5, 8), (9, 10), (12, 8)))).head(1.0),
            "Link rp: .*saw-tooth",
        ),
        (Laying(40.0).go("a", Device(())).head(1.0), "Link a: .*no points"),
        (Laying(40.0).go("a", Pipe(-1.0, 1.0)).head(1.0), "Link a: .*length"),
        (Laying(40.0).go("a", Pipe(1.0, 0.0)).head(1.0), "Link a: .*bore"),
        (Laying(40.0).go("a", Pipe(float("nan"), 1.0)).head(1.0), "Link a"),
        (Laying(40.0).go("a", Valve(0.0)).head(1.0), "Link a: .*Cv"),
        (Laying(40.0).go("a", Regulator(-3.0)).head(1.0), "Link a: .*set pressure"),
        (Laying(40.0).go("a", Pipe(1.0, 1.0)).head(1.0, 30.0, -1.0), "Head head a: .*regulated"),
        (Laying(40.0).go("a", Pipe(1.0, 1.0)), "no head"),
        (
            Laying(40.0)
            .go("a", Pipe(1.0, 1.0))
            .go("dev", Device(((0.0, 1.0), (5.0, 0.5))))
            .head(1.0)
            .close("back", "a", Pipe(5.0, 1.0)),
            "Link dev is part of a loop and its loss falls",
        ),
        (
            Laying(40.0)
            .go("a", Pipe(1.0, 1.0))
            .go("reg", Regulator(20.0))
            .head(1.0)
            .close("back", "a", Pipe(5.0, 1.0)),
            "Link reg is part of a loop",
        ),
    ],
)
def test_a_refusal_is_one_sentence_that_names_the_part(network: Laying, words: str) -> None:
    with pytest.raises(NetworkError, match=words) as why:
        solve(network.network())
    assert str(why.value).endswith(".")
    assert "\n" not in str(why.value)


@pytest.mark.parametrize(
    ("nodes", "links", "words"),
    [
        (("street", "a", "b"), [pipe_to("l", "street", "a")], "Head h b is not connected"),
        (("street", "a"), [pipe_to("l", "street", "x")], "Link l leads to x"),
        (("street", "a"), [pipe_to("l", "a", "a")], "Link l begins and ends"),
        (("a",), [pipe_to("l", "a", "a")], "source street is not a node"),
        (("street", "a", "a"), [pipe_to("l", "street", "a")], "Two nodes are named a"),
        (("street", "a"), [pipe_to("l", "street", "a")] * 2, "Two links are named l"),
    ],
)
def test_parts_that_are_not_connected_are_named(
    nodes: tuple[str, ...], links: list[Link], words: str
) -> None:
    made = tuple(
        Node(name, heads=(Head(f"h {name}", 1.0),) if name != "street" else ()) for name in nodes
    )
    with pytest.raises(NetworkError, match=words):
        solve(Network(Supply(50.0), "street", made, tuple(links)))


def modules_after(code: str) -> set[str]:
    """The modules of the package that a fresh interpreter has after running `code`."""
    command = [sys.executable, "-c", f"import sys; {code}; print(*sys.modules)"]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    return {name for name in ran.stdout.split() if name.startswith("fieldbook.water.")}


def test_a_name_loads_only_what_it_needs() -> None:
    # What it takes in milliseconds is printed by tests/measure_solver.py.
    assert modules_after("import fieldbook.water") == set()
    solver = modules_after("from fieldbook.water import solve")
    assert "fieldbook.water.solver" in solver
    above = ("balance", "document", "document_schema", "remedies", "supply_curve", "what_if")
    assert solver.isdisjoint({f"fieldbook.water.{name}" for name in above})


def test_every_public_name_is_there() -> None:
    assert fieldbook.water.__all__ == sorted(set(fieldbook.water.__all__), key=_by_kind)
    for name in fieldbook.water.__all__:
        assert getattr(fieldbook.water, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'lay_out'"):
        getattr(fieldbook.water, "lay_out")  # noqa: B009


def _by_kind(name: str) -> tuple[int, str]:
    """Constants, then classes, then functions."""
    return (0 if name.isupper() else 1 if name[0].isupper() else 2, name)


def test_a_replaced_network_has_an_index_of_its_own() -> None:
    network = worked().network()
    street = network.node_at["street"]
    higher = street._replace(elevation_ft=9.0)
    changed = network._replace(nodes=(higher, *network.nodes[1:]))
    assert changed.node_at["street"] is higher
    assert network.node_at["street"] is street
    assert changed._replace(nodes=network.nodes) == network
    # Its heads are regulated, so the flow is the same and the fall of 9 ft is all that is gained.
    assert worst(solve(changed)).psi == pytest.approx(worst(solve(network)).psi + 9.0 * 0.433)
    with pytest.raises(AttributeError):
        network.source = "main"  # type: ignore[misc]
    with pytest.raises(TypeError):
        network.node_at["street"] = higher  # type: ignore[index]


def test_the_worked_zone_is_solved_in_few_steps() -> None:
    found = solve(worked().network())
    assert found.steps <= 6
    assert found.residual_psi < 1e-7
