"""Watering days and hours as published by cities, districts and states; each case names its place.

The texts were read in stored public copies; which ones stands in `trade/watering/places.toml`.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from fieldbook.trade.watering.clock_times import read_windows
from fieldbook.trade.watering.day_pattern import DayPattern, read_days
from fieldbook.trade.watering.law_reading import law_from_text, law_of
from fieldbook.trade.watering.place_laws import places
from fieldbook.watering.permitted.may_run import may_run
from fieldbook.watering.permitted.site_facts import Site, Watered
from fieldbook.watering.permitted.zone_permits import Permit

ODD = Site(house_number=17, property="home", water="public", time_zone="America/New_York")
EVEN = Site(house_number=18, property="home", water="public", time_zone="America/New_York")
DRIP = Watered(frozenset({"automatic", "drip"}))
HOSE = Watered(frozenset({"hose-end", "sprinkler"}))
NOON, EVENING = 12 * 60, 19 * 60


def at(place: str, site: Site, watered: Watered | None = None) -> Permit:
    return Permit(law_from_text(places()[place]), site, watered or Watered())


def day_of(permit: Permit, *day: int) -> str:
    return permit.on(date(*day)).day


def test_melbourne_days_change_with_summer_time() -> None:
    # Melbourne, Florida (St. Johns River district): odd Wed/Sat in daylight time, Sat in standard.
    permit = at("Melbourne, Florida", ODD)
    assert day_of(permit, 2027, 3, 10) == "no"
    assert day_of(permit, 2027, 3, 17) == "yes"
    assert day_of(permit, 2027, 11, 6) == day_of(permit, 2027, 11, 13) == "yes"
    assert day_of(permit, 2027, 11, 10) == "no"
    # The same without a time zone: the rule spells out the Sundays.
    plain = at("Melbourne, Florida", Site(house_number=17, property="home", water="public"))
    assert (day_of(plain, 2027, 3, 10), day_of(plain, 2027, 3, 17)) == ("no", "yes")


def test_melbourne_allows_a_zone_an_hour() -> None:
    permit = at("Melbourne, Florida", ODD)
    assert may_run(permit, date(2027, 3, 17), 5 * 60, 60).verdict == "yes"
    answer = may_run(permit, date(2027, 3, 17), 5 * 60, 61)
    assert (answer.verdict, answer.why) == ("no", ("at most 60 min a zone, not 61",))


def test_reclaimed_water_is_free_in_melbourne_and_not_in_another_city() -> None:
    reclaimed = Site(house_number=17, property="home", water="reclaimed")
    assert day_of(at("Melbourne, Florida", reclaimed), 2027, 3, 15) == "yes"
    other = "A central Florida city, reclaimed water included"
    assert day_of(at(other, reclaimed), 2027, 3, 15) == "no"
    # Which water it is decides in Melbourne, so that an unknown water is not taken for free.
    unknown = at("Melbourne, Florida", Site(house_number=17, property="home"))
    assert day_of(unknown, 2027, 3, 15) == "no"


def test_central_florida_new_planting_stays_inside_the_hours() -> None:
    other = "A central Florida city, reclaimed water included"
    planted = Watered(planted_on=date(2027, 5, 1))
    permit = at(other, ODD, planted)
    assert [permit.on(date(2027, 5, day)).day for day in (1, 2, 30)] == ["yes"] * 3
    # Then every other day, counted from day 31.
    assert [permit.on(date(2027, 5, 31) + timedelta(days=n)).day for n in range(3)] == [
        "yes",
        "no",
        "yes",
    ]
    assert may_run(permit, date(2027, 5, 2), NOON, 10).verdict == "no"


def test_pinellas_new_plants_have_two_phases() -> None:
    # Pinellas County, Florida: day 1 is the day of installation.
    planted = Watered(planted_on=date(2027, 5, 2), new_part=0.5)
    permit = at("Pinellas County, Florida", EVEN, planted)
    day_30, day_31 = date(2027, 5, 31), date(2027, 6, 1)
    assert permit.on(day_30).day == "yes"
    assert permit.on(day_31).day == "yes"
    monday = Watered(planted_on=date(2027, 5, 1), new_part=0.5)
    assert at("Pinellas County, Florida", EVEN, monday).on(day_30).day == "no"
    before = Watered(planted_on=date(2027, 4, 18), new_part=0.5)
    assert at("Pinellas County, Florida", EVEN, before).on(date(2027, 5, 17)).day == "yes"
    assert (day_30.weekday(), date(2027, 5, 17).weekday()) == (0, 0)
    # Less than half new: the ordinary days hold, which nobody looked up.
    little = Watered(planted_on=date(2027, 5, 2), new_part=0.4)
    assert at("Pinellas County, Florida", EVEN, little).on(day_30).day == "not known"


def test_san_antonio_by_the_last_digit() -> None:
    permit = at("San Antonio, Texas, stage 1", Site(house_number=1234))
    days = [date(2027, 6, 14) + timedelta(days=n) for n in range(7)]
    assert [day.strftime("%a") for day in days if permit.on(day).day == "yes"] == ["Wed"]
    planted = Watered(planted_on=date(2027, 6, 14))
    asked = at("San Antonio, Texas, stage 1", Site(house_number=1234), planted)
    assert asked.on(date(2027, 6, 15)).day == "no"
    assert "exempt only with the city's consent" in " ".join(asked.on(date(2027, 6, 15)).terms)


@pytest.mark.parametrize(("number", "days"), [(109, ["Mon", "Thu"]), (108, ["Wed", "Sat"])])
def test_a_texas_city_has_digits_out_of_order(number: int, days: list[str]) -> None:
    permit = at("A Texas city, section 22.08", Site(house_number=number))
    week = [date(2027, 6, 14) + timedelta(days=n) for n in range(7)]
    assert [day.strftime("%a") for day in week if permit.on(day).day == "yes"] == days
    # Hours are lifted from October to March.
    month = {True: date(2027, 6, 1), False: date(2027, 12, 1)}
    for lifted, first in ((False, month[True]), (True, month[False])):
        on = next(
            first + timedelta(days=n)
            for n in range(7)
            if permit.on(first + timedelta(days=n)).day == "yes"
        )
        assert (may_run(permit, on, NOON, 10).verdict == "yes") == lifted


def test_austin_has_hours_by_method() -> None:
    site = Site(house_number=17, assigned=read_days("Wed"))
    wednesday = date(2027, 6, 16)
    permit = at("Austin, Texas, stage 2", site)
    assert may_run(permit, wednesday, 6 * 60, 10).verdict == "no"
    assert may_run(at("Austin, Texas, stage 2", site, HOSE), wednesday, 6 * 60, 10).verdict == "yes"
    assert may_run(permit, wednesday + timedelta(days=1), 4 * 60, 10).verdict == "no"
    # Without the day that the utility set nothing is known.
    answer = may_run(at("Austin, Texas, stage 2", ODD), wednesday, 4 * 60, 10)
    assert answer.verdict == "not known"
    assert "the days that the utility assigned" in answer.missing


def test_dallas_hours_are_of_the_summer_alone() -> None:
    permit = at(
        "Dallas, Texas", Site(house_number=17, water="public", assigned=read_days("Mon Thu"))
    )
    monday, thursday = date(2027, 11, 15), date(2027, 7, 15)
    assert may_run(permit, monday, NOON, 10).verdict == "yes"
    assert may_run(permit, thursday, NOON, 10).verdict == "no"
    testing = at("Dallas, Texas", permit.site, Watered(purpose="testing"))
    assert may_run(testing, thursday, NOON, 10).verdict == "yes"


def test_georgia_by_the_hour_on_every_day() -> None:
    friday = date(2027, 6, 18)
    assert friday.weekday() == 4
    sod = Watered(planted_on=friday - timedelta(days=28))
    answers = [
        may_run(at("Georgia, state law since 2010", ODD, watered), friday, 15 * 60, 20).verdict
        for watered in (Watered(), DRIP, sod)
    ]
    assert answers == ["no", "yes", "yes"]
    # Four in the afternoon to ten in the morning goes over midnight.
    permit = at("Georgia, state law since 2010", ODD)
    assert may_run(permit, friday, 23 * 60, 120).verdict == "yes"
    assert may_run(permit, friday, 9 * 60 + 50, 11).verdict == "no"


def test_riverside_has_two_windows() -> None:
    permit = at("Riverside, Illinois", ODD)
    assert may_run(permit, date(2027, 7, 31), EVENING, 30).verdict == "yes"
    assert may_run(permit, date(2027, 7, 31), NOON, 30).verdict == "no"


def test_the_31st_belongs_to_odd_homes_in_st_johns() -> None:
    # St. Johns, Michigan: so the 31st and the 1st are both days of odd homes.
    odd, even = at("St. Johns, Michigan", ODD), at("St. Johns, Michigan", EVEN)
    assert day_of(even, 2027, 7, 31) == "no"
    assert "the 31st is an odd day here" in even.on(date(2027, 7, 31)).why[0]
    assert day_of(odd, 2027, 7, 31) == day_of(odd, 2027, 8, 1) == "yes"


def test_even_homes_may_run_on_the_31st_in_cottage_grove() -> None:
    permit = at("Cottage Grove, Minnesota", EVEN)
    assert day_of(permit, 2027, 7, 31) == "yes"
    assert day_of(permit, 2027, 7, 29) == "no"


def test_a_31st_that_is_nobodys_day() -> None:
    # A Minnesota city's public-works notice of July 2021: no watering for anyone on the 31st.
    odd, even = read_days("odd not 31"), read_days("even")
    day = date(2027, 7, 31)
    assert (odd.covers(day), even.covers(day), read_days("odd").covers(day)) == (False, False, True)


def test_two_odd_days_in_a_row_at_the_end_of_february_can_be_barred() -> None:
    # No text that names 29 February was found; the setting works as for the 31st.
    leap, after = date(2028, 2, 29), date(2028, 3, 1)
    assert [read_days("odd").covers(day) for day in (leap, after)] == [True, True]
    assert [read_days("odd not Feb 29").covers(day) for day in (leap, after)] == [False, True]


def test_odd_days_from_may_to_september() -> None:
    # Counted: May 1 to September 30 has 78 odd days, three of them 31sts.
    days = [date(2027, 5, 1) + timedelta(days=n) for n in range(153)]
    assert sum(map(read_days("odd").covers, days)) == 78
    assert sum(map(read_days("odd not 31").covers, days)) == 75


def test_the_stricter_hours_govern() -> None:
    # 23 CCR 492.10: overhead 8 pm to 10 am; a local 10 pm to 8 am is stricter and holds.
    law = law_of(
        {
            "source": "23 CCR 492.10 and a local rule",
            "hours": [{"only": "20:00-10:00"}, {"only": "22:00-08:00"}],
        }
    )
    permit = Permit(law, ODD, Watered())
    day = date(2027, 7, 1)
    assert may_run(permit, day, 22 * 60, 600).verdict == "yes"
    assert may_run(permit, day, 22 * 60 - 1, 10).verdict == "no"
    assert may_run(permit, day, 7 * 60 + 51, 10).verdict == "no"
    assert read_windows("22:00-08:00") == ((1320, 480),)


def test_las_vegas_restricts_drip_too() -> None:
    # Las Vegas Valley Water District: Mon-Sat in summer, drip included; hand is free.
    place = "Las Vegas, Nevada"
    site = Site(house_number=17, assigned=DayPattern("weekdays", frozenset({0})))
    sunday = date(2027, 7, 18)
    assert sunday.weekday() == 6
    assert at(place, site, DRIP).on(sunday).day == "no"
    assert at(place, site, Watered(frozenset({"hand"}))).on(sunday).day == "yes"
    assert may_run(at(place, site, DRIP), date(2027, 7, 16), NOON, 10).verdict == "no"
    # From November to February only the day of one's group, which the utility assigns.
    assert at(place, site).on(date(2027, 1, 4)).day == "yes"
    assert at(place, site).on(date(2027, 1, 5)).day == "no"


def test_st_charles_gives_no_new_lawn_permit_in_july_and_august() -> None:
    permitted = {"new_part": 1.0, "has_paper": True}
    june = Watered(planted_on=date(2027, 6, 1), **permitted)  # type: ignore[arg-type]
    july = Watered(planted_on=date(2027, 7, 1), **permitted)  # type: ignore[arg-type]
    assert at("St. Charles, Illinois", ODD, june).on(date(2027, 6, 2)).day == "yes"
    assert at("St. Charles, Illinois", ODD, july).on(date(2027, 7, 2)).day == "not known"


def test_glendale_goes_by_the_side_of_the_street() -> None:
    odd_side = Site(house_number=18, side="odd")
    assert at("Glendale, Oregon", odd_side).on(date(2027, 7, 1)).day == "yes"
    assert at("Glendale, Oregon", odd_side).on(date(2027, 7, 2)).day == "no"
    assert at("Glendale, Oregon", ODD).on(date(2027, 7, 2)).day == "not known"


def test_a_larger_lot_has_longer_hours_in_southwest_florida() -> None:
    place, thursday = "Southwest Florida, shortage order", date(2027, 6, 17)
    small, large = (Site(house_number=17, acres=acres) for acres in (0.5, 2.0))
    assert may_run(at(place, small), thursday, 9 * 60, 30).verdict == "no"
    assert may_run(at(place, large), thursday, 9 * 60, 30).verdict == "yes"
    assert may_run(at(place, Site(house_number=17)), thursday, 60, 30).verdict == "not known"


def test_a_rule_names_whom_its_days_are_for() -> None:
    # Melbourne, Florida: its page treats a property without a number as an odd one.
    odd, even = law_from_text(places()["Melbourne, Florida"]).days[0].cases[1:]
    assert odd.who.words() == "odd house numbers or none"
    assert even.who.words() == "even house numbers"
