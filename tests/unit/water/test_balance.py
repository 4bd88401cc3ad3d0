"""Where supply and zone meet, and the way of the water to one head."""

from __future__ import annotations

import pytest
from laying import Laying, worked

from fieldbook.water import (
    Network,
    NetworkError,
    Pipe,
    Street,
    Supply,
    flow_leaving_gpm,
    operating_curves,
    solve,
    way_to_head,
)


def row(heads: int, bore_in: float = 0.824, static_psi: float = 45.0) -> Network:
    """Heads of 2 gpm at 30 psi in a row behind a main of 60 ft."""
    laid = Laying(static_psi).go("main", Pipe(60.0, bore_in))
    for no in range(1, heads + 1):
        laid.go(f"run {no}", Pipe(15.0, bore_in)).head(2.0)
    return laid.network()


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


def test_the_way_to_a_head_loses_what_the_solution_loses() -> None:
    network = worked().network()._replace(supply=Supply(60.0, 45.0, 15.0))
    found = solve(network)
    for name, head in found.heads.items():
        way = way_to_head(network, found, name)
        assert found.source_psi - way.loss_psi(found.supply_gpm) == pytest.approx(head.psi)


def test_the_flow_that_leaves_a_pressure_is_the_draw_where_a_head_just_has_it() -> None:
    network = row(5)._replace(supply=Supply(60.0, 45.0, 15.0))
    found = solve(network)
    street = Street(60.0, test_residual_psi=45.0, test_flow_gpm=15.0)
    way = way_to_head(network, found, "head run 5")
    psi = found.heads["head run 5"].psi
    assert flow_leaving_gpm(street, psi, way) == pytest.approx(found.supply_gpm, rel=1e-7)
    assert (flow_leaving_gpm(street, psi + 3.0, way) or 0.0) < found.supply_gpm
    assert flow_leaving_gpm(street, 61.0, way) == 0.0
    assert flow_leaving_gpm(Street(60.0), psi, way) is None
