"""The dates of a property: seasons, upkeep, visits, warranties; one source for list and calendar.

Filters, clock and battery once a year: 21 NCAC 23 .0602. The rest is common practice, no source.
"""

from __future__ import annotations

from datetime import date, timedelta

import icalendar
import pytest
from builders import all_signed, put, sound_job
from hypothesis import given
from hypothesis import strategies as st
from seasons.season_jobs import closed, opened, planned

from fieldbook.checks.progress.deadlines import Deadline, dates_of, deadlines
from fieldbook.checks.season.season_dates import EARLY, LATE, care_days
from fieldbook.papers.exports.calendar import as_calendar
from fieldbook.records.loaded_job import LoadedJob

AUTUMN = date(2026, 10, 20)


def cared(job: LoadedJob, today: date) -> dict[str, str]:
    """What is due of the care by its group, and when."""
    return {one.group: one.on.isoformat() for one in care_days(job, today)}


def frost(job: LoadedJob) -> LoadedJob:
    return planned(job, frost_on="2026-10-28", spring_on="2026-04-15")


def test_the_closing_is_due_before_the_first_frost_of_each_year() -> None:
    job = frost(sound_job(1))
    assert cared(job, AUTUMN)["frost"] == "2026-10-28"
    assert cared(job, date(2026, 12, 1))["frost"] == "2026-10-28"
    assert cared(job, date(2027, 1, 5))["frost"] == "2027-10-28"
    assert cared(job, date(2031, 6, 1))["frost"] == "2031-10-28"


def test_a_closing_that_was_held_is_due_again_next_year() -> None:
    job = planned(closed(held_on="2026-10-19"), frost_on="2026-10-28")
    assert cared(job, AUTUMN)["frost"] == "2027-10-28"
    late = planned(closed(held_on="2026-11-20"), frost_on="2026-10-28")
    assert cared(late, date(2026, 11, 21))["frost"] == "2027-10-28"
    last_year = planned(closed(held_on="2025-10-19"), frost_on="2026-10-28")
    assert cared(last_year, AUTUMN)["frost"] == "2026-10-28"


def test_the_start_up_is_due_each_spring() -> None:
    job = frost(sound_job(1))
    assert cared(job, date(2027, 3, 1))["spring"] == "2027-04-15"
    done = planned(opened(held_on="2027-04-20"), spring_on="2026-04-15")
    assert cared(done, date(2027, 4, 21))["spring"] == "2028-04-15"


def test_where_no_frost_comes_nothing_is_closed() -> None:
    job = planned(sound_job(1), frost_on="2026-10-28", way="no frost here")
    assert "frost" not in cared(job, AUTUMN)


def test_no_plan_and_no_visit_is_no_care() -> None:
    assert cared(all_signed(sound_job(1)), date(2027, 5, 1)) == {}


def test_the_upkeep_is_due_a_year_after_the_handover_or_the_last_one() -> None:
    job = planned(all_signed(sound_job(1)))
    assert cared(job, date(2026, 6, 1)) == {"upkeep": "2027-05-04"}
    assert cared(opened(job), date(2027, 5, 1))["upkeep"] == "2028-04-20"
    assert cared(opened(job, battery_good=None), date(2027, 5, 1))["upkeep"] == "2027-05-04"
    # Nobody came for years: it is due again on the next day of the year, not overdue by years.
    assert cared(job, date(2031, 10, 1))["upkeep"] == "2032-05-04"


def test_the_next_visit_is_the_one_that_the_newest_names() -> None:
    job = put(sound_job(1), "visit", "v1", held_on="2026-06-01", next_due="2026-09-01")
    assert cared(job, AUTUMN)["visit"] == "2026-09-01"
    came = put(job, "visit", "v2", held_on="2026-09-03")
    assert "visit" not in cared(came, AUTUMN)
    again = put(came, "visit", "v2", next_due="2026-11-01", next_reason="winterising")
    (found,) = [one for one in care_days(again, AUTUMN) if one.group == "visit"]
    assert (found.what, found.on) == ("next visit, winterising", date(2026, 11, 1))


@given(st.dates(date(2020, 1, 1), date(2040, 1, 1)), st.dates(date(2020, 1, 1), date(2026, 1, 1)))
def test_a_day_of_the_season_is_never_long_past_nor_more_than_a_year_off(
    today: date, named: date
) -> None:
    job = planned(sound_job(1), frost_on=named.isoformat())
    on = date.fromisoformat(cared(job, today)["frost"])
    assert today - LATE <= on
    assert on <= max(today, named) + timedelta(days=366)
    assert (on.month, on.day) in ((named.month, named.day), (2, 28))


@given(st.dates(date(2026, 1, 1), date(2030, 12, 31)))
def test_a_closing_within_its_weeks_is_not_asked_for_again_that_year(held: date) -> None:
    job = planned(closed(held_on=held.isoformat()), frost_on="2026-10-28")
    on = date.fromisoformat(cared(job, held)["frost"])
    assert on > held + LATE or on - EARLY > held


def of_kind(found: list[Deadline], kind: str) -> list[Deadline]:
    return [one for one in found if one.kind == kind]


def test_a_warranty_that_ends_is_named_until_a_week_after_its_end() -> None:
    job = put(all_signed(sound_job(1)), "warranty", "w", kind="controller", until_on="2027-05-04")
    (found,) = of_kind(dates_of(job, date(2027, 5, 11)), "warranty")
    assert (found.thing, found.on) == ("end of the controller warranty", date(2027, 5, 4))
    assert of_kind(dates_of(job, date(2027, 5, 12)), "warranty") == []


@pytest.mark.parametrize("years", [1, 5, 9])
def test_a_property_handed_over_years_ago_has_only_its_overdue_test_and_what_is_to_come(
    years: int,
) -> None:
    job = put(all_signed(sound_job(1)), "permit", "permit-1", expires_on="2026-08-01")
    job = put(job, "crew_member", "crew-1", name="A. B.", expires_on="2026-09-01")
    job = put(job, "warranty", "w", kind="valve", until_on="2026-12-01")
    job = frost(job)
    today = date(2026 + years, 8, 1)
    past = [one for one in dates_of(job, today) if one.on < today]
    assert [one.kind for one in past] == ["backflow test"]
    assert len(of_kind(list(deadlines(job, today)), "permit")) == 1


def test_the_calendar_has_the_dates_of_the_list() -> None:
    job = put(frost(all_signed(sound_job(1))), "warranty", "w", kind="valve", until_on="2027-12-01")
    events = icalendar.Calendar.from_ical(as_calendar(job, AUTUMN)).walk("VEVENT")
    assert [event.decoded("dtstart") for event in events] == [
        one.on for one in dates_of(job, AUTUMN)
    ]
    said = " ".join(str(event["summary"]) for event in events)
    for words in ("Closing before the first frost", "Start-up of the system", "End of the valve"):
        assert words in said
