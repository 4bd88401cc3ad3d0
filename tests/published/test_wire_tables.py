"""Copper, circuits and readings against published tables and worked figures."""

from __future__ import annotations

import pytest

from fieldbook.wiring import (
    CLASS_2_VA,
    OHM_PER_1000_FT,
    Currents,
    Run,
    coil_v,
    expected_ohm,
    judge,
    load_va,
    longest_ft,
    ohm_per_ft,
    smallest_gauge,
    to_short_ft,
)

# NEC (NFPA 70) chapter 9, table 8, uncoated solid copper at 75 C, ohm per 1000 ft (as transcribed
# publicly).
NEC_TABLE_8 = [("10", 1.21), ("12", 1.93), ("14", 3.07), ("16", 4.89), ("18", 7.77)]
# Copper wire tables as reprinted from Floyd, “Electric Circuit Fundamentals”: diameter in mil and
# ohm per 1000 ft at 25 C and 40 C.
DIAMETERS = [("10", 101.9), ("12", 80.8), ("14", 64.1), ("16", 50.8), ("18", 40.3), ("22", 25.3)]
WARMER = [("18", 77.0, 6.510), ("18", 104.0, 6.887), ("14", 77.0, 2.575), ("10", 104.0, 1.077)]
# Longest one-way run in ft at 4 V allowed, 20 C, one gauge in both wires (worked from the tables).
LONGEST = [
    ("22", 0.35, 354),
    ("20", 0.35, 562),
    ("18", 0.25, 1252),
    ("18", 0.35, 895),
    ("18", 0.45, 696),
    ("16", 0.35, 1422),
    ("14", 0.35, 2263),
    ("12", 0.35, 3598),
    ("10", 0.35, 5720),
]


@pytest.mark.parametrize(("gauge", "ohm"), NEC_TABLE_8)
def test_resistances_are_those_of_nec_table_8(gauge: str, ohm: float) -> None:
    assert 1000 * ohm_per_ft(gauge, 75 * 1.8 + 32) == pytest.approx(ohm, rel=0.005)


def diameter_mil(gauge: str) -> float:
    """The American wire gauge by its definition: 5 x 92^((36 - n) / 39) thousandths of an inch."""
    return float(5.0 * 92.0 ** ((36 - int(gauge)) / 39.0))


@pytest.mark.parametrize(("gauge", "mil"), DIAMETERS)
def test_diameter_and_resistance_follow_the_wire_formula(gauge: str, mil: float) -> None:
    assert diameter_mil(gauge) == pytest.approx(mil, rel=0.002)
    # 10.371 ohm cmil/ft at 20 C, 100 % IACS.
    assert 10371 / diameter_mil(gauge) ** 2 == pytest.approx(OHM_PER_1000_FT[gauge], rel=0.001)


@pytest.mark.parametrize(("gauge", "deg_f", "ohm"), WARMER)
def test_warmer_wire_has_the_published_resistance(gauge: str, deg_f: float, ohm: float) -> None:
    assert 1000 * ohm_per_ft(gauge, deg_f) == pytest.approx(ohm, rel=0.001)


@pytest.mark.parametrize(("gauge", "amps", "ft"), LONGEST)
def test_the_longest_run_is_as_worked(gauge: str, amps: float, ft: float) -> None:
    assert longest_ft(gauge, gauge, Currents(inrush_a=amps)) == pytest.approx(ft, abs=1)


def test_runs_with_two_gauges_a_master_valve_or_two_coils_are_as_worked() -> None:
    plain = Currents(inrush_a=0.35)
    # 14 AWG common with an 18 AWG hot; a master valve of 0.35 A on the common.
    assert longest_ft("18", "14", plain) == pytest.approx(1283, abs=1)
    with_master = Currents(inrush_a=0.35, master_a=0.35)
    assert longest_ft("18", "18", with_master) == pytest.approx(597, abs=1)
    # At 25 C 877 ft; at 75 C 735 ft.
    assert longest_ft("18", "18", plain, deg_f=77) == pytest.approx(877, abs=1)
    assert longest_ft("18", "18", plain, deg_f=167) == pytest.approx(735, rel=0.002)


def test_400_feet_of_18_gauge_lose_as_worked() -> None:
    run = Run(400.0, "18", "18")
    assert run.loop_ohm == pytest.approx(5.11, abs=0.005)
    assert run.drop_v(0.40, 0.0) == pytest.approx(2.04, rel=0.01)
    assert coil_v(run, Currents(inrush_a=0.40)) == pytest.approx(21.96, rel=0.001)


@pytest.mark.parametrize(("ft", "gauge"), [(300, "22"), (800, "18"), (900, "16"), (5000, "10")])
def test_the_thinnest_wire_that_still_pulls_in_is_named(ft: float, gauge: str) -> None:
    assert smallest_gauge(ft, Currents(inrush_a=0.35)) == gauge
    assert smallest_gauge(20000, Currents(inrush_a=0.35)) is None


def test_the_transformer_s_load_is_as_worked() -> None:
    # 30 VA: a master held at 0.20 A and one zone's inrush of 0.35 A take 13.2 VA.
    assert load_va(Currents(inrush_a=0.35, master_a=0.20), 1) == pytest.approx(13.2)
    assert load_va(Currents(inrush_a=0.35, holding_a=0.2), 3) == pytest.approx(24 * 0.75)
    assert CLASS_2_VA == 100.0  # NEC 725; chapter 9, table 11(A).


@pytest.mark.parametrize(
    ("ft", "gauge", "one", "two"),
    [
        (150, "18", 31.9, 16.9),
        (300, "18", 33.8, 18.8),
        (500, "18", 36.4, 21.4),
        (500, "14", 32.5, 17.5),
    ],
)
def test_30_ohm_coils_read_as_worked_at_the_controller(
    ft: float, gauge: str, one: float, two: float
) -> None:
    loop = Run(ft, gauge, gauge).loop_ohm
    assert 30.0 + loop == pytest.approx(one, abs=0.05)
    # Two like coils side by side have half the resistance of one.
    assert 30.0 / 2 + loop == pytest.approx(two, abs=0.05)
    expected = expected_ohm(30.0, loop)
    assert judge(one, None, expected).meaning == "sound"
    assert judge(two, None, expected).meaning == "two coils"
    # Two coils read inside the usual band at 500 ft, and are flagged all the same.
    assert judge(two, one).meaning == "two coils"


def test_a_short_s_reading_gives_its_distance() -> None:
    assert to_short_ft(3.2, "18") == pytest.approx(251, abs=1)


@pytest.mark.parametrize(
    ("ohm", "day_1", "meaning", "basis"),
    [
        (31.0, None, "sound", "usual coils"),
        (5.0, None, "short", "usual coils"),
        (14.0, None, "low", "usual coils"),
        (75.0, None, "high", "usual coils"),
        (99999.0, None, "open", "usual coils"),
        (36.0, 33.8, "sound", "day 1"),
        (41.0, 33.8, "high", "day 1"),
        (18.8, 33.8, "two coils", "day 1"),
        (27.0, 33.8, "low", "day 1"),
        (3.0, 33.8, "short", "day 1"),
        (5000.0, 33.8, "open", "day 1"),
        (33.0, 5000.0, "sound", "usual coils"),
    ],
)
def test_a_reading_is_judged_by_that_of_day_1_first(
    ohm: float, day_1: float | None, meaning: str, basis: str
) -> None:
    found = judge(ohm, day_1)
    assert (found.meaning, found.basis) == (meaning, basis)
