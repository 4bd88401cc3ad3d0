"""Backflow tests, cement, pressure tests and ties against published and worked figures."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from builders import JOB, codes, only, pressure_tested, put, row, sound_job
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.checks.ground.positions import Taped, TieError, by_three, by_two
from fieldbook.checks.ground.pressure_test import cured_at
from fieldbook.checks.registry import check
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.records.base import natural_id
from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import CrewMember, LocateTicket
from fieldbook.trade.solvent_cement import cure_min

TODAY = date(2026, 5, 1)
FAILED = "backflow test failed"


def with_test(kind: str, **readings: object) -> LoadedJob:
    """The sound job with an assembly of a kind and its test."""
    job = put(sound_job(1), "backflow_assembly", "backflow-1", kind=kind, above_grade_in=14.0)
    values: dict[str, object] = {"tested_on": "2026-04-20", "tester": "T", "certified": True}
    return put(job, "backflow_test", "bt", **{**values, **readings})


@pytest.mark.parametrize(
    ("kind", "readings", "expected"),
    [
        # Iowa City, Test Data and Maintenance Report, 9/02: RP 5.0, 2.0, 1.0, buffer 3.0.
        ("RP", {"check_1_psi": 6.4, "relief_psi": 2.2, "check_2_psi": 1.3}, []),
        (
            "RP",
            {"check_1_psi": 6.4, "relief_psi": 1.9, "check_2_psi": 1.3},
            [FAILED],
        ),
        ("RP", {"check_1_psi": 5.0, "relief_psi": 2.1, "check_2_psi": 1.0}, ["small rp buffer"]),
        # DC 1.0 each; PVB and SVB inlet and check 1.0.
        ("DC", {"check_1_psi": 1.0, "check_2_psi": 1.0}, []),
        ("DC", {"check_1_psi": 0.9, "check_2_psi": 1.0}, [FAILED]),
        ("PVB", {"inlet_psi": 1.0, "check_1_psi": 1.0}, []),
        ("PVB", {"inlet_psi": 0.9, "check_1_psi": 1.0}, [FAILED]),
        ("SVB", {"inlet_psi": 1.0, "check_1_psi": 0.9}, [FAILED]),
    ],
)
def test_a_field_test_passes_at_the_published_values(
    kind: str, readings: dict[str, object], expected: list[str]
) -> None:
    found = [
        code for code in codes(with_test(kind, **readings)) if "test" in code or "buffer" in code
    ]
    assert found == expected


@pytest.mark.parametrize(
    ("kind", "hazard", "allowed"),
    [
        # Uniform Plumbing Code 2018, 603.5.6; 30 Tex. Admin. Code 344.51.
        ("PVB", "chemicals", False),
        ("DC", "septic", False),
        ("RP", "chemicals", True),
        ("AVB", "pump", False),
        ("RP", "second_source", True),
        ("PVB", None, True),
    ],
)
def test_a_hazard_allows_the_assemblies_of_the_code(
    kind: str, hazard: str | None, *, allowed: bool
) -> None:
    job = put(sound_job(1), "backflow_assembly", "backflow-1", kind=kind, above_grade_in=14.0)
    assert job.supply is not None
    if hazard is not None:
        job = put(job, "supply", job.supply.id, **{hazard: True})
    assert ("backflow not allowed" in codes(job)) != allowed


def test_assemblies_that_are_installed_wrong_are_flagged() -> None:
    # 30 Tex. Admin. Code 344.50 before 2020: no valve after it, at most 12 h pressure in 24.
    job = put(sound_job(1), "backflow_assembly", "backflow-1", kind="AVB")
    assert "valve after the breaker" in codes(
        put(job, "backflow_assembly", "backflow-1", valve_after=True)
    )
    assert "too long under pressure" in codes(put(job, "zone", "zone-1", pressure_h=13.0))
    assert "too long under pressure" not in codes(put(job, "zone", "zone-1", pressure_h=12.0))
    # ASSE 1001, 1020, 1056: back-siphonage only.
    back = put(job, "backflow_assembly", "backflow-1", back_pressure=True)
    assert "back-pressure" in codes(back)
    drain = put(sound_job(1), "backflow_assembly", "backflow-1", kind="RP", drain=False)
    assert "relief does not drain" in codes(drain)


def test_heads_are_measured_retracted_or_raised_as_the_local_rule_says() -> None:
    # 30 Tex. Admin. Code 344.50: at the top of the retracted sprinkler; other rules raise it.
    job = put(sound_job(1), "backflow_assembly", "backflow-1", critical_level_ft=1.2)
    for number in (1, 2, 3):
        job = put(job, "head", head_id(f"run-1-{number}"), pop_up_in=4.0)
    assert "backflow too low" not in codes(job)
    key = "heads_measured"
    raised = put(job, "rule", natural_id(JOB, "rule", key), key=key, value='"raised"', source="X 1")
    # 14.4 in less 4 in of pop-up leaves 10.4 of the 12 in asked.
    low = only(raised, "backflow too low")
    assert low.numbers[0].value == pytest.approx(10.4)


@pytest.mark.parametrize(
    ("on", "due"), [("2026-04-20", "2027-04-20"), ("2024-02-29", "2025-02-28")]
)
def test_the_next_test_is_a_year_on(on: str, due: str) -> None:
    # International Plumbing Code 312.10.2 as amended in Louisiana: at least annually.
    job = with_test("PVB", tested_on=on)
    found = retest_on(job, job.backflow_assemblies[0])
    assert found is not None
    assert found.isoformat() == due


def test_a_backflow_test_that_is_due_is_flagged() -> None:
    job = with_test("PVB", inlet_psi=1.5, check_1_psi=1.5, tested_on="2025-05-20")

    def due(day: date) -> list[str]:
        return [f.severity for f in check(job, day) if f.code == "backflow test due"]

    assert due(date(2026, 4, 1)) == []
    assert due(date(2026, 5, 1)) == ["note"]
    assert due(date(2026, 5, 21)) == ["fix"]


@pytest.mark.parametrize(
    ("size", "deg_f", "humidity", "minutes"),
    [
        # Longest of two tables of industry guidance (no standard); damp half as long again.
        ("1", 50, 70, 180),
        ("1", 70, 40, 60),
        ("1", 30, 40, 480),
        ("2", 70, 40, 120),
        ("2", 50, 40, 240),
        ("1-1/2", 30, 80, 1440),
        (None, None, None, 1440),
    ],
)
def test_cement_cures_in_the_hours_of_the_tables(
    size: str | None, deg_f: float | None, humidity: float | None, minutes: float
) -> None:
    assert cure_min(size, deg_f, humidity) == minutes


def test_a_test_before_the_cement_has_cured_is_a_stop() -> None:
    early = pressure_tested(
        None, label_min=None, air_deg_f=50, humidity_pct=70, cemented_at="2026-04-29T07:00"
    )
    job = put(sound_job(1), "pressure_test", early.id, **early.model_dump(exclude={"id", "job_id"}))
    test = job.pressure_tests[-1]
    # 1 in pipe, 50 F, 70 %: 2 h and half as long again from 7:00.
    assert cured_at(job, test) == datetime(2026, 4, 29, 10, 0)
    flag = only(job, "tested before cured")
    assert (flag.severity, "cures until 10:00" in flag.sentence) == ("stop", True)
    labelled = put(job, "pressure_test", early.id, label_min=30.0)
    assert "tested before cured" not in codes(labelled)


def test_a_pressure_test_that_drops_or_is_short_or_used_air_is_flagged() -> None:
    row_id = pressure_tested(None).id
    job = sound_job(1)
    # Laredo, Texas, 25-87: within 2 psi; American Fork, Utah, 15.01.840 D: at least an hour.
    assert (
        only(put(job, "pressure_test", row_id, end_psi=59.9), "pressure dropped").severity == "stop"
    )
    assert codes(put(job, "pressure_test", row_id, end_psi=60.0)) == []
    short = put(job, "pressure_test", row_id, ended_at="2026-04-29T08:59")
    assert only(short, "test too short").severity == "fix"
    # PPFA User Bulletin 4-80: never compressed air.
    assert (
        only(put(job, "pressure_test", row_id, water_only=False), "tested with air").severity
        == "stop"
    )


def test_digging_only_while_the_marks_hold() -> None:
    def dug(**days: str) -> list[str]:
        ticket = row(LocateTicket, "t", number="1", clear_on="2026-04-20", **days)
        job = put(sound_job(1), "locate_ticket", "t", **ticket.model_dump(exclude={"id", "job_id"}))
        return [flag.code for flag in check(job, TODAY) if flag.code.startswith("dug")]

    # 29 CFR 1926.651(b): locate before opening.
    assert dug(dug_from="2026-04-19") == ["dug before clear"]
    assert dug(dug_from="2026-04-20", dug_until="2026-05-02", expires_on="2026-05-01") == [
        "dug after marks lapsed"
    ]
    assert dug(dug_from="2026-04-20", dug_until="2026-05-01", expires_on="2026-05-01") == []
    # Without an expiry the local rule's days count from the call, and again from a renewal.
    assert dug(called_on="2026-04-16", dug_from="2026-04-20", dug_until="2026-05-01") == [
        "dug after marks lapsed"
    ]
    assert dug(called_on="2026-04-16", renewed_on="2026-04-28", dug_from="2026-05-01") == []


def test_licences_and_permits_run_out() -> None:
    member = row(CrewMember, "m", name="T. Gauge", role="backflow tester", expires_on="2026-05-04")
    job = put(sound_job(1), "crew_member", "m", **member.model_dump(exclude={"id", "job_id"}))
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
