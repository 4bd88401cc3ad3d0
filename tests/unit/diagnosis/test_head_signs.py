"""What a crew is likely to note, by what the water does."""

from __future__ import annotations

import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laid_zones import laid

from fieldbook.diagnosis.fault_axes import Axis, Cause
from fieldbook.diagnosis.fault_bench import FaultBench
from fieldbook.diagnosis.head_signs import (
    SignBook,
    causes_show,
    chances_of,
    leak_places,
    weights_at_fault,
    weights_by_pressure,
)
from fieldbook.diagnosis.zone_parts import ZoneReadings
from fieldbook.trade.water_faults import SIGNS, water_faults

TABLE = water_faults()


@given(st.floats(-20, 200), st.floats(0, 100), st.none() | st.floats(10, 80))
def test_weights_and_chances_add_up_to_one(psi: float, usual: float, rated: float | None) -> None:
    weights = weights_by_pressure(psi, usual, rated)
    assert sum(weights.values()) == pytest.approx(1.0)
    assert min(weights.values()) >= 0.0
    assert sum(chances_of(TABLE, weights).values()) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("psi", "sign"),
    [(40.0, "fine"), (62.0, "misting"), (24.0, "weak"), (9.0, "low"), (0.0, "dry")],
)
def test_the_likeliest_sign_at_a_pressure(psi: float, sign: str) -> None:
    chances = chances_of(TABLE, weights_by_pressure(psi, 40.0, 30.0))
    assert max(SIGNS, key=lambda one: chances[one]) == sign


@pytest.mark.parametrize(
    ("kind", "severity", "sign"),
    [
        ("blocked", 1.0, "dry"),
        ("blocked", 0.5, "short"),
        ("missing", 8.0, "gush"),
        ("obstructed", 1.0, "short"),
    ],
)
def test_the_likeliest_sign_of_a_head_with_a_fault(kind: str, severity: float, sign: str) -> None:
    cause = Cause(kind, "head 1", 0.0, 1.0)  # type: ignore[arg-type]
    weights = weights_at_fault(cause, severity)
    assert weights is not None
    assert sum(weights.values()) == pytest.approx(1.0)
    chances = chances_of(TABLE, weights)
    assert max(SIGNS, key=lambda one: chances[one]) == sign


def test_a_fault_elsewhere_leaves_the_head_to_its_pressure() -> None:
    assert weights_at_fault(Cause("kink", "run 1", 0.0, 1.0), 10.0) is None


def sign_book() -> SignBook:
    return SignBook(TABLE, FaultBench(laid(Random(1), 5), None))


def faults(change: str, kind: str, place: str = "") -> tuple[tuple[Axis, Cause], ...]:
    cause = Cause(kind, place, 0.0, 1.0)  # type: ignore[arg-type]
    return ((Axis(change, place, (1.0,), (cause,)), cause),)  # type: ignore[arg-type]


def test_a_wet_spot_speaks_for_the_leak_there_and_dry_ground_against_it() -> None:
    book = sign_book()
    leak = faults("more at a node", "leak", "head 2")
    wet = ZoneReadings(wet=frozenset({"head 2"}))
    dry = ZoneReadings(ground=True)
    assert book.elsewhere(leak, wet) > book.elsewhere((), wet)
    assert book.elsewhere(leak, dry) < book.elsewhere((), dry)
    assert leak_places(leak) == {"head 2"}
    assert book.elsewhere(leak, ZoneReadings()) == 0.0


def test_other_zones_speak_for_what_zones_share() -> None:
    book, weak = sign_book(), ZoneReadings(others="weak")
    shared, own = faults("shared part loses", "isolation"), faults("valve loses", "filter")
    with_cause, without = TABLE.shows["others_weak"]
    assert book.elsewhere(shared, weak) == pytest.approx(math.log(with_cause))
    assert book.elsewhere(own, weak) == pytest.approx(math.log(without))


def test_the_meter_moves_for_a_leak_before_the_valve_and_for_a_seat() -> None:
    for change, kind in (("more before the valve", "main_leak"), ("none", "seat")):
        ((axis, cause),) = faults(change, kind)
        assert causes_show(axis, cause, "meter_moves")
    ((axis, cause),) = faults("none", "seat")
    assert causes_show(axis, cause, "weeping")
    ((axis, cause),) = faults("more before the valve", "main_leak")
    assert not causes_show(axis, cause, "weeping")
