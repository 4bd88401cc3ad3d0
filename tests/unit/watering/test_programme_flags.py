"""What is typed at the controller against what the rules permit, the supply carries, zones need."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from builders import JOB, checked, put, ruled, sound_job
from programmed_jobs import MELBOURNE, TODAY, odd_home, programmed

from fieldbook.checks.finding import Finding
from fieldbook.checks.looked import Looked
from fieldbook.checks.watering.controller.job_programmes import (
    calendar_of,
    controllers_of,
    job_programmes,
    outlet_words,
    outlets,
)
from fieldbook.checks.watering.controller.programme_flags import check_programmes
from fieldbook.checks.watering.controller.programme_words import (
    day_words,
    totals_of,
    week_min,
    week_words,
)
from fieldbook.records.ids import programme_minutes_id, terminal_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.watering.programmes import ProgrammeMinutes
from fieldbook.trade.rules.keys import WATERING


def flags(job: LoadedJob) -> list[Finding]:
    return [one for one in check_programmes(job, TODAY) if isinstance(one, Finding)]


def lacking(job: LoadedJob) -> list[str]:
    looked = [one for one in check_programmes(job, TODAY) if isinstance(one, Looked)]
    return [lack.words for one in looked for lack in one.missing]


def test_a_programme_on_the_right_days_and_hours_is_sound() -> None:
    job = programmed(
        odd_home(),
        {1: 20, 2: 25},
        days="Wed Sat",
        starts="05:00",
        first_day="2027-03-14",
        last_day="2027-11-06",
    )
    assert flags(job) == []
    assert lacking(job) == []
    day = calendar_of(job, None, date(2027, 6, 2), date(2027, 6, 2)).days[0]
    assert [run.minutes for run in day.runs] == [20, 25]
    assert day.gallons is not None
    assert day.gallons > 0


def test_a_barred_day_and_a_barred_hour_are_flagged_with_the_rule() -> None:
    wrong_day = programmed(odd_home(), {1: 20}, days="Mon", starts="05:00")
    (found,) = flags(wrong_day)
    assert found.code == "watering not allowed"
    assert "Mon 2027-01-04" in found.sentence
    assert found.at.column == "days"
    assert len(found.sentence) <= 200
    season = {"first_day": "2027-03-14", "last_day": "2027-11-06"}
    late = programmed(odd_home(), {1: 20}, days="Wed", starts="09:50", **season)
    (found,) = flags(late)
    assert found.at.column == "starts"
    long = programmed(odd_home(), {1: 61}, days="Wed", starts="05:00", **season)
    assert "at most 60 min a zone" in flags(long)[0].sentence


def test_a_rule_that_nobody_looked_up_is_not_checked_and_never_free() -> None:
    job = programmed(sound_job(1), {1: 20}, days="Wed", starts="05:00")
    assert flags(job) == []
    assert lacking(job) == ["the local watering days", "the local watering hours"]
    # Nor is a rule whose fact about the property is missing.
    job = programmed(
        ruled(sound_job(1), WATERING, MELBOURNE),
        {1: 20},
        days="Thu Sun",
        starts="05:00",
        first_day="2027-03-14",
        last_day="2027-11-06",
    )
    assert lacking(job) == ["the kind of property"]


def test_a_programme_without_days_starts_or_minutes_is_not_checked() -> None:
    assert lacking(programmed(odd_home(), {})) == [
        "the days of programme A",
        "the starts of programme A",
        "the minutes of programme A",
    ]
    unread = programmed(odd_home(), {1: 5}, percent_by_month="often")
    assert [one.code for one in flags(unread)] == ["percentages not read"]


def test_starts_that_meet_are_asked_about_or_put_off() -> None:
    season: dict[str, str] = {"first_day": "2027-03-14", "last_day": "2027-11-06"}

    def both(overlap: str = "") -> LoadedJob:
        facts = {"overlap": overlap} if overlap else {}
        job = programmed(odd_home(2, **facts), {1: 40}, days="Wed", starts="05:00", **season)
        return programmed(job, {2: 10}, "B", days="Wed", starts="05:30", **season)

    (found,) = flags(both())
    assert (found.code, found.severity) == ("starts meet", "fix")
    assert "10 min before" in found.sentence
    (found,) = flags(both(overlap="one after the other"))
    assert found.severity == "note"


def test_zones_that_run_at_once_are_solved_jointly_and_held_against_the_transformer() -> None:
    season: dict[str, str] = {"first_day": "2027-03-14", "last_day": "2027-11-06"}
    job = odd_home(overlap="at once")
    for number, name in ((1, "A"), (2, "B")):
        job = programmed(job, {number: 20}, name, days="Wed", starts="05:00", **season)
    assert flags(job) == []
    assert job.controller is not None
    weak = replace(job, controller=job.controller.with_values(transformer_va=12))
    assert [one.code for one in flags(weak)] == ["programmes overload transformer"]
    many = odd_home(8, overlap="at once")
    for number in range(1, 9):
        many = programmed(many, {number: 20}, f"P{number}", days="Wed", starts="05:00", **season)
    assert "too much at once" in {one.code for one in flags(many)}


def test_a_swapped_wire_shows_in_the_programme() -> None:
    job = odd_home()
    first, second = (one for one in job.terminals if one.role == "zone")
    swapped = tuple(
        one.with_values(colour={first.id: second, second.id: first}[one.id].colour)
        if one.role == "zone"
        else one
        for one in job.terminals
    )
    season: dict[str, str] = {"first_day": "2027-03-14", "last_day": "2027-11-06"}
    crossed = programmed(
        replace(job, terminals=swapped), {1: 20}, days="Wed", starts="05:00", **season
    )
    assert [one.crossed for one in outlets(crossed)] == [True, True]
    (found,) = flags(crossed)
    assert found.code == "programme runs another zone"
    assert "zone 2" in found.sentence


def test_a_property_without_programmes_says_nothing() -> None:
    assert list(check_programmes(sound_job(2), TODAY)) == []
    assert "programmes" not in {one.check for one in checked(sound_job(1)).not_checked}


def test_the_totals_say_how_they_come_about() -> None:
    season = {"first_day": "2027-03-14", "last_day": "2027-11-06"}
    job = programmed(odd_home(), {1: 20, 2: 25}, days="Wed Sat", starts="05:00, 07:00", **season)
    (one,) = job_programmes(job)
    found = totals_of(job, one, TODAY)
    assert found is not None
    assert (found.day_min, found.ends_min) == (90, 7 * 60 + 45)
    assert found.days_a_week == pytest.approx(2, abs=0.05)
    words = day_words(job, one, TODAY)
    assert "2 starts x 45 min of all terminals x 100 % = 90 min" in words
    assert "ends 7:45 am" in words
    first = outlets(job)[0]
    assert week_min(job, first) == pytest.approx(80, abs=0.2)
    minutes = job.find(ProgrammeMinutes, programme_minutes_id("A", 1))
    assert "20 min x 2 starts x 2.0 days = 80 min" in week_words(minutes, one)


def test_a_two_wire_path_has_addresses_and_a_battery_controller_its_own_programmes() -> None:
    season = {"first_day": "2027-03-14", "last_day": "2027-11-06"}
    job = put(odd_home(), "other_controller", "B", name="B", powered_by="battery")
    zone_2 = job.zones[1].id
    at = terminal_id(JOB, "zone", 1, "B")
    job = put(job, "terminal", at, number=1, role="zone", controller_id="B", zone_id=zone_2)
    job = programmed(job, {1: 15}, days="Wed", starts="05:00", controller_id="B", **season)
    assert [name for _, name in controllers_of(job)] == ["controller B"]
    day = calendar_of(job, "B", date(2027, 6, 2), date(2027, 6, 2)).days[0]
    assert [run.station for run in day.runs] == [at]
    two_wire = odd_home()
    first, second = (one for one in two_wire.terminals if one.role == "zone")
    for terminal, address in ((first, 11), (second, 12)):
        two_wire = put(two_wire, "terminal", terminal.id, address=address, colour=None)
    for name, address, zone in (("d1", 12, 0), ("d2", 11, 1)):
        two_wire = put(two_wire, "decoder", name, address=address, zone_id=two_wire.zones[zone].id)
    crossed = programmed(two_wire, {1: 15}, days="Wed", starts="05:00", **season)
    assert [one.crossed for one in outlets(crossed)] == [True, True]
    assert "address 11" in outlet_words(crossed, outlets(crossed)[0])
