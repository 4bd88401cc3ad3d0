"""The solver against EPANET 2.3 (the public-domain network solver), the same network in both."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from epanet_reference import epanet
from laying import Laying

from fieldbook.water import Device, Network, Pipe, Regulator, Valve, solve


def hillside() -> Network:
    laid = Laying(70.0).go("meter", Valve.rated(15.0, 30.0)).go("main", Pipe(120.0, 1.049), 10.0)
    for no in range(8):
        laid.go(f"run {no}", Pipe(14.0, 0.930, fittings_k=1.5), 3.0).head(1.5 + 0.2 * no)
    return laid.network()


def overloaded() -> Network:
    laid = Laying(45.0, 30.0, 9.0).go("assembly", Device(((0.0, 3.0), (10.0, 4.0), (20.0, 7.0))))
    for no in range(24):
        laid.go(f"run {no}", Pipe(12.0, 0.824)).head(3.0)
    return laid.network()


def mixed_regulated() -> Network:
    laid = Laying(75.0).go("valve", Valve(8.0))
    for no in range(10):
        at = laid.at if no % 3 else "valve"
        regulated = 30.0 if no % 2 else None
        laid.go(f"run {no}", Pipe(15.0, 0.930), -1.0, at).head(2.0, 30.0, regulated)
    return laid.network()


def all_regulated_downhill() -> Network:
    laid = Laying(60.0).go("main", Pipe(60.0, 1.049))
    for no in range(9):
        laid.go(f"run {no}", Pipe(12.0, 0.930), -6.0).head(1.8, 30.0, 30.0)
    return laid.network()


def drip_behind_a_regulator() -> Network:
    laid = Laying(65.0).go("valve", Valve(6.0)).go("regulator", Regulator(25.0))
    for no in range(30):
        laid.go(f"row {no}", Pipe(6.0, 0.622, 140.0)).head(0.1, 20.0)
    return laid.network()


def loop() -> Network:
    laid = Laying(60.0).go("main", Pipe(50.0, 1.380))
    for no in range(4):
        laid.go(f"left {no}", Pipe(25.0, 1.049), 1.0, "main" if no == 0 else "").head(2.5)
    left = laid.at
    for no in range(4):
        laid.go(f"right {no}", Pipe(30.0, 0.824), 0.5, "main" if no == 0 else "").head(1.5)
    return laid.close("ring", left, Pipe(40.0, 0.930)).network()


def two_loops() -> Network:
    laid = Laying(80.0, 60.0, 25.0).go("a", Pipe(40.0, 1.380)).go("b", Pipe(40.0, 1.049)).head(3.0)
    laid.go("c", Pipe(30.0, 1.049), -4.0).head(4.0).close("c to a", "a", Pipe(60.0, 0.824))
    laid.go("d", Pipe(20.0, 0.824), 6.0).head(2.0, 30.0, 30.0).close("d to b", "b", Pipe(35.0, 0.6))
    return laid.network()


def extremes() -> Network:
    laid = Laying(2.0).go("large", Pipe(2000.0, 6.0)).head(40.0).go("small", Pipe(3.0, 0.3), 2.0)
    laid.head(0.05, 30.0).go("none", Pipe(0.01, 0.3), -30.0).head(0.5, 30.0, 10.0)
    return laid.network()


def high_pressure() -> Network:
    laid = Laying(250.0).go("main", Pipe(400.0, 0.622), 40.0).go("regulator", Regulator(60.0))
    for no in range(5):
        laid.go(f"run {no}", Pipe(30.0, 0.622), 5.0 - 3.0 * no).head(2.0, 45.0)
    return laid.network()


CASES: list[Callable[[], Network]] = [
    hillside,
    overloaded,
    mixed_regulated,
    all_regulated_downhill,
    drip_behind_a_regulator,
    loop,
    two_loops,
    extremes,
    high_pressure,
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.__name__)
def test_every_head_is_as_in_epanet(case: Callable[[], Network]) -> None:
    network = case()
    found, reference = solve(network), epanet(network)
    assert found.converged
    assert set(found.heads) == set(reference.psi)
    for name, head in found.heads.items():
        psi = reference.psi[name]
        assert abs(head.psi - psi) <= max(1e-5 * abs(psi), 1e-4), name
        assert head.gpm > 0.0
        assert head.gpm == pytest.approx(reference.gpm[name], rel=1e-5), name


def test_dry_heads_draw_exactly_nothing() -> None:
    laid = Laying(12.0).go("main", Pipe(40.0, 1.049))
    for no in range(8):
        laid.go(f"run {no}", Pipe(12.0, 0.930), 5.0).head(2.0)
    network = laid.network()
    found, reference = solve(network), epanet(network)
    assert found.converged
    states = [head.state for head in found.heads.values()]
    assert states.count("dry") >= 2
    assert states[0] == "normal"
    for name, head in found.heads.items():
        if head.state == "dry":
            assert head.gpm == 0.0
            assert head.psi <= 0.0
            assert reference.gpm[name] == pytest.approx(0.0, abs=1e-4)
        else:
            assert head.psi == pytest.approx(reference.psi[name], abs=1e-3)
            assert head.gpm == pytest.approx(reference.gpm[name], rel=1e-4)
