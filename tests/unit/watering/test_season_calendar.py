"""A season by the day: a published rule, twelve zones, starts that wait for each other."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from fieldbook.trade.watering.day_pattern import DayPattern, days_text, read_days
from fieldbook.trade.watering.law_reading import law_from_text
from fieldbook.trade.watering.place_laws import places
from fieldbook.watering.permitted.site_facts import Site, Watered, house_number_of
from fieldbook.watering.permitted.zone_permits import Permit
from fieldbook.watering.programmes.controller_programme import (
    Programme,
    StationTime,
    months_text,
    read_months,
)
from fieldbook.watering.programmes.programme_runs import at_once, play, sequence
from fieldbook.watering.programmes.proposal import Wanted, propose
from fieldbook.watering.programmes.season_calendar import Station, season_calendar

MELBOURNE = Permit(
    law_from_text(places()["Melbourne, Florida"]),
    Site(house_number=17, property="home", water="public", time_zone="America/New_York"),
    Watered(),
)
FIRST, LAST = date(2027, 3, 1), date(2027, 11, 30)


def wanted(zones: int, week_min: float = 40, soak_min: float = 60) -> list[Wanted]:
    return [Wanted(str(n), week_min, 3, MELBOURNE, 10, soak_min) for n in range(1, zones + 1)]


def test_twelve_zones_of_melbourne_get_programmes_for_each_part_of_the_season() -> None:
    found = propose(wanted(12), FIRST, LAST)
    # In standard time the rule gives one day a week, which is said.
    assert all("watered once a week" in note for note in found.notes)
    parts = [(one.first_day, one.last_day, days_text(one.days)) for one in found.programmes]
    assert parts == [
        (FIRST, date(2027, 3, 13), "Sat"),
        (date(2027, 3, 14), date(2027, 11, 6), "Wed Sat"),
        (date(2027, 11, 7), LAST, "Sat"),
    ]
    stations = [Station(str(n), MELBOURNE, gpm=10) for n in range(1, 13)]
    calendar = season_calendar(found.programmes, stations, FIRST, LAST)
    assert list(calendar.broken()) == []
    ran = [one for one in calendar.days if one.runs]
    assert {one.day.strftime("%a") for one in ran} == {"Wed", "Sat"}
    summer = calendar.on(date(2027, 6, 16))
    assert summer is not None
    assert summer.run_min == 12 * 20
    assert summer.gallons == pytest.approx(12 * 20 * 10)
    assert summer.window_min == 18 * 60
    assert calendar.gallons_by_month()[2027, 6] == pytest.approx(9 * 2400)


def test_a_short_window_puts_some_zones_on_other_days() -> None:
    law = law_from_text(
        '{"source": "made up", "hours": [{"only": "04:00-06:00"}], "days": [{"days": "Mon-Fri"}]}'
    )
    permit = Permit(law, Site(), Watered())
    zones = [Wanted(str(n), 60, 7, permit) for n in range(1, 5)]
    found = propose(zones, date(2027, 6, 1), date(2027, 6, 30))
    assert found.notes == ()
    assert len({one.days for one in found.programmes}) == 2
    assert sorted(s.station for one in found.programmes for s in one.stations) == list("1234")
    # Twelve of them are more than five mornings hold, and it is said which are left out.
    many = [Wanted(str(n), 60, 7, permit) for n in range(1, 13)]
    short = propose(many, date(2027, 6, 1), date(2027, 6, 30))
    assert short.notes == (
        "11, 12: the runs don't fit the hours that are allowed from 2027-06-01 to 2027-06-30.",
    )


def test_a_limit_of_minutes_leaves_a_zone_short_and_says_so() -> None:
    # Melbourne: at most an hour a zone, twice a week in daylight time.
    found = propose([Wanted("1", 200, 1, MELBOURNE)], date(2027, 6, 1), date(2027, 6, 30))
    assert found.notes == (
        "1 gets 120 of the 200 min it needs a week from 2027-06-01 to 2027-06-30: at most 60 min a "
        "day are allowed.",
        "1: watered 2 times a week from 2027-06-01 to 2027-06-30, but soil and plants ask for it "
        "daily.",
    )
    assert found.programmes[0].stations == (StationTime("1", 60),)


def test_nothing_is_proposed_where_nobody_looked_the_rule_up() -> None:
    law = law_from_text('{"source": "not looked up", "unread": ["days", "hours"]}')
    found = propose([Wanted("1", 40, 3, Permit(law, Site(), Watered()))], FIRST, LAST)
    assert found.programmes == ()
    assert "the local watering days" in found.notes[0]


def test_a_start_waits_for_the_one_that_runs() -> None:
    early = Programme("A", DayPattern("any"), (300,), (StationTime("1", 40), StationTime("2", 40)))
    late = Programme("B", DayPattern("any"), (330,), (StationTime("3", 20),))
    (day,) = play([early, late], FIRST, FIRST)
    assert [(run.station, run.start_min, run.late_min) for run in day.runs] == [
        ("1", 300, 0),
        ("2", 340, 0),
        ("3", 380, 50),
    ]
    (day,) = play([early, late], FIRST, FIRST, "at once")
    assert at_once(day.runs) == {frozenset({"1", "3"}), frozenset({"2", "3"})}


def test_what_is_put_off_past_midnight_puts_off_the_next_day() -> None:
    long = Programme("A", read_days("every 2 from 2027-03-01"), (1380,), (StationTime("1", 120),))
    next_day = Programme("B", DayPattern("any"), (30,), (StationTime("2", 10),))
    days = list(play([long, next_day], FIRST, FIRST + timedelta(days=1)))
    assert [(run.start_min, run.late_min) for run in days[1].runs] == [(60, 30)]


def test_a_run_over_midnight_into_a_barred_day_is_broken() -> None:
    programme = Programme("A", read_days("Sat"), (1420,), (StationTime("1", 30),))
    summer = season_calendar(
        [programme], [Station("1", MELBOURNE)], date(2027, 6, 1), date(2027, 6, 30)
    )
    found = list(summer.broken())
    assert len(found) == 4
    assert "Wednesday and Saturday" in found[0][1].why


def test_cycles_of_one_zone_wait_and_others_run_meanwhile() -> None:
    turns = sequence((StationTime("1", 16, 8, 20), StationTime("2", 12)), 100)
    assert turns == (("1", 0, 8), ("2", 8, 12), ("1", 28, 8))


def test_seasonal_percentages_of_colville() -> None:
    # Washington State University Extension, Colville: July base 20 min, September 63 %.
    months = read_months("Apr 51, May 68, Jun 79, Jul 100, Aug 92, Sep 63, Oct 31")
    programme = Programme(
        "A", DayPattern("any"), (300,), (StationTime("1", 20),), percent_by_month=months
    )
    (day,) = play([programme], date(2027, 9, 1), date(2027, 9, 1))
    assert day.runs[0].minutes == pytest.approx(12.6)
    assert read_months(months_text(months)) == months
    with pytest.raises(ValueError, match="months with a percentage"):
        read_months("Sept twelve")


@pytest.mark.parametrize(
    ("address", "number"),
    [("12 Alder Lane", 12), ("12B Alder Lane", 12), ("Alder Lane", None), ("", None)],
)
def test_the_house_number_is_read_from_the_address(address: str, number: int | None) -> None:
    assert house_number_of(address) == number


def test_a_start_that_comes_twice_runs_twice() -> None:
    # On 2027-11-07 the clock of New York shows 1:30 am twice.
    programme = Programme("A", read_days("Sun"), (90,), (StationTime("1", 20),))
    site = Site(house_number=18, property="home", water="public", time_zone="America/New_York")
    law = law_from_text('{"source": "made up", "hours": [{"only": "01:00-02:00"}]}')
    stations = [Station("1", Permit(law, site, Watered()))]
    calendar = season_calendar([programme], stations, date(2027, 11, 7), date(2027, 11, 7))
    assert list(calendar.broken()) == []
    # In spring 1:50 am and 20 minutes end at 3:10 am on the wall.
    spring = Programme("A", read_days("Sun"), (110,), (StationTime("1", 20),))
    calendar = season_calendar([spring], stations, date(2027, 3, 14), date(2027, 3, 14))
    ((_, broken),) = calendar.broken()
    assert broken.verdict == "no"


def test_a_part_of_the_season_has_the_minutes_of_its_own_greatest_month() -> None:
    # In winter a third of the peak is enough, so the hour a zone may run leaves nobody short.
    months = tuple((month, 30.0) for month in (1, 2, 3, 11, 12))
    zones = [Wanted("1", 100, 7, MELBOURNE)]
    found = propose(zones, date(2027, 1, 1), date(2027, 12, 31), months)
    assert found.notes == ()
    winter, summer, autumn = found.programmes
    assert [one.stations[0].minutes for one in (winter, summer, autumn)] == [30, 50, 30]
    assert dict(winter.percent_by_month) == {}
    assert dict(summer.percent_by_month) == {3: 30.0, 11: 30.0}


def test_a_zone_that_is_watered_more_rarely_than_its_soil_asks_is_named() -> None:
    # Melbourne, standard time: once a week.
    found = propose([Wanted("1", 30, 2, MELBOURNE)], date(2027, 1, 4), date(2027, 1, 31))
    assert found.notes == (
        "1: watered once a week from 2027-01-04 to 2027-01-31, but soil and plants ask for it "
        "every 2 days.",
    )
    # In a month that needs half of the peak the soil lasts twice as long.
    half = propose(
        [Wanted("1", 30, 4, MELBOURNE)], date(2027, 1, 4), date(2027, 1, 31), ((1, 50.0),)
    )
    assert half.notes == ()
