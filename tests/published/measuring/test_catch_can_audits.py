"""Catch-can audits against published worked examples, and two that are not to be copied."""

from __future__ import annotations

import pytest

from fieldbook.audit import depth_in, evenness, part_of, percent, rate_in_h, read_error_part

# North Carolina Cooperative Extension, AG-553-1: 16 cans, in.
SIXTEEN_IN = [
    *(0.57, 0.69, 0.83, 0.65, 0.61, 0.38, 0.27, 0.64),
    *(0.51, 0.26, 0.36, 0.52, 0.79, 0.65, 0.61, 0.86),
]
# A published lawn audit: 46 cans of 7.2 cm, 15 minutes, mL.
LAWN_ML = [
    *(9, 11, 11, 13, 17, 14, 15, 15, 3, 15, 13, 6, 14, 11, 7, 11, 14, 17, 9, 6, 4, 8, 9),
    *(12, 26, 17, 8, 4, 6, 10, 14, 16, 14, 9, 6, 7, 10, 6, 16, 11, 3, 16, 10, 2, 5, 11),
]
# 22 cans, worked for every rule of the quarter; no published text rules for them.
TWENTY_TWO = [
    *(18, 20, 21, 22, 24, 25, 26, 27, 28, 29, 30),
    *(31, 32, 33, 34, 35, 36, 38, 39, 41, 43, 46),
]


def test_sixteen_cans_of_the_north_carolina_extension() -> None:
    found = evenness(SIXTEEN_IN)
    assert found is not None
    # Published in whole percent: CU 75, DU 55, DUlh 76.
    assert percent(found.christiansen) == 75
    assert percent(found.low_quarter) == 55
    assert percent(found.low_half) == 76
    assert found.christiansen == pytest.approx(0.7489, abs=1e-4)
    assert found.low_quarter == pytest.approx(0.5522, abs=1e-4)
    assert found.low_half == pytest.approx(0.7565, abs=1e-4)
    assert (found.quarter_cans, found.half_cans) == (4, 8)


@pytest.mark.parametrize("rule", ["round", "floor", "ceiling", "weighted"])
def test_no_rule_moves_a_count_that_four_divides(rule: str) -> None:
    found, usual = evenness(SIXTEEN_IN, rule), evenness(SIXTEEN_IN)
    assert found is not None
    assert usual is not None
    assert found.low_quarter == usual.low_quarter


def test_the_lawn_of_forty_six_cans() -> None:
    found = evenness(LAWN_ML)
    assert found is not None
    # Published: CU 64, DUlh 64, DU 45, 0.41 in/h.
    assert [percent(one) for one in (found.christiansen, found.low_half, found.low_quarter)] == [
        64,
        64,
        45,
    ]
    assert found.quarter_cans == 12
    assert found.low_quarter == pytest.approx(0.4528, abs=1e-4)
    rate = rate_in_h(depth_in(found.mean, 7.2 / 2.54), 15)
    assert rate == pytest.approx(0.413, abs=5e-4)
    floor = evenness(LAWN_ML, "floor")
    assert floor is not None
    assert (floor.quarter_cans, round(floor.low_quarter, 3)) == (11, 0.434)


@pytest.mark.parametrize(
    ("rule", "cans", "low_quarter"),
    [("round", 6, 0.7030), ("ceiling", 6, 0.7030), ("floor", 5, 0.6814), ("weighted", 5.5, 0.6932)],
)
def test_twenty_two_cans_by_every_rule(rule: str, cans: float, low_quarter: float) -> None:
    found = evenness(TWENTY_TWO, rule)
    assert found is not None
    assert found.quarter_cans == cans
    assert found.low_quarter == pytest.approx(low_quarter, abs=5e-5)


def test_twenty_two_cans_by_half_and_by_the_driest() -> None:
    found = evenness(TWENTY_TWO)
    assert found is not None
    assert found.christiansen == pytest.approx(0.7965, abs=5e-5)
    assert found.low_half == pytest.approx(0.7965, abs=5e-5)
    assert found.most_scheduling == pytest.approx(1.71, abs=5e-3)


def test_the_two_examples_of_a_technician_programme() -> None:
    # Mean 0.70 and low-quarter mean 0.68: 97 %. Mean 1.0 L and low quarter 0.8 L: 80 %.
    first = evenness([0.68, 0.70, 0.70, 0.72])
    second = evenness([0.8, 1.0, 1.05, 1.15])
    assert first is not None
    assert second is not None
    assert (percent(first.low_quarter), percent(second.low_quarter)) == (97, 80)


@pytest.mark.parametrize(
    ("cans", "part", "copied"),
    [((78.5, 100.0, 105.0, 116.5), 0.785, 77), ((93.3, 100.0, 102.0, 104.7), 0.933, 91)],
)
def test_what_one_web_calculator_prints_is_not_copied(
    cans: tuple[float, ...], part: float, copied: int
) -> None:
    # It prints 77 % for cans whose own figures give 78.5 %, and 91 for cans that give 93.3.
    found = evenness(cans)
    assert found is not None
    assert found.low_quarter == pytest.approx(part)
    assert percent(found.low_quarter) == round(part * 100 + 1e-9) != copied


def test_a_ruler_read_to_an_eighth_of_an_inch() -> None:
    # Univ. of Florida's 3/8 in mean read to 1/8 in: within 17 %.
    error = read_error_part([3 / 8] * 5, 1 / 8)
    assert error == pytest.approx(0.17, abs=5e-3)


def test_few_cans_still_have_a_quarter() -> None:
    assert [part_of(count, 4, "floor") for count in (1, 3, 4, 7, 8)] == [1, 1, 1, 1, 2]
    assert [part_of(count, 4) for count in (5, 6, 10, 22, 26)] == [1, 2, 3, 6, 7]
