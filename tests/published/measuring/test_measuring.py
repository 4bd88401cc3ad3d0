"""Flow by a meter's dial and pressure by a gauge, with their errors, against worked figures."""

from __future__ import annotations

import pytest

from fieldbook.audit import gallons, gauge_error_psi, psi_at_head, timed_gpm


def test_one_turn_of_a_sweep_hand() -> None:
    # One turn is 1 ft3, 7.48 gal, as three utilities write; 37.4 s are 12.0 gpm within 3.3 %.
    found = timed_gpm(7.48, 37.4, 0.1, 1.0, 0.015)
    assert found.value == pytest.approx(12.0, abs=1e-9)
    assert found.error / found.value == pytest.approx(0.033, abs=5e-4)
    assert gallons(1.0, "cubic feet") == pytest.approx(7.48, abs=1e-3)


def test_metric_dials() -> None:
    # NIST Special Publication 811: a gallon is 3.785412 L.
    assert gallons(3.785412, "litres") == pytest.approx(1.0, abs=1e-6)
    assert gallons(1.0, "cubic metres") == pytest.approx(264.1720, abs=1e-4)


def test_a_hundred_gallons_on_a_dial_in_gallons() -> None:
    found = timed_gpm(gallons(100.0, "gallons"), 480.0, 1.0, 2.0, 0.015)
    assert found.value == pytest.approx(12.5)
    assert found.error / found.value == pytest.approx(0.019, abs=5e-4)


@pytest.mark.parametrize(
    ("psi", "span", "grade", "error"),
    [
        # ASME B40.100 as remembered: grade B is 3-2-3 % of span, A 2-1-2, 2A 0.5 throughout.
        (50.0, 100.0, "B", 2.0),
        (10.0, 100.0, "B", 3.0),
        (80.0, 160.0, "B", 3.2),
        (30.0, 160.0, "B", 4.8),
        (50.0, 100.0, "A", 1.0),
        (95.0, 100.0, "2A", 0.5),
        (50.0, None, None, 2.0),
    ],
)
def test_a_gauge_by_grade_and_span(
    psi: float, span: float | None, grade: str | None, error: float
) -> None:
    assert gauge_error_psi(psi, span, grade) == pytest.approx(error)


def test_a_gauge_beside_its_head() -> None:
    # IPC appendix E, E103.2.2: 20 ft of height is 8.66 psi.
    assert psi_at_head(40.0, 20.0) == pytest.approx(48.66)
    assert psi_at_head(40.0, -20.0) == pytest.approx(31.34)


def test_what_can_t_be_measured_is_refused() -> None:
    with pytest.raises(ValueError, match="must have moved"):
        timed_gpm(0.0, 30.0, 0.1)
    with pytest.raises(ValueError, match="beyond the gauge's span"):
        gauge_error_psi(120.0, 100.0, "B")
    with pytest.raises(ValueError, match="one of 4A"):
        gauge_error_psi(50.0, 100.0, "E")
    with pytest.raises(ValueError, match="one of gallons, cubic feet"):
        gallons(1.0, "quarts")
