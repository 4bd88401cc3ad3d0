"""Laterals: the outlet factor and the sum of segments it stands for."""

from __future__ import annotations

import pytest

from fieldbook.water.budget import Stretch, outlet_factor, pressure_budget, stretch_loss_psi
from fieldbook.water.friction import hazen_williams_psi

BORE_IN = 0.930


@pytest.mark.parametrize(("outlets", "factor"), [(1, 1), (5, 0.4568), (10, 0.4022), (20, 0.3760)])
def test_exact_factor(outlets: int, factor: float) -> None:
    # Christiansen's multiple-outlet factor, exact sum (formula from memory, not confirmed).
    assert outlet_factor(outlets) == pytest.approx(factor, abs=5e-4)


@pytest.mark.parametrize(("outlets", "factor"), [(1, 1.0), (2, 0.512), (3, 0.434), (4, 0.405)])
def test_half_spacing_factor(outlets: int, factor: float) -> None:
    # A public code table of pressure-loss correction factors (first outlet half a spacing in).
    assert outlet_factor(outlets, 1.9, half_first=True) == pytest.approx(factor, abs=0.002)


def test_five_heads_in_a_row() -> None:
    runs = [Stretch(15, BORE_IN, 150, 2.0 * beyond) for beyond in (5, 4, 3, 2, 1)]
    each = [stretch_loss_psi(one) for one in runs]
    assert each == pytest.approx([0.641, 0.424, 0.249, 0.117, 0.033], abs=0.001)
    full = hazen_williams_psi(10, BORE_IN, 150, 75)
    assert sum(each) == pytest.approx(1.463, rel=0.005)
    assert sum(each) == pytest.approx(full * outlet_factor(5), rel=1e-9)
    shorter = [Stretch(7.5, BORE_IN, 150, 10.0), *runs[1:]]
    assert sum(stretch_loss_psi(one) for one in shorter) == pytest.approx(1.143, rel=0.005)


def test_the_budget_adds_up() -> None:
    pipes = [Stretch(80, 1.049, 150, 12), Stretch(12, 1.189, 150, 12)]
    left = pressure_budget(60, 7, pipes, 6)
    taken = left.pipe_psi + left.fittings_psi + left.device_psi + left.elevation_psi
    assert left.head_psi == pytest.approx(60 - taken)
    # 10 % for fittings: common practice, no source. 0.433 psi/ft: IPC App. E, E103.2.2.
    assert left.fittings_psi == pytest.approx(0.1 * left.pipe_psi)
    assert left.elevation_psi == pytest.approx(2.598)
