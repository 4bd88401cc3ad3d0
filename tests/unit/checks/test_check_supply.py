"""Flags on static pressure and flow tests."""

from __future__ import annotations

import pytest
from builders import JOB, bare_job, codes, mend, only, row

from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.supply import FlowTestPoint, Supply


def supply_job(static_psi: float | None, *residuals: float | None, units: str = "us") -> LoadedJob:
    """A bare property with a static pressure and flow test readings at 10 gpm."""
    return bare_job(
        units=units,
        supply=row(Supply, once_id(JOB, "supply"), static_psi=static_psi),
        flow_test_points=tuple(
            row(FlowTestPoint, f"point-{at}", residual_psi=residual, flow_gpm=10.0)
            for at, residual in enumerate(residuals, start=1)
        ),
    )


def test_static_over_80_psi_is_a_fix() -> None:
    job = supply_job(80.1)
    high = only(job, "static too high")
    assert (high.severity, high.place) == ("fix", "street")
    assert "80.1 psi" in high.sentence
    assert codes(mend(job, high, 80.0)) == []


def test_the_flags_of_a_metric_job_are_in_metric_units() -> None:
    sentence = only(supply_job(87.0, units="metric"), "static too high").sentence
    assert "6 bar" in sentence
    assert "psi" not in sentence


@pytest.mark.parametrize(("residual", "expected"), [(54.0, []), (54.1, ["small drop"])])
def test_a_drop_under_a_tenth_of_static_is_a_note(residual: float, expected: list[str]) -> None:
    """NFPA 291, 4.4.6."""
    assert codes(supply_job(60.0, residual)) == expected


def test_the_flag_on_a_flow_test_names_its_reading() -> None:
    job = supply_job(60.0, 45.0, 55.0)
    note = only(job, "small drop")
    assert note.severity == "note"
    assert "reading 2" in note.sentence
    assert note.at.row_id == "point-2"
    assert codes(mend(job, note, 48.0)) == []


@pytest.mark.parametrize("residual", [60.0, 61.0])
def test_a_residual_that_is_not_below_static_is_a_fix(residual: float) -> None:
    job = supply_job(60.0, residual)
    wrong = only(job, "residual not below static")
    assert wrong.severity == "fix"
    assert codes(mend(job, wrong, 50.0)) == []


def test_half_entered_readings_have_no_flags() -> None:
    assert codes(supply_job(None, 55.0)) == []
    assert codes(supply_job(60.0, None)) == []
