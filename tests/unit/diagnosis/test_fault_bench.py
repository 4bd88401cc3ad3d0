"""Each fault on the bench changes the water as a network that is built with it, solved whole."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from crew_rounds import true_values
from field_faults import Fault, broken
from laid_zones import laid

from fieldbook.diagnosis.fault_axes import Axis, axes_of
from fieldbook.diagnosis.fault_bench import FIRST_HEAD, FLOW, RUNNING, STATIC, Changed, FaultBench
from fieldbook.diagnosis.fault_weights import solve_axis
from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.water import NetworkError, Pipe, Valve


def bench(
    seed: int = 2, heads: int = 6, static: float | None = None
) -> tuple[ZoneParts, FaultBench]:
    parts = laid(Random(seed), heads)
    return parts, FaultBench(parts, static)


def axis(parts: ZoneParts, change: str, place: str = "") -> Axis:
    return next(one for one in axes_of(parts) if (one.change, one.place) == (change, place))


def as_built(parts: ZoneParts, fault: Fault) -> list[float]:
    """The signature of a network into which a fault is built by other code."""
    values = true_values(parts, broken(parts, (fault,)))
    return [values[name] for name in ("static", "running", "flow", *parts.heads)]


def test_the_places_for_faults_change_nothing_themselves() -> None:
    parts, zone = bench()
    values = true_values(parts, parts.network)
    want = [values[name] for name in ("static", "running", "flow", *parts.heads)]
    assert zone.base == pytest.approx(want, abs=1e-3)


def test_a_blocked_nozzle_is_the_network_with_a_smaller_one() -> None:
    parts, zone = bench()
    for shut in (0.35, 0.75, 1.0):
        found = zone.solve(zone.change(axis(parts, "less at a head", "head 3"), shut))
        assert found == pytest.approx(as_built(parts, Fault("blocked", "head 3", shut)), abs=1e-3)


def test_a_leak_gives_so_much_more_at_the_usual_pressure() -> None:
    parts, zone = bench()
    k = 6.4 / zone.base[FIRST_HEAD + 1] ** 0.5
    found = zone.solve(zone.change(axis(parts, "more at a node", "head 2"), 6.4))
    assert found == pytest.approx(as_built(parts, Fault("leak", "head 2", k)), abs=1e-3)


def test_a_throttle_loses_so_much_at_the_usual_flow() -> None:
    parts, zone = bench()
    for kind, change in (
        ("isolation", "shared part loses"),
        ("valve_part_closed", "valve loses"),
        ("street_valve", "street loses"),
    ):
        found = zone.solve(zone.change(axis(parts, change), 15.0))
        want = as_built(parts, Fault(kind, "", 15.0))  # type: ignore[arg-type]
        assert found == pytest.approx(want, abs=0.02), change


def test_a_kink_loses_as_a_valve_in_the_pipe_does() -> None:
    parts, zone = bench()
    one = next(one for one in axes_of(parts) if one.change == "lateral loses")
    found = zone.solve(zone.change(one, 15.0))
    assert found == pytest.approx(as_built(parts, Fault("kink", one.place, 15.0)), abs=0.02)


def test_a_street_that_fell_lowers_everything_where_static_was_not_read() -> None:
    parts, zone = bench()
    fallen = zone.solve(zone.change(axis(parts, "street pressure"), 0.25))
    assert fallen == pytest.approx(as_built(parts, Fault("supply_fallen", "", 0.25)), abs=1e-3)


def test_a_static_that_was_read_is_the_networks_and_the_record_alone_is_off() -> None:
    static = laid(Random(2), 6).network.supply.static_psi
    parts, zone = bench(static=0.75 * static)
    assert zone.base[STATIC] == pytest.approx(static)
    assert zone.base[RUNNING] < 0.75 * static
    (*_, last) = solve_axis(zone, axis(parts, "street pressure"))
    assert last.signature[1:] == zone.base[1:]
    assert last.signature[STATIC] == pytest.approx(0.4 * static)


def test_a_regulator_that_sticks() -> None:
    parts, zone = next(
        (found, FaultBench(found, None))
        for found in (laid(Random(seed), 5) for seed in range(40))
        if found.regulator is not None
    )
    high = zone.solve(zone.change(axis(parts, "regulator open"), 1.0))
    low = zone.solve(zone.change(axis(parts, "regulator low"), 0.55))
    assert high is not None
    assert low is not None
    assert low[FLOW] < zone.base[FLOW] <= high[FLOW] + 1e-6
    want = as_built(parts, Fault("regulator_open", "", 1.0))
    assert high == pytest.approx(want, abs=1e-3)


def test_doubts_move_the_readings_the_way_they_should() -> None:
    _, zone = bench()
    doubts = {"friction": 0.1, "devices": 0.1, "nozzles": 0.05, "supply_drop": 0.1, "static": 2.0}
    friction, devices, nozzles, drop, static = zone.doubted(Changed(), doubts)
    for less in (friction, devices, drop):
        assert less[FLOW] < zone.base[FLOW]
    assert nozzles[FLOW] > zone.base[FLOW]
    assert nozzles[FIRST_HEAD] < zone.base[FIRST_HEAD]
    assert static[RUNNING] == pytest.approx(zone.base[RUNNING] + 2.0, abs=0.5)


def test_two_changes_join_unless_they_replace_the_same_part() -> None:
    one = Changed(kinds={"a": Valve(1.0)})
    two = Changed(kinds={"b": Pipe(1.0, 1.0)}, static_psi=40.0)
    both = one.joined(two)
    assert both is not None
    assert set(both.kinds) == {"a", "b"}
    assert both.static_psi == 40.0
    assert one.joined(one) is None


def test_a_zone_without_heads_or_a_valve_that_is_not_there_is_refused() -> None:
    parts, _ = bench()
    with pytest.raises(NetworkError, match="no head"):
        FaultBench(replace(parts, heads=()), None)


def test_a_solve_that_fails_says_none() -> None:
    _, zone = bench()
    assert zone.solve(Changed(kinds={"no such link": Valve(1.0)})) is None
