"""Head laws, pumps and assemblies side by side against EPANET 2.3, over seeded networks.

EPANET is asked for 1e-8 of the flows, and for less where it cycles, as it does with check valves
and regulators in one network. Where it cycles even so, or gives up, the balance of our own answer
is the check.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from epanet_reference import Reference, epanet
from laying import Laying, imbalance
from random_kinds import side_by_side, with_laws

from fieldbook.water import Device, Head, Network, Pipe, Regulator, Supply, solve


def compared(network: Network, note: object = "") -> bool:
    """Solve, check the balance, and compare with EPANET; whether EPANET had an answer."""
    found = solve(network)
    assert found.converged, note
    psi, gpm = imbalance(network, found)
    assert psi < 1e-6, note
    assert gpm < 1e-5, note
    if any(head.state == "dry" for head in found.heads.values()):
        return False
    reference = _reference(network)
    if reference is None:
        return False
    for name, head in found.heads.items():
        assert head.psi == pytest.approx(reference.psi[name], rel=1e-5, abs=1e-5), (note, name)
        assert head.gpm == pytest.approx(reference.gpm[name], rel=1e-5, abs=1e-6), (note, name)
    return True


def _reference(network: Network) -> Reference | None:
    """EPANET's nearest answer; None where it has none."""
    for accuracy in (1e-8, 1e-7, 1e-6):
        try:
            reference = epanet(network, accuracy)
        except Exception as error:
            # The toolkit raises plain exceptions with EPANET's own words.
            assert "cannot solve network" in str(error)  # noqa: PT017
            return None
        if reference.settled:
            return reference
    return None


def answered(make: Callable[[int], Network], seeds: range) -> float:
    """The part of seeded networks that EPANET had an answer to; all are checked."""
    return sum(compared(make(seed), seed) for seed in seeds) / len(seeds)


def test_seeded_head_laws_and_pumps_are_as_in_epanet() -> None:
    assert answered(with_laws, range(40)) > 0.8


def test_seeded_assemblies_side_by_side_are_as_in_epanet() -> None:
    assert answered(side_by_side, range(40)) > 0.3


@pytest.mark.slow
def test_many_head_laws_and_pumps_are_as_in_epanet() -> None:
    assert answered(with_laws, range(40, 1000)) > 0.8


@pytest.mark.slow
def test_many_assemblies_side_by_side_are_as_in_epanet() -> None:
    assert answered(side_by_side, range(40, 1500)) > 0.3


def row(head: Head, count: int = 10, supply: Supply | None = None) -> Network:
    """Heads of one kind on half-inch pipe."""
    laid = Laying(40.0).go("valve", Pipe(20.0, 0.824))
    for number in range(count):
        laid.go(f"run {number}", Pipe(9.0, 0.622, 140.0), -0.5)
    network = laid.network()
    nodes = tuple(
        node._replace(heads=(head._replace(name=node.name),)) if "run" in node.name else node
        for node in network.nodes
    )
    return network._replace(nodes=nodes, supply=supply or network.supply)


@pytest.mark.parametrize("exponent", [0.05, 0.2, 0.42, 0.5, 0.65, 1.0])
def test_a_drip_row_of_each_exponent_is_as_in_epanet(exponent: float) -> None:
    assert compared(row(Head.rated("emitter", 0.8, 15.0, None, exponent)))


def test_compensating_emitters_are_as_orifices_behind_regulators_in_epanet() -> None:
    network = row(Head("emitter", 0.5, None, 0.0, 10.0, 30.0))
    assert compared(network)
    found = solve(network).heads
    assert {head.state for head in found.values()} == {"regulated"}
    assert {head.gpm for head in found.values()} == {0.5}
    assert [head.outside for head in found.values()] == [head.psi > 30.0 for head in found.values()]
    # Too many emitters for the supply: the last have less than they need.
    starved = row(Head("emitter", 1.5, None, 0.0, 10.0, 30.0), 14)
    assert compared(starved)
    last = list(solve(starved).heads.values())[-1]
    assert (last.state, last.outside) == ("normal", True)
    assert last.gpm == pytest.approx(1.5 * (last.psi / 10.0) ** 0.5)


def test_a_tank_and_a_pump_are_as_a_reservoir_and_a_pump_in_epanet() -> None:
    head = Head.rated("head", 1.0, 30.0)
    assert compared(row(head, supply=Supply(17.32)))
    curve = ((0.0, 60.0), (4.0, 58.0), (8.0, 52.0), (12.0, 40.0))
    assert compared(row(head, supply=Supply(4.33, pump=curve)))
    assert compared(row(head, supply=Supply(-4.33, pump=curve)))
    assert compared(row(head, supply=Supply(50.0, 40.0, 8.0, pump=curve)))
    assert not solve(row(head, supply=Supply(4.33, pump=curve))).outside_pump_curve
    assert solve(row(head, 20, Supply(30.0, pump=curve))).outside_pump_curve


def test_a_regulator_behind_assemblies_side_by_side_is_as_in_epanet() -> None:
    table = ((0.0, 3.0), (5.0, 3.5), (20.0, 6.0))
    laid = Laying(70.0).go("main", Pipe(30.0, 1.049)).go("one", Device(table))
    laid.go("joined", Pipe(3.0, 1.049))
    laid.go("other", Device(table), start="main").close("back", "joined", Pipe(9.0, 0.824))
    laid.at = "joined"
    laid.go("regulator", Regulator(30.0)).go("run", Pipe(20.0, 0.824)).head(4.0)
    laid.go("run 2", Pipe(20.0, 0.824)).head(3.0)
    assert compared(laid.network())
    flows = solve(laid.network()).links
    assert flows["one"].gpm > flows["other"].gpm > 0.0


def test_two_devices_in_one_leg_are_shut_together() -> None:
    easy, stiff = Device(((0.0, 1.0), (30.0, 2.0))), Device(((0.0, 6.0), (30.0, 9.0)))
    laid = Laying(60.0).go("main", Pipe(10.0, 1.049)).go("easy", easy).go("out", Pipe(5.0, 1.049))
    laid.go("first", stiff, start="main").go("second", stiff).close("join", "out", Pipe(5.0, 1.0))
    laid.at = "out"
    laid.head(5.0)
    found = solve(laid.network())
    assert found.converged
    assert max(imbalance(laid.network(), found)) < 1e-6
    assert found.links["first"].gpm == found.links["second"].gpm == 0.0
    # One is shut, which keeps the other still: nothing runs that could open it.
    legs = {found.links[name].state: found.links[name] for name in ("first", "second")}
    assert legs["open"].loss_psi == pytest.approx(6.0)
    assert legs["shut"].loss_psi < 6.0
    both = found.links["first"].loss_psi + found.links["second"].loss_psi
    assert both == pytest.approx(found.links["easy"].loss_psi + found.links["out"].loss_psi)
    laid.head(150.0)
    crowded = solve(laid.network())
    assert max(imbalance(laid.network(), crowded)) < 1e-6
    assert crowded.links["first"].gpm == pytest.approx(crowded.links["second"].gpm)
    assert crowded.links["first"].gpm > 1.0


def test_water_that_would_run_back_shuts_an_assembly() -> None:
    easy = Device(((0.0, 1.0), (30.0, 2.0)))
    stiff = Device(((0.0, 8.0), (30.0, 12.0)))
    laid = Laying(60.0).go("main", Pipe(10.0, 1.049)).go("easy", easy).go("out", Pipe(5.0, 1.049))
    laid.go("stiff", stiff, start="main").close("join", "out", Pipe(5.0, 1.049))
    laid.at = "out"
    laid.head(5.0)
    found = solve(laid.network())
    assert found.converged
    assert max(imbalance(laid.network(), found)) < 1e-6
    stopped = found.links["stiff"]
    assert (stopped.state, stopped.gpm) == ("shut", 0.0)
    assert 1.0 < stopped.loss_psi < 8.0
    assert found.links["easy"].gpm == pytest.approx(found.supply_gpm)
    laid.head(80.0)
    crowded = solve(laid.network())
    assert max(imbalance(laid.network(), crowded)) < 1e-6
    assert crowded.links["stiff"].state == "open"
    assert crowded.links["stiff"].gpm > 0.0
