"""Licences and permits that run out, and ties against worked figures."""

from __future__ import annotations

from datetime import date

import pytest
from builders import JOB, codes, own_values, put, row, sound_job
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.checks.ground.positions import Taped, TieError, by_three, by_two
from fieldbook.checks.registry import check
from fieldbook.records.tables.permits import CrewMember

TODAY = date(2026, 5, 1)


def test_licences_and_permits_run_out() -> None:
    member = row(CrewMember, "m", name="T. Gauge", role="backflow tester", expires_on="2026-05-04")
    job = put(sound_job(1), "crew_member", "m", **own_values(member))
    for day, code in (
        (date(2026, 4, 1), None),
        (TODAY, "runs out soon"),
        (date(2026, 6, 1), "ran out"),
    ):
        found = [f.code for f in check(job, day) if "out" in f.code]
        assert found == ([code] if code else [])


# Two tapes from A (0, 0) and B (D, 0): D, dA and dB; x and y; the angle; the error in ft where each
# tape is 0.1 ft off (worked by plane geometry).
TIES = [
    ((40, 31.5, 24.0), (25.203, 18.896), 91, 0.14),
    ((30, 18, 24), (10.8, 14.4), 90, 0.14),
    ((30, 50, 40), (30, 40), 37, 0.24),
    ((24, 7.5, 19.5), (5.25, 5.356), 119, 0.16),
    ((40, 20.2, 20.4), (19.899, 3.477), 160, 0.42),
    ((30, 18.5, 24.25), (10.903, 14.946), 88, 0.14),
]


@pytest.mark.parametrize(("measured", "point", "angle", "error"), TIES)
def test_two_tapes_give_a_point_and_its_error(
    measured: tuple[float, float, float], point: tuple[float, float], angle: float, error: float
) -> None:
    (apart, one, other), (x, y) = measured, point
    a, b = Taped(0, 0, one), Taped(apart, 0, other)
    left, right = by_two(a, b, left=True), by_two(a, b, left=False)
    assert (left.east_ft, left.north_ft) == pytest.approx((x, y), abs=0.001)
    assert (right.east_ft, right.north_ft) == pytest.approx((x, -y), abs=0.001)
    assert left.angle_deg == pytest.approx(angle, abs=0.6)
    assert left.error_ft == pytest.approx(error, abs=0.006)


def test_a_tape_three_inches_off_moves_the_point() -> None:
    # 3 in more in the first tape of the first row: 25.40, 19.05.
    found = by_two(Taped(0, 0, 31.75), Taped(40, 0, 24.0), left=True)
    assert (found.east_ft, found.north_ft) == pytest.approx((25.40, 19.05), abs=0.01)


@pytest.mark.parametrize(("one", "other"), [(10, 12), (60, 5)])
def test_tapes_that_do_not_meet(one: float, other: float) -> None:
    with pytest.raises(TieError, match=r"40\.0 ft apart"):
        by_two(Taped(0, 0, one), Taped(40, 0, other), left=True)
    with pytest.raises(TieError, match="same point"):
        by_two(Taped(1, 1, one), Taped(1, 1, other), left=True)


@given(
    st.floats(-60, 60),
    st.floats(5, 60),
    st.floats(-20, 80),
    st.floats(-40, -5),
)
def test_three_tapes_find_a_point_on_either_side(
    east: float, north: float, third_east: float, third_north: float
) -> None:
    corners = [(0.0, 0.0), (40.0, 0.0), (third_east, third_north)]
    tapes = [Taped(x, y, ((east - x) ** 2 + (north - y) ** 2) ** 0.5) for x, y in corners]
    found = by_three(tapes)
    assert (found.east_ft, found.north_ft) == pytest.approx((east, north), abs=1e-4)
    assert found.misfit_ft < 1e-4


def test_ties_of_a_job_are_flagged() -> None:
    job = sound_job(1)
    for row_id, name, east in (("a", "corner", 0.0), ("b", "porch", 40.0)):
        job = put(job, "fixed_point", row_id, name=name, east_ft=east, north_ft=0.0)

    def tied(**tapes: object) -> list[str]:
        values = {"thing": "valve box", "name": "A", "point_1_id": "a", "point_2_id": "b", **tapes}
        return [code for code in codes(put(job, "tie", "t", **values)) if "t" in code]

    assert tied(tape_1_ft=31.5, tape_2_ft=24.0, side="left") == []
    assert tied(tape_1_ft=31.5, tape_2_ft=24.0) == ["tie has two sides"]
    assert tied(tape_1_ft=3.0, tape_2_ft=24.0, side="left") == ["tie can't be"]
    assert tied(tape_1_ft=20.2, tape_2_ft=20.4, side="left") == ["bad tie angle"]
    job = put(job, "fixed_point", "c", name="gate", east_ft=0.0, north_ft=40.0)
    three = {"tape_1_ft": 31.5, "tape_2_ft": 24.0, "point_3_id": "c"}
    assert tied(**three, tape_3_ft=32.9) == []
    assert tied(**three, tape_3_ft=36.0) == ["tapes do not agree"]
    assert job.job.id == JOB
