"""Field tests and inspections of backflow assemblies, from both sides and when not entered.

Pass values: Iowa City, Test Data and Maintenance Report, 9/02 (RP 5.0, 2.0 and 1.0 psid, PVB and
SVB 1.0 and 1.0); New England test procedures, 2010 (DC 1.0 and 1.0); a cross-connection control
manual, 10th edition, second-hand (RP: check 1 above the relief opening).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from builders import (
    TODAY,
    assembly,
    codes,
    field_test,
    only,
    open_words,
    put,
    ruled,
    sound_job,
    sound_up_to,
    words_of,
)

from fieldbook.checks.registry import check
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.checks.street.backflow_tests import test_lacks as lacks_of
from fieldbook.checks.street.backflow_tests import test_passes as passes_on
from fieldbook.records.loaded_job import LoadedJob

FAILED, TESTS = "backflow test failed", "backflow tests"
LIST = ["AVB", "PVB", "SVB", "DC", "RP"]


def job_of(kind: str, **readings: object) -> LoadedJob:
    """The sound job with an assembly of a kind, allowed here, and its test."""
    tests = (field_test(kind, **readings),) if kind != "AVB" else ()
    job = replace(sound_job(1), backflow_assemblies=(assembly(kind),), backflow_tests=tests)
    return ruled(job, "allowed.no_hazard", LIST)


def on_assembly(job: LoadedJob, **values: object) -> LoadedJob:
    """The job with values of its assembly changed."""
    return put(job, "backflow_assembly", "backflow-1", **values)


def passes(job: LoadedJob, on: date = TODAY) -> bool:
    """Whether the job's assembly counts as tested on a day."""
    return passes_on(job, job.backflow_assemblies[0], on)


def lacks(job: LoadedJob, on: date = TODAY) -> list[str]:
    """What keeps the job's assembly from counting as tested."""
    return [one.words for one in lacks_of(job, job.backflow_assemblies[0], on)]


@pytest.mark.parametrize(
    ("kind", "readings", "fails"),
    [
        ("RP", {"check_1_psi": 6.0, "relief_psi": 3.5, "check_2_psi": 1.2}, False),
        ("RP", {"check_1_psi": 5.0, "relief_psi": 2.0, "check_2_psi": 1.0}, False),
        ("RP", {"check_1_psi": 4.8, "relief_psi": 2.2, "check_2_psi": 1.2}, True),
        ("RP", {"check_1_psi": 6.4, "relief_psi": 1.9, "check_2_psi": 1.3}, True),
        ("RP", {"check_1_psi": 6.4, "relief_psi": 2.2, "check_2_psi": 0.9}, True),
        # Check 1 above the relief opening: 5.2 against 5.4 fails, 5.5 passes.
        ("RP", {"check_1_psi": 5.2, "relief_psi": 5.4}, True),
        ("RP", {"check_1_psi": 5.5, "relief_psi": 5.4}, False),
        ("RP", {"check_2_tight": False}, True),
        ("DC", {"check_1_psi": 1.0, "check_2_psi": 1.0}, False),
        ("DC", {"check_1_psi": 1.0, "check_2_psi": 0.9}, True),
        ("DC", {"check_1_psi": 0.9, "check_2_psi": 1.0}, True),
        ("DC", {"check_1_tight": False}, True),
        ("DC", {"check_2_tight": False}, True),
        ("PVB", {"inlet_psi": 1.0, "check_1_psi": 1.0}, False),
        ("PVB", {"inlet_psi": 0.9, "check_1_psi": 1.0}, True),
        ("PVB", {"inlet_psi": 1.0, "check_1_psi": 0.9}, True),
        ("SVB", {"inlet_psi": 1.2, "check_1_psi": 1.1}, False),
        # An SVB whose inlet opened at 1.2 psid, but not fully.
        ("SVB", {"inlet_psi": 1.2, "check_1_psi": 1.1, "opened_fully": False}, True),
    ],
)
def test_a_field_test_passes_at_the_published_values(
    kind: str, readings: dict[str, object], *, fails: bool
) -> None:
    job = job_of(kind, **readings)
    assert (FAILED in codes(job)) == fails
    assert passes(job) != fails
    if fails:
        assert only(job, FAILED).severity == "stop"
    else:
        assert codes(job) == []
        assert words_of(job, TESTS) == {"sound"}


@pytest.mark.parametrize(
    ("kind", "column"),
    [
        *(("RP", name) for name in ("check_1_psi", "relief_psi")),
        *(("DC", name) for name in ("check_1_psi", "check_2_psi", "check_1_tight")),
        ("DC", "check_2_tight"),
        *(("PVB", name) for name in ("inlet_psi", "check_1_psi")),
        *(("SVB", name) for name in ("inlet_psi", "check_1_psi", "opened_fully")),
        *(("PVB", name) for name in ("tester", "certified", "tested_on")),
    ],
)
def test_a_report_that_is_not_full_is_not_checked_and_never_passes(kind: str, column: str) -> None:
    job = job_of(kind, **{column: "" if column == "tester" else None})
    assert FAILED not in codes(job)
    assert not passes(job)
    # Without its day the test is none, and service has not begun.
    word = "not due" if column == "tested_on" else "not checked"
    assert words_of(job, TESTS) == {word, "sound"}


def test_check_2_of_an_rp_is_read_or_held_against_back_pressure() -> None:
    """The report of an RP says "check 2 held against back-pressure"."""
    assert passes(job_of("RP", check_2_psi=None, check_2_tight=True))
    assert passes(job_of("RP", check_2_psi=1.0, check_2_tight=None))
    assert not passes(job_of("RP", check_2_psi=None, check_2_tight=None))


def test_an_avb_is_inspected_and_can_take_no_test() -> None:
    """An AVB has no field test: height, no valve after it, never over 12 h of pressure in 24."""
    job = job_of("AVB")
    assert (codes(job), words_of(job, TESTS)) == ([], {"sound"})
    assert passes(job)
    tested = replace(job, backflow_tests=(field_test("PVB"),))
    assert only(tested, "avb has no test").severity == "fix"
    unseen = on_assembly(job, inspected_on=None)
    assert lacks(unseen) == ["the inspection of the AVB (left of the garage)"]
    assert lacks(on_assembly(job, inspected_by="")) == [
        "who inspected the AVB (left of the garage)"
    ]
    assert not passes(replace(unseen, backflow_tests=(field_test("PVB"),)))
    assert not passes(on_assembly(job, inspected_on="2026-05-11"))
    assert not passes(on_assembly(job, moved_on="2026-05-03"))


@pytest.mark.parametrize(
    ("column", "value", "code"),
    [
        # 30 Tex. Admin. Code 344.50 before 2020; IRC P2902.5.3: no valve after an AVB.
        ("valve_after", True, "valve after the breaker"),
        ("back_pressure", True, "back-pressure"),
    ],
)
def test_an_avb_that_is_installed_wrong_is_a_stop(column: str, value: object, code: str) -> None:
    assert only(on_assembly(job_of("AVB"), **{column: value}), code).severity == "stop"
    blank = on_assembly(job_of("AVB"), **{column: None})
    assert (codes(blank), len(open_words(blank, TESTS))) == ([], 1)


@pytest.mark.parametrize(("hours", "fails"), [(12.0, False), (12.1, True)])
def test_an_avb_is_under_pressure_for_at_most_12_hours(hours: float, *, fails: bool) -> None:
    """30 Tex. Admin. Code 344.50 before 2020: no more than 12 hours in any 24."""
    job = put(job_of("AVB"), "zone", "zone-1", pressure_h=hours)
    assert ("too long under pressure" in codes(job)) == fails


def test_the_relief_of_an_rp_has_to_drain() -> None:
    """30 Tex. Admin. Code 344.50(b)(2)."""
    assert only(on_assembly(job_of("RP"), drain=False), "relief does not drain").severity == "stop"
    assert len(open_words(on_assembly(job_of("RP"), drain=None), TESTS)) == 1


@pytest.mark.parametrize("column", ["installed_on", "moved_on", "repaired_on"])
def test_installation_a_move_and_a_repair_ask_for_a_new_test(column: str) -> None:
    """30 Tex. Admin. Code 344.50(e): tested on installation; a move or repair makes a test due."""
    assert passes(on_assembly(job_of("PVB"), **{column: "2026-05-02"}))
    later = on_assembly(job_of("PVB"), **{column: "2026-05-03"})
    assert not passes(later)
    assert any("a test of the PVB" in said for said in open_words(later, TESTS))
    again = put(later, "backflow_test", "test-1", tested_on="2026-05-03")
    assert passes(again)


def test_an_assembly_without_its_day_of_installation_is_not_checked() -> None:
    job = on_assembly(job_of("PVB"), installed_on=None)
    assert not passes(job)
    assert lacks(job) == ["the day the PVB (left of the garage) was installed"]


def test_a_test_in_the_future_is_flagged_and_does_not_count() -> None:
    """Common practice, no source: a clock was wrong."""
    job = job_of("PVB", tested_on="2026-05-11")
    assert only(job, "test in the future").severity == "fix"
    assert not passes(job)
    assert passes(job, date(2026, 5, 11))


def test_a_later_test_settles_a_failed_one_and_one_of_the_same_day_by_its_entry() -> None:
    failed = field_test("PVB", check_1_psi=0.5, entered_at="2026-05-02T10:00:00-05:00")
    mended = field_test("PVB", entered_at="2026-05-02T11:00:00-05:00").with_values()
    mended.id = "a-second"
    assert passes(replace(job_of("PVB"), backflow_tests=(failed, mended)))
    later = field_test("PVB", check_1_psi=0.5, entered_at="2026-05-02T12:00:00-05:00")
    assert not passes(replace(job_of("PVB"), backflow_tests=(later, mended)))


def test_a_test_is_due_with_service_and_not_before() -> None:
    """30 Tex. Admin. Code 344.50(e)."""
    early = replace(sound_up_to("dig"), backflow_assemblies=(assembly("PVB", back_pressure=None),))
    assert words_of(early, TESTS) == {"not due"}
    tested = put(job_of("PVB"), "backflow_test", "test-1", certified=None)
    assert "not checked" in words_of(tested, TESTS)


@pytest.mark.parametrize(
    ("on", "due"), [("2026-04-20", "2027-04-20"), ("2024-02-29", "2025-02-28")]
)
def test_the_next_test_is_a_year_on(on: str, due: str) -> None:
    """International Plumbing Code 312.10.2 as amended in Louisiana: at least annually."""
    job = job_of("PVB", tested_on=on)
    found = retest_on(job, job.backflow_assemblies[0])
    assert found is not None
    assert found.isoformat() == due
    three_years = ruled(job, "backflow_retest_months", 36)
    later = retest_on(three_years, job.backflow_assemblies[0])
    assert later is not None
    assert later.year == found.year + 2


def test_a_backflow_test_that_is_due_is_flagged() -> None:
    job = on_assembly(job_of("PVB", tested_on="2025-05-20"), installed_on="2025-05-01")

    def due(day: date) -> list[str]:
        return [f.severity for f in check(job, day) if f.code == "backflow test due"]

    assert due(date(2026, 4, 1)) == []
    assert due(date(2026, 5, 1)) == ["note"]
    assert due(date(2026, 5, 20)) == ["note"]
    assert due(date(2026, 5, 21)) == ["fix"]


def test_heads_are_measured_retracted_or_raised_as_the_local_rule_says() -> None:
    """30 Tex. Admin. Code 344.50: at the top of the retracted sprinkler; other rules raise it."""
    job = on_assembly(sound_job(1), critical_level_ft=1.2)
    for head in job.heads:
        job = put(job, "head", head.id, pop_up_in=4.0)
    assert "backflow too low" not in codes(job)
    # 14.4 in less 4 in of pop-up leaves 10.4 of the 12 in asked.
    low = only(ruled(job, "heads_measured", "raised"), "backflow too low")
    assert low.numbers[0].value == pytest.approx(10.4)
