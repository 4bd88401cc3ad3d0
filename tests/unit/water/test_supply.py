"""Properties of friction and of the available flow that hold for any figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.water import Street, Supply, available_flow, bucket_gpm
from fieldbook.water.friction import darcy_weisbach, hazen_williams_psi
from fieldbook.water.losses import loss_and_slope, supply_loss
from fieldbook.water.supply_curve import flow_at_psi_gpm, limits

flows = st.floats(0.01, 200)
bores = st.floats(0.3, 4)
pressures = st.floats(10, 150)


@given(flows, bores, st.floats(80, 160))
def test_loss_grows_with_the_power_1_852_of_flow_and_roughness(
    gpm: float, bore_in: float, c: float
) -> None:
    loss = hazen_williams_psi(gpm, bore_in, c, 100)
    assert hazen_williams_psi(2 * gpm, bore_in, c, 100) == pytest.approx(loss * 2**1.852)
    rougher = hazen_williams_psi(gpm, bore_in, c / 1.5, 100)
    assert rougher == pytest.approx(loss * 1.5**1.852)


@given(flows, bores, st.floats(1.01, 2))
def test_a_larger_bore_loses_less_by_either_law(gpm: float, bore_in: float, part: float) -> None:
    larger = bore_in * part
    assert hazen_williams_psi(gpm, larger, 150, 50) < hazen_williams_psi(gpm, bore_in, 150, 50)
    wide = darcy_weisbach(gpm, bore_in * 2, 5e-6, 50)[0]
    assert wide < darcy_weisbach(gpm, bore_in, 5e-6, 50)[0]


def test_no_flow_and_no_length_lose_nothing() -> None:
    assert hazen_williams_psi(0, 1, 150, 100) == hazen_williams_psi(9, 1, 150, 0) == 0
    assert darcy_weisbach(0, 1, 5e-6, 100)[0] == 0


@pytest.mark.parametrize(
    "figures", [(1, 0, 150, 1), (1, -1, 150, 1), (-1, 1, 150, 1), (1, 1, 0, 1), (1, 1, 150, -1)]
)
def test_impossible_pipe(figures: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="must"):
        hazen_williams_psi(*figures)


@given(pressures, st.floats(0.05, 0.95), flows, st.floats(0, 1))
def test_the_solver_s_supply_undoes_the_flow_of_a_test(
    static: float, part: float, flow: float, at: float
) -> None:
    found = flow_at_psi_gpm(static, static * part, flow, static * at)
    lost = loss_and_slope(*supply_loss(Supply(static, static * part, flow)), found)[0]
    assert static - lost == pytest.approx(static * at, abs=1e-6)


@given(pressures, st.floats(5, 160), st.floats(1, 30), st.none() | bores, st.none() | pressures)
def test_the_smallest_rule_governs(
    static: float, safe: float, loss: float, bore_in: float | None, needed: float | None
) -> None:
    street = Street(static, safe, loss, bore_in, 5.0, static * 0.7, safe / 2)
    every = limits(street, needed)
    governing = available_flow(street, needed)
    assert governing is not None
    assert governing.flow_gpm == min(one.flow_gpm for one in every)
    more = Street(static * 1.2, safe, loss, bore_in, 5.0, static * 0.7, safe / 2)
    by_rule = {one.rule: one.flow_gpm for one in every}
    for one in limits(more, needed):
        if one.rule != "flow test":
            assert one.flow_gpm >= by_rule[one.rule] - 1e-9


def test_nothing_governs_where_nothing_is_known() -> None:
    assert available_flow(Street(), 30) is None


def test_a_bucket_needs_its_time() -> None:
    with pytest.raises(ValueError, match="time"):
        bucket_gpm(5, 0)
