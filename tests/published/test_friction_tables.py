"""Friction and velocity against published tables, other published spellings, and `fluids`."""

from __future__ import annotations

import math

import pytest
from fluids import friction_factor as reference_factor

from fieldbook.trade.pipes import PIPE_CLASSES
from fieldbook.units import PSI_PER_FT
from fieldbook.water import velocity_ft_s
from fieldbook.water.friction import (
    darcy_weisbach,
    flow_at_velocity_gpm,
    friction_factor,
    hazen_williams_psi,
)

SCH_40 = PIPE_CLASSES["pvc sch 40"].bores_in
SDR_26 = PIPE_CLASSES["pvc sdr 26"].bores_in

# 77 Ill. Adm. Code 906, App. A, Exhibit I: friction loss in Schedule 40 plastic pipe, C = 150,
# feet per 100 feet.
ILLINOIS = [
    *(("1", q, h) for q, h in ((4, 1.01), (5, 1.52), (6, 2.14), (8, 3.63), (10, 5.50))),
    *(("1-1/4", q, h) for q, h in ((8, 0.97), (10, 1.46), (15, 3.06), (20, 5.23))),
    *(("1-1/2", q, h) for q, h in ((10, 0.70), (15, 1.45), (20, 2.46), (30, 5.22))),
    *(("2", q, h) for q, h in ((20, 0.74), (30, 1.54), (40, 2.62), (50, 3.98))),
]
# University course table "Friction loss for PVC class 160 pipe" (institution and year not shown
# on the page): velocity ft/s and loss psi per 100 ft.
COURSE = [
    ("1", 5, 1.42, 0.35),
    ("1", 10, 2.85, 1.27),
    ("1", 16, 4.57, 3.04),
    ("1", 20, 5.71, 4.59),
    ("2", 20, 1.69, 0.242),
    ("2", 40, 3.39, 0.86),
    ("2", 55, 4.66, 1.56),
    ("2", 80, 6.78, 3.12),
    ("2", 100, 8.48, 4.72),
]
FLOWS = [(12, 1.049, 150), (8, 0.930, 150), (10, 0.785, 140), (50, 2.067, 150), (3, 0.716, 150)]


@pytest.mark.parametrize(("size", "gpm", "ft"), ILLINOIS)
def test_friction_agrees_with_the_table_of_the_illinois_code(
    size: str, gpm: float, ft: float
) -> None:
    loss_ft = hazen_williams_psi(gpm, SCH_40[size], 150, 100) / PSI_PER_FT
    assert loss_ft == pytest.approx(ft, rel=0.03)


@pytest.mark.parametrize(("size", "gpm", "ft_s", "psi"), COURSE)
def test_velocity_and_loss_agree_with_a_university_course_table(
    size: str, gpm: float, ft_s: float, psi: float
) -> None:
    assert hazen_williams_psi(gpm, SDR_26[size], 150, 100) == pytest.approx(psi, rel=0.026)
    assert velocity_ft_s(gpm, SDR_26[size]) == pytest.approx(ft_s, rel=0.008)


@pytest.mark.parametrize(("gpm", "bore_in", "c"), FLOWS)
def test_other_published_forms_of_hazen_williams_agree(
    gpm: float, bore_in: float, c: float
) -> None:
    ours = hazen_williams_psi(gpm, bore_in, c, 100)
    cfs, bore_ft = gpm * 231 / 1728 / 60, bore_in / 12
    epanet_ft = 4.727 * 100 * cfs**1.852 / (c**1.852 * bore_ft**4.871)  # EPANET 2, US units
    m3_s, bore_m = gpm * 3.785411784e-3 / 60, bore_in * 0.0254
    si_m = 10.67 * 100 * m3_s**1.852 / (c**1.852 * bore_m**4.8704)  # SI form, metres per 100 m
    plastics_ft = 0.2083 * (100 / c) ** 1.852 * gpm**1.852 / bore_in**4.8655  # plastics industry
    nfpa_psi = 100 * 4.52 * gpm**1.85 / (c**1.85 * bore_in**4.87)  # NFPA 13, psi per foot
    for head_ft in (epanet_ft, si_m, plastics_ft):
        assert head_ft * PSI_PER_FT == pytest.approx(ours, rel=0.015)
    assert nfpa_psi == pytest.approx(ours, rel=0.015)


@pytest.mark.parametrize(
    ("gpm", "bore_in", "psi"),
    [(4, 0.622, 6.19), (8, 0.824, 5.49), (12, 1.049, 3.55), (20, 1.380, 2.37), (50, 2.067, 1.75)],
)
def test_darcy_weisbach_agrees_in_schedule_40(gpm: float, bore_in: float, psi: float) -> None:
    # Reference: `fluids` friction_factor at 60 F, roughness 1.5 micrometres.
    assert darcy_weisbach(gpm, bore_in, 1.5e-6 / 0.3048, 100)[0] == pytest.approx(psi, rel=0.01)


@pytest.mark.parametrize("reynolds", [500.0, 1500.0, 5000.0, 32270.0, 2e5])
@pytest.mark.parametrize("roughness", [0.0, 5e-5, 6e-3])
def test_the_friction_factor_agrees_with_fluids(reynolds: float, roughness: float) -> None:
    reference = reference_factor(Re=reynolds, eD=roughness, Method="Colebrook")
    if reynolds < 2040:
        reference = reference_factor(Re=reynolds, eD=roughness)
    assert friction_factor(reynolds, roughness)[0] == pytest.approx(reference, rel=1e-3)


def test_hazen_williams_under_predicts_in_small_pipe() -> None:
    for gpm, bore_in in ((4, 0.622), (8, 0.824), (12, 1.049)):
        smooth = darcy_weisbach(gpm, bore_in, 5e-6, 100)[0]
        assert smooth > hazen_williams_psi(gpm, bore_in, 150, 100) * 1.05


def test_velocity_gives_the_flow_at_five_feet_a_second() -> None:
    assert velocity_ft_s(8, SCH_40["3/4"]) == pytest.approx(4.81, rel=0.005)
    assert velocity_ft_s(9, SCH_40["3/4"]) == pytest.approx(5.41, rel=0.005)
    assert flow_at_velocity_gpm(5, SCH_40["1"]) == pytest.approx(13.47, rel=0.005)


def test_velocity_is_the_flow_over_the_area_of_the_bore() -> None:
    ft3_s, area_ft2 = 12 * 231 / 1728 / 60, math.pi / 4 * (1.049 / 12) ** 2
    assert velocity_ft_s(12, 1.049) == pytest.approx(ft3_s / area_ft2, rel=1e-5)


def test_twenty_feet_of_water_weigh_as_the_code_says() -> None:
    # International Plumbing Code, Appendix E, E103.2.2: 0.433 psi a foot.
    assert pytest.approx(8.66, abs=0.005) == 20 * PSI_PER_FT
