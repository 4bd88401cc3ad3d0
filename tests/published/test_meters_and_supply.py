"""Meters, the governing flow, the bucket and the flow test against published figures."""

from __future__ import annotations

import pytest

from fieldbook.trade.meters import METERS
from fieldbook.trade.pipes import PIPE_CLASSES
from fieldbook.water import (
    Link,
    Network,
    Node,
    Street,
    Supply,
    Valve,
    available_flow,
    bucket_gpm,
    drops_enough,
)
from fieldbook.water.losses import loss_and_slope, loss_of, supply_loss
from fieldbook.water.supply_curve import flow_at_psi_gpm, limits

# An undated one-page sheet, "AWWA standard pressure loss (psi)", author unknown: entries of
# 3 psi and more.
SHEET: dict[str, dict[int, float]] = {
    "5/8": {10: 3.7, 12: 5.1, 14: 7.2, 15: 8.3, 16: 9.4, 18: 12.0, 20: 15.0},
    "3/4": {14: 3.1, 15: 3.6, 16: 4.1, 18: 5.2, 20: 6.5, 22: 7.9, 24: 9.5, 28: 13.0, 30: 15.0},
    "1": {24: 3.4, 28: 4.6, 30: 5.3, 40: 9.6, 50: 15.0},
    "1-1/2": {40: 3.3, 50: 4.9, 60: 7.2, 80: 12.8, 100: 20.0},
    "2": {80: 4.9, 100: 7.8},
}


def psi_lost(kind: Valve, gpm: float) -> float:
    """The pressure in psi that the solver has a meter lose at a flow in gpm."""
    link = Link("meter", "street", "a", kind)
    network = Network(Supply(60.0), "street", (Node("street"), Node("a")), (link,))
    return loss_and_slope(*loss_of(link, network), gpm)[0]


def supplied_psi(static: float, residual: float, test_gpm: float, gpm: float) -> float:
    """The pressure in psi that the solver has the supply give at a flow in gpm."""
    return static - loss_and_slope(*supply_loss(Supply(static, residual, test_gpm)), gpm)[0]


@pytest.mark.parametrize(
    ("size", "gpm", "psi"),
    [(size, gpm, psi) for size, row in SHEET.items() for gpm, psi in row.items()],
)
def test_the_square_law_follows_the_printed_losses(size: str, gpm: int, psi: float) -> None:
    meter = METERS[size]
    loss = psi_lost(Valve.rated(meter.loss_at_safe_psi, meter.safe_gpm), gpm)
    assert 0.96 * psi - 0.05 <= loss <= 1.06 * psi + 0.05


def test_a_meter_may_carry_three_quarters_of_its_safe_flow() -> None:
    # Safe maximum flow: COMAR 20.70.06.03 B; the 75 % is common practice, no source.
    expected = {"5/8": 15, "3/4": 22.5, "1": 37.5, "1-1/2": 75, "2": 120}
    for size, gpm in expected.items():
        found = limits(Street(meter_safe_gpm=METERS[size].safe_gpm), None)
        assert [(one.rule, one.flow_gpm) for one in found] == [("meter flow", gpm)]


@pytest.mark.parametrize(
    ("static", "size", "gpm"),
    [(50, "5/8", 11.5), (50, "1", 28.9), (60, "3/4", 18.97), (70, "3/4", 20.5), (80, "1", 36.5)],
)
def test_a_meter_may_lose_ten_per_cent_of_static(static: float, size: str, gpm: float) -> None:
    # “The Water Source”, design article in the landscape trade press.
    meter = METERS[size]
    street = Street(static, meter.safe_gpm, meter.loss_at_safe_psi)
    found = {one.rule: one.flow_gpm for one in limits(street, None)}
    assert found["meter loss"] == pytest.approx(gpm, rel=0.01)


def test_the_service_line_governs() -> None:
    # 60 psi static, 3/4 in meter, 3/4 in type L service at 5 ft/s (2004 Florida Building Code,
    # Plumbing, App. F, Part II F: irrigation pipelines) and, as copper, at 8 ft/s (Chicago
    # 18-29-604.10.1.2: any building supply pipe).
    bore_in = PIPE_CLASSES["copper L"].bores_in["3/4"]
    governing = available_flow(Street(60, 30, 15, bore_in), None)
    assert governing is not None
    assert governing.rule == "service line"
    assert governing.flow_gpm == pytest.approx(7.5, rel=0.01)
    faster = available_flow(Street(60, 30, 15, bore_in, 8.0), None)
    assert faster is not None
    assert faster.flow_gpm == pytest.approx(12.07, abs=0.02)


def test_a_bucket_gives_gallons_a_minute() -> None:
    # Gallons a minute by definition of the unit: 60 x gallons / seconds, worked by hand.
    assert bucket_gpm(5, 23) == pytest.approx(13.04, abs=0.01)
    assert (bucket_gpm(5, 30), bucket_gpm(5, 20)) == (10, 15)


@pytest.mark.parametrize(
    ("static", "residual", "flow", "at", "gpm"),
    [(60, 48, 10, 40, 13.18), (65, 50, 12, 45, 14.02), (65, 50, 800, 20, 1448)],
)
def test_the_flow_test_curve_is_that_of_nfpa_291(
    static: float, residual: float, flow: float, at: float, gpm: float
) -> None:
    # NFPA 291, chapter 4: Q2 = Q1 ((Ps - P2) / (Ps - P1))^0.54.
    found = flow_at_psi_gpm(static, residual, flow, at)
    assert found == pytest.approx(gpm, rel=0.002)
    assert supplied_psi(static, residual, flow, found) == pytest.approx(at, abs=0.05)


def test_a_flow_test_gives_the_pressure_at_a_flow() -> None:
    assert supplied_psi(60, 48, 10, 15) == pytest.approx(34.6, abs=0.05)
    assert supplied_psi(60, 48, 10, 0) == 60


def test_a_test_that_drops_too_little_is_not_usable() -> None:
    # NFPA 291, 4.4.6: at least 10 % of static.
    assert not drops_enough(60, 55)
    assert drops_enough(60, 54)


@pytest.mark.parametrize(
    ("static", "residual", "flow"), [(60, 60, 10), (60, 61, 10), (60, -1, 10), (60, 48, 0)]
)
def test_an_impossible_test_gives_no_number(static: float, residual: float, flow: float) -> None:
    with pytest.raises(ValueError, match="flow test"):
        flow_at_psi_gpm(static, residual, flow, 40)
    with pytest.raises(ValueError, match="flow test"):
        supplied_psi(static, residual, flow, 5)


def test_the_curve_never_gives_more_than_static() -> None:
    with pytest.raises(ValueError, match="above static"):
        flow_at_psi_gpm(60, 48, 10, 61)
