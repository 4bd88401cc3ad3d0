"""A zone as measured beside the same zone as worked out, on both sides of every bound."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import checked, codes, only, open_words, sound_job, words_of
from job_parts import JOB, row
from measured_jobs import STATIC_PSI, expected, measured, open_nozzles, read_at

from fieldbook.checks.measured.compared import compared, measured_flow
from fieldbook.checks.progress.reliance import RELIES_ON
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.commissioning import Commissioning

JOB_1 = open_nozzles(sound_job())


def answer_of(job: LoadedJob) -> str:
    """What the first measurement says of its zone's flow."""
    says = compared(job)["measured-1"].agreement
    return says.word if says is not None else "nothing"


def test_a_zone_that_does_what_was_worked_out_is_sound() -> None:
    job = measured(JOB_1, expected(JOB_1).flow.value)
    assert answer_of(job) == "agrees"
    assert "measured flow differs" not in codes(job)


def test_the_zone_is_worked_out_at_the_static_of_the_measurement() -> None:
    gpm = expected(JOB_1).flow.value
    low = compared(measured(JOB_1, gpm, static_psi=STATIC_PSI - 20.0))["measured-1"].worked_out
    same = compared(measured(JOB_1, gpm))["measured-1"].worked_out
    assert low is not None
    assert same is not None
    assert low.value < 0.9 * same.value


@pytest.mark.parametrize("part", [0.7, 1.4])
def test_a_flow_beyond_both_errors_is_a_fix(part: float) -> None:
    job = measured(JOB_1, expected(JOB_1).flow.value * part)
    found = only(job, "measured flow differs")
    assert found.severity == "fix"
    assert ("less" if part < 1 else "more") in found.sentence
    assert ("valve" if part < 1 else "break") in found.mend


def test_nobody_can_tell_where_the_error_is_wider_than_what_matters() -> None:
    gpm = expected(JOB_1).flow.value
    # Two gallons between two looks at a dial that is read to one gallon: within a half.
    job = measured(JOB_1, gpm, dial_stop=102.0, dial_s=120.0 / gpm, dial_read_to=1.0)
    assert answer_of(job) == "can't tell"
    assert any("known within" in words for words in open_words(job, "commissioning"))
    assert "measured flow differs" not in codes(job)


def test_a_dial_in_the_other_unit_is_told() -> None:
    job = measured(JOB_1, expected(JOB_1).flow.value / 7.4805)
    assert "cubic feet in the place of gallons" in only(job, "measured flow differs").mend


@pytest.mark.parametrize("blank", ["dial", "dial_start", "dial_stop", "dial_s", "static_psi"])
def test_what_is_not_entered_is_not_checked_and_says_its_cell(blank: str) -> None:
    job = measured(JOB_1, 5.0, **{blank: None})
    (answer,) = (one for one in checked(job).answers if one.check == "commissioning")
    assert answer.word == "not checked"
    assert [missing.at.column for missing in answer.missing] == [blank]


@pytest.mark.parametrize("zone_id", [None, "a zone that is gone"])
def test_a_flow_without_a_zone_says_so(zone_id: str | None) -> None:
    job = measured(JOB_1, 5.0, zone_id=zone_id)
    (answer,) = (one for one in checked(job).answers if one.check == "commissioning")
    assert (answer.word, answer.missing[0].at.column) == ("not checked", "zone_id")


def test_a_dial_that_ran_backwards_is_not_read() -> None:
    job = measured(JOB_1, 5.0, dial_stop=90.0)
    (answer,) = (one for one in checked(job).answers if one.check == "commissioning")
    assert [missing.at.column for missing in answer.missing] == ["dial_stop"]


def test_an_instrument_that_shows_the_flow_needs_no_dial() -> None:
    job = measured(JOB_1, 5.0, dial=None, flow_gpm=6.0, read_by="flow sensor")
    found = measured_flow(job, "zone-1")
    assert found is not None
    # Common practice, no source: 5 % of what was read.
    assert found.error_gpm == pytest.approx(0.3)
    assert (found.gpm, found.by) == (6.0, "a flow sensor")


def test_the_newest_flow_that_can_be_believed_feeds_the_schedule() -> None:
    gpm = expected(JOB_1).flow.value
    job = measured(measured(JOB_1, gpm * 1.05), gpm, measured_on="2027-05-10")
    found = measured_flow(job, "zone-1")
    assert found is not None
    assert found.gpm == pytest.approx(gpm)
    assert found.on == "2027-05-10"
    # A dial in another unit, and one read too coarsely, are passed over.
    worse = measured(job, gpm / 7.48, measured_on="2028-05-10")
    worse = measured(worse, gpm, measured_on="2029-05-10", dial_read_to=15.0)
    again = measured_flow(worse, "zone-1")
    assert again is not None
    assert again.on == "2027-05-10"
    assert measured_flow(job, "zone-2") is None


def test_a_pressure_at_a_head_with_the_gauge_beside_it() -> None:
    heads = expected(JOB_1).heads
    psi = heads["run-1-3"].value
    job = read_at(measured(JOB_1, expected(JOB_1).flow.value), "run-1-3", psi)
    # A gauge 10 ft over the head reads 4.33 psi less: IPC appendix E, 0.433 psi/ft.
    job = read_at(job, "run-1-3", psi - 4.33, above_ft=10.0)
    found = compared(job)["measured-1"].pressures
    assert [one.measured and round(one.measured.value, 2) for one in found] == [round(psi, 2)] * 2
    assert not any(one.agreement and one.agreement.word == "differs" for one in found)


def test_a_pressure_beyond_both_errors_is_a_fix() -> None:
    psi = expected(JOB_1).heads["run-1-3"].value
    job = read_at(measured(JOB_1, expected(JOB_1).flow.value), "run-1-3", psi - 25.0)
    found = only(job, "measured pressure differs")
    assert found.severity == "fix"
    assert "lateral run 3 of zone 1" in found.sentence


def test_a_body_that_regulates_shows_its_setting_at_the_nozzle() -> None:
    job = sound_job()
    full = measured(job, expected(job).flow.value)
    at_nozzle = compared(read_at(full, "run-1-1", 30.0))["measured-1"].pressures[0]
    below = compared(read_at(full, "run-1-1", 30.0, gauge_at="below the body"))
    assert at_nozzle.worked_out is not None
    assert at_nozzle.worked_out.value == 30.0
    assert below["measured-1"].pressures[0].worked_out is not None
    assert below["measured-1"].pressures[0].worked_out.value > 40.0


def listed(job: LoadedJob, **ticks: object) -> LoadedJob:
    """The job with a start-up list on which everything is right, but what is given."""
    right: dict[str, object] = dict.fromkeys(
        (
            *("meter_still", "flushed", "heads_at_pressure", "radius_set", "none_on_paving"),
            *("sensors_work", "no_leaks", "user_taught", "valves_shut", "filter_clean"),
            *("clock_set", "battery_works"),
        ),
        True,
    )
    right |= {"held_on": "2026-05-10", "static_psi": STATIC_PSI, **ticks}
    return replace(job, commissioning=row(Commissioning, once_id(JOB, "commissioning"), **right))


def test_the_meter_turning_with_all_off_is_a_leak() -> None:
    found = only(listed(JOB_1, meter_still=False), "start-up not right")
    assert "water runs somewhere" in found.sentence
    assert found.severity == "fix"
    assert found.place == "service"


def test_what_the_list_lacks_is_open_and_what_is_on_it_has_its_source() -> None:
    job = listed(JOB_1, battery_works=None, none_on_paving=False)
    # 21 NCAC 23 .0510 (a)(5).
    assert ".0510 (a)(5)" in only(job, "start-up not right").source
    answers = {one.thing: one for one in checked(job).answers if one.check == "commissioning"}
    assert [missing.at.column for missing in answers["the start-up list"].missing] == [
        "battery_works"
    ]


def test_once_the_list_is_begun_every_zone_is_to_be_measured() -> None:
    assert words_of(JOB_1, "commissioning") == set()
    job = listed(measured(JOB_1, expected(JOB_1).flow.value))
    answers = {one.thing: one for one in checked(job).answers if one.check == "commissioning"}
    assert answers["measured water of zone 1 (lawn 1)"].missing == ()
    assert answers["measured water of zone 2 (lawn 2)"].missing[0].at.column == "add measured zone"


def test_a_static_that_fell_is_noted() -> None:
    assert "static fell at start-up" in codes(listed(JOB_1, static_after_psi=50.0))
    assert "static fell at start-up" not in codes(listed(JOB_1, static_after_psi=61.0))


def test_no_sign_off_waits_for_a_measurement() -> None:
    named = {name for names in RELIES_ON.values() for name in names}
    assert named.isdisjoint({"commissioning", "catch-can audit"})
    bad = listed(measured(JOB_1, 1.0), **dict.fromkeys(("meter_still", "no_leaks"), False))
    assert "stop" not in [flag.severity for flag in checked(bad).flags]
