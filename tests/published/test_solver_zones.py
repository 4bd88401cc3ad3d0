"""The solver against worked zones, the multiple-outlet factor, water hammer and viscosity.

Zones: Hazen-Williams 452 q^1.852 / (C^1.852 d^4.8704) psi per 100 ft, inside diameters of ASTM
D1785, D2241 and B88, the meter's square law on 15 psi at 30 gpm, fittings 10 % of pipe, 0.433
psi/ft (International Plumbing Code, E103.2.2).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from fluids import friction_factor as reference_factor
from laying import Laying, worked, worst

from fieldbook.water import Pipe, Supply, ledger, solve, solve_case, surge_psi
from fieldbook.water.friction import (
    FLOW_EXPONENT,
    darcy_weisbach,
    hazen_williams_psi,
    viscosity_ft2_s,
    wave_ft_s,
)

BORE_IN = 0.930


@pytest.mark.parametrize(
    ("heads", "service_in", "last_psi"),
    [(6, 1.025, 41.65), (9, 1.025, 31.01), (6, 0.785, 34.19)],
    ids=["zone A", "zone B", "zone C"],
)
def test_the_last_head_of_a_worked_zone_gets_its_pressure(
    heads: int, service_in: float, last_psi: float
) -> None:
    found = solve(worked(heads, service_in).network())
    assert found.converged
    assert worst(found).name == f"head run {heads}"
    assert worst(found).psi == pytest.approx(last_psi, abs=0.01)
    assert found.supply_gpm == pytest.approx(2.0 * heads)


def test_the_worked_zones_run_at_their_velocities() -> None:
    # Worked: B's main 6.68 and service 7.0 ft/s; C's 3/4 in service 7.95 ft/s.
    b, c = solve(worked(9).network()).links, solve(worked(6, 0.785).network()).links
    assert b["main"].ft_s == pytest.approx(6.68, abs=0.02)
    assert b["service"].ft_s == pytest.approx(7.0, abs=0.02)
    assert c["service"].ft_s == pytest.approx(7.95, abs=0.02)


def test_the_ledger_of_zone_a_is_as_worked() -> None:
    # Worked: meter 2.40, service 2.54, main 2.66, lateral 0.571, fittings 0.577, height 2.60,
    # assembly and valve 7; in all 18.35 psi.
    network = worked().network()
    told = ledger(network, solve(network), "head run 6")
    taken = {item.name: item.psi for item in told.items}
    assert taken["meter"] == pytest.approx(2.40, abs=0.01)
    assert taken["service"] == pytest.approx(2.54 * 1.1, abs=0.01)
    assert taken["main"] == pytest.approx(2.66 * 1.1, abs=0.01)
    lateral = sum(psi for name, psi in taken.items() if name.startswith("run"))
    assert lateral == pytest.approx(0.571 * 1.1, abs=0.01)
    assert taken["assembly"] + taken["valve"] == pytest.approx(7.0)
    assert taken["height"] == pytest.approx(2.60, abs=0.01)
    assert sum(taken.values()) == pytest.approx(18.35, abs=0.01)
    assert told.static_psi - sum(taken.values()) == pytest.approx(told.left_psi, abs=1e-9)


def test_zone_a_is_solved_from_its_document() -> None:
    document = json.loads(Path(__file__).with_name("worked_zone.json").read_text("utf-8"))
    found = solve_case(document)
    assert found["converged"]
    assert found["heads"][-1]["pressure_psi"] == pytest.approx(41.65, abs=0.01)
    assert [head["state"] for head in found["heads"]] == ["regulated"] * 6


def outlet_factor(outlets: int, exponent: float, *, half_first: bool = False) -> float:
    """Christiansen's factor as an exact sum; half a spacing to the first: Jensen and Fratini."""
    total = sum(k**exponent for k in range(1, outlets + 1))
    factor = total / outlets ** (exponent + 1)
    return float((2 * outlets * factor - 1) / (2 * outlets - 1) if half_first else factor)


@pytest.mark.parametrize(("outlets", "factor"), [(2, 0.512), (3, 0.434), (4, 0.405)])
def test_the_outlet_factors_are_those_of_the_published_table(outlets: int, factor: float) -> None:
    # A public code table of pressure-loss correction factors, exponent 1.9.
    assert outlet_factor(outlets, 1.9, half_first=True) == pytest.approx(factor, abs=0.002)


@pytest.mark.parametrize("outlets", [1, 2, 5, 10, 20])
@pytest.mark.parametrize("half_first", [False, True])
def test_a_level_lateral_loses_by_the_outlet_factor(outlets: int, *, half_first: bool) -> None:
    laid = Laying(100.0)
    for no in range(outlets):
        first = half_first and no == 0
        laid.go(f"run {no}", Pipe(7.5 if first else 15.0, BORE_IN)).head(2.0, 30.0, 30.0)
    length_ft = 15.0 * outlets - (7.5 if half_first else 0.0)
    full = hazen_williams_psi(2.0 * outlets, BORE_IN, 150, length_ft)
    found = solve(laid.network())
    lost = 100.0 - worst(found).psi
    factor = outlet_factor(outlets, FLOW_EXPONENT, half_first=half_first)
    assert lost == pytest.approx(full * factor, rel=1e-9)


def test_five_heads_in_a_row_lose_as_worked() -> None:
    # Worked: 5 heads of 2 gpm at 15 ft in 0.930 in lose 1.463 psi; half a spacing first, 1.143.
    for first_ft, psi in ((15.0, 1.463), (7.5, 1.143)):
        laid = Laying(60.0)
        for no in range(5):
            laid.go(f"run {no}", Pipe(15.0 if no else first_ft, BORE_IN)).head(2.0, 30.0, 30.0)
        assert 60.0 - worst(solve(laid.network())).psi == pytest.approx(psi, rel=0.005)


@pytest.mark.parametrize(("psi", "gpm"), [(45, 2.266), (20, 1.511), (60, 2.616), (30, 1.85)])
def test_a_nozzle_draws_by_the_square_root_of_its_pressure(psi: float, gpm: float) -> None:
    # Worked: 1.85 gpm at 30 psi goes with the square root of the pressure.
    found = solve(Laying(psi).go("riser", Pipe(0.0, 1.0)).head(1.85).network())
    assert found.supply_gpm == pytest.approx(gpm, rel=1e-3)


def test_water_hammer_in_sdr_21_is_joukowsky_s() -> None:
    # Joukowsky, SDR 21 PVC (modulus 400,000 psi, from memory), 5 ft/s stopped: 80 psi.
    assert surge_psi(5.0, 21.0) == pytest.approx(80.0, rel=0.03)
    assert surge_psi(2.5, 21.0) == pytest.approx(surge_psi(5.0, 21.0) / 2)
    assert wave_ft_s(13.5) > wave_ft_s(21.0) > wave_ft_s(26.0)


@pytest.mark.parametrize(("deg_f", "psi"), [(40.0, 3.83), (60.0, 3.55), (80.0, 3.34)])
def test_cold_water_loses_more(deg_f: float, psi: float) -> None:
    # Reference: `fluids`, 12 gpm in 1.049 in, roughness 1.5 micrometres, psi per 100 ft.
    ours = darcy_weisbach(12, 1.049, 1.5e-6 / 0.3048, 100, viscosity_ft2_s(deg_f))[0]
    assert ours == pytest.approx(psi, rel=0.01)
    laid = Laying(100.0).go("pipe", Pipe(100.0, 1.049, roughness_ft=1.5e-6 / 0.3048))
    found = solve(laid.head(12.0, 30.0, 30.0).network("darcy-weisbach", deg_f))
    assert found.links["pipe"].loss_psi == pytest.approx(psi, rel=0.01)


@pytest.mark.parametrize("gpm", [0.5, 3.0, 8.0, 12.0, 30.0])
def test_a_pipe_loses_by_darcy_weisbach_with_the_factor_of_fluids(gpm: float) -> None:
    bore_ft, rough_ft = 0.824 / 12, 5e-6
    ft_s = gpm * 231 / 1728 / 60 / (3.141592653589793 / 4 * bore_ft**2)
    reynolds = ft_s * bore_ft / viscosity_ft2_s(60.0)
    if 2000 < reynolds < 4000:
        pytest.skip("Between laminar and turbulent every correlation differs.")
    factor = reference_factor(Re=reynolds, eD=rough_ft / bore_ft)
    reference = 0.433 * factor * 50 / bore_ft * ft_s**2 / (2 * 32.174)
    laid = Laying(100.0).go("pipe", Pipe(50.0, 0.824, roughness_ft=rough_ft))
    found = solve(laid.head(gpm, 20.0, 20.0).network("darcy-weisbach"))
    assert found.links["pipe"].loss_psi == pytest.approx(reference, rel=2e-3)


def test_water_at_60_f_has_the_published_viscosity() -> None:
    # 60 F: 1.12 mPa s and 999.0 kg/m3, so 1.121e-6 m2/s (the worked points' constants).
    assert viscosity_ft2_s(60.0) * 0.3048**2 == pytest.approx(1.12e-3 / 999.0, rel=0.01)


def test_the_street_gives_the_pressure_of_the_flow_test_s_curve() -> None:
    # NFPA 291, chapter 4: static 60, 48 at 10 gpm; 13.18 gpm leaves 40 psi.
    laid = Laying(60.0, 48.0, 10.0).go("riser", Pipe(0.0, 1.0)).head(13.18, 40.0)
    found = solve(laid.network())
    assert laid.supply == Supply(60.0, 48.0, 10.0)
    assert worst(found).psi == pytest.approx(40.0, abs=0.05)
