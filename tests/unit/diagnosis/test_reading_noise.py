"""The noise of readings: factors checked by hand and by products, and what doubts add."""

from __future__ import annotations

import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laid_zones import laid

from fieldbook.diagnosis.fault_bench import FLOW, STATIC, Changed, FaultBench
from fieldbook.diagnosis.reading_noise import (
    cholesky,
    doubts_of,
    noise_of,
    observed,
    recorded_sigma_psi,
    whiten,
)
from fieldbook.diagnosis.zone_parts import Measured, ZoneReadings
from fieldbook.trade.water_faults import water_faults


def test_a_factor_by_hand() -> None:
    assert cholesky([[4.0, 2.0], [2.0, 5.0]]) == [[2.0], [1.0, 2.0]]
    assert whiten([[2.0], [1.0, 2.0]], [4.0, 6.0]) == [2.0, 2.0]


@given(st.lists(st.lists(st.floats(-3, 3), min_size=4, max_size=4), min_size=4, max_size=4))
def test_a_factor_times_itself_is_the_matrix(columns: list[list[float]]) -> None:
    rows = [
        [sum(one[i] * one[j] for one in columns) + (0.5 if i == j else 0.0) for j in range(4)]
        for i in range(4)
    ]
    factor = cholesky(rows)
    for i in range(4):
        for j in range(i + 1):
            product = sum(a * b for a, b in zip(factor[i], factor[j], strict=False))
            assert product == pytest.approx(rows[i][j], abs=1e-9)


def test_a_reading_within_an_error_has_half_of_it_as_sigma() -> None:
    assert Measured.within(60.0, 1.96) == Measured(60.0, 1.0)
    assert Measured.within(60.0, 0.0).sigma > 0.0


def test_readings_stand_at_their_place_and_static_is_off_by_the_hour_too() -> None:
    seen = observed(
        ZoneReadings(Measured(60.0, 1.0), None, Measured(12.0, 0.2), {"b": Measured(40.0, 1.5)}),
        ("a", "b"),
        62.0,
    )
    assert (seen.at, seen.values) == ([0, 2, 4], [60.0, 12.0, 40.0])
    assert seen.sigmas[0] == pytest.approx(math.hypot(1.0, recorded_sigma_psi(62.0)))
    assert seen.sigmas[1:] == [0.2, 1.5]
    # 2 psi of the gauge and 5 % of 62 psi by the hour, both at 95 %.
    assert recorded_sigma_psi(62.0) == pytest.approx(math.hypot(2.0, 3.1) / 1.96)


def test_noise_is_the_instruments_and_what_all_readings_share() -> None:
    parts = laid(Random(6), 5)
    zone = FaultBench(parts, None)
    readings = ZoneReadings(None, Measured(50.0, 1.0), Measured(12.0, 0.2))
    seen = observed(readings, parts.heads, zone.recorded.static_psi)
    doubts = doubts_of(zone, water_faults().doubt, None)
    noise = noise_of(zone, Changed(), zone.base, doubts, seen)
    variances = [sum(one * one for one in row) for row in noise.factor]
    assert variances[0] > 1.0
    assert variances[1] > 0.2**2 + noise.spread[FLOW]
    assert all(column[STATIC] == 0.0 for column in noise.columns)
    assert noise.log_det == pytest.approx(2.0 * sum(math.log(row[-1]) for row in noise.factor))


def test_a_flow_test_with_a_small_drop_is_doubted_more() -> None:
    parts = laid(Random(6), 5)
    zone = FaultBench(parts, None)
    table = water_faults().doubt
    usual = doubts_of(zone, table, None)["supply_drop"]
    zone.recorded = zone.recorded._replace(residual_psi=zone.recorded.static_psi - 2.0)
    assert doubts_of(zone, table, None)["supply_drop"] > usual
    zone.recorded = zone.recorded._replace(residual_psi=None)
    assert doubts_of(zone, table, None)["supply_drop"] == table["supply_drop"]
    assert doubts_of(zone, table, Measured(60.0, 0.7))["static"] == 0.7
