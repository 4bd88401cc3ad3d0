"""No programme that is worked out ever runs on a day or at an hour that the rule bars.

The oracle here knows nothing of bits and patterns: it goes through every minute that a run takes,
on the clock of the place, and asks the rule's own data about it.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldbook.trade.watering.clock_times import DAY_MIN
from fieldbook.trade.watering.day_pattern import DayPattern
from fieldbook.trade.watering.season_text import Season
from fieldbook.trade.watering.watering_law import (
    Blackout,
    DayCase,
    DayLimit,
    HourLimit,
    MinuteLimit,
    WateringLaw,
    Who,
)
from fieldbook.watering.permitted.site_facts import Site, Watered
from fieldbook.watering.permitted.zone_permits import Permit
from fieldbook.watering.programmes.programme_runs import play
from fieldbook.watering.programmes.proposal import Wanted, propose

ZONES = ("America/New_York", "America/Chicago", "America/Phoenix", "")
SEASONS = st.one_of(
    st.just(Season()),
    st.sampled_from([Season("daylight time"), Season("standard time")]),
    st.builds(
        lambda first, last: Season("dates", first, last),
        st.tuples(st.integers(1, 12), st.integers(1, 28)),
        st.tuples(st.integers(1, 12), st.integers(1, 28)),
    ),
)
ODD = st.sampled_from(["as odd", "nobody", "anybody"])
PATTERNS = st.one_of(
    st.builds(DayPattern, st.just("weekdays"), st.frozensets(st.integers(0, 6), min_size=1)),
    st.builds(DayPattern, st.sampled_from(["odd", "even"]), on_31st=ODD, on_feb_29=ODD),
    st.builds(
        DayPattern, st.just("interval"), every=st.integers(1, 6), first=st.just(date(2020, 1, 1))
    ),
    st.just(DayPattern("any")),
)
MINUTES = st.integers(0, DAY_MIN - 1)
WINDOWS = st.lists(
    st.tuples(MINUTES, MINUTES).filter(lambda pair: pair[0] != pair[1]), min_size=1, max_size=2
).map(tuple)
PARITY = st.sampled_from([Who(), Who(number=("odd",)), Who(number=("even",)), Who(digits=(1, 7))])
LAWS = st.builds(
    WateringLaw,
    st.just("made up"),
    days=st.lists(
        st.builds(
            DayLimit,
            SEASONS,
            st.lists(st.builds(DayCase, PARITY, PATTERNS), min_size=1, max_size=2).map(tuple),
        ),
        max_size=2,
    ).map(tuple),
    hours=st.lists(
        st.builds(HourLimit, SEASONS, st.just(Who()), WINDOWS, st.booleans()), max_size=2
    ).map(tuple),
    minutes=st.lists(
        st.builds(MinuteLimit, SEASONS, st.just(Who()), st.integers(5, 200)), max_size=1
    ).map(tuple),
    blackouts=st.lists(st.builds(Blackout, SEASONS, PARITY), max_size=1).map(tuple),
)


def is_for(who: Who, number: int) -> bool:
    parity = "odd" if number % 2 else "even"
    return (not who.number or parity in who.number) and (
        not who.digits or number % 10 in who.digits
    )


@cache
def in_season(season: Season, day: date, zone: str) -> bool:
    if season.kind == "all year":
        return True
    if season.kind == "dates":
        # Day by day from its first day on, until its last.
        at = date(2024, *season.first)
        while (at.month, at.day) != season.last:
            if (at.month, at.day) == (day.month, day.day):
                return True
            at += timedelta(days=1)
        return (day.month, day.day) == season.last
    if not zone:
        sundays = [n for n in range(1, 31) if date(day.year, 3, n).weekday() == 6]
        spring = date(day.year, 3, sundays[1])
        sundays = [n for n in range(1, 31) if date(day.year, 11, n).weekday() == 6]
        saving = spring <= day < date(day.year, 11, sundays[0])
    else:
        noon = datetime(day.year, day.month, day.day, 12, tzinfo=ZoneInfo(zone))
        saving = noon.dst() != timedelta(0)
    return saving == (season.kind == "daylight time")


def is_day_of(pattern: DayPattern, day: date) -> bool:
    says = {31: pattern.on_31st}.get(day.day, "as odd")
    if (day.month, day.day) == (2, 29):
        says = pattern.on_feb_29
    if says != "as odd":
        return says == "anybody"
    if pattern.kind == "interval":
        assert pattern.first is not None
        return (day.toordinal() - pattern.first.toordinal()) % pattern.every == 0
    return {
        "any": True,
        "weekdays": day.weekday() in pattern.weekdays,
        "odd": day.day in range(1, 32, 2),
        "even": day.day in range(2, 32, 2),
    }[pattern.kind]


def is_barred(law: WateringLaw, number: int, shown: datetime, zone: str) -> bool:
    """Whether one minute, as the clock on the wall shows it, is barred."""
    day, minute = shown.date(), shown.hour * 60 + shown.minute
    for limit in law.days:
        if in_season(limit.season, day, zone):
            case = next((one for one in limit.cases if is_for(one.who, number)), None)
            if case is not None and not is_day_of(case.days, day):
                return True
    for hours in law.hours:
        if in_season(hours.season, day, zone):
            inside = any(
                a <= minute < b if a < b else minute >= a or minute < b for a, b in hours.windows
            )
            if inside == hours.barred:
                return True
    return any(
        in_season(out.season, day, zone) and is_for(out.who, number) for out in law.blackouts
    )


def shown_minutes(day: date, start_min: float, minutes: float, zone: str) -> list[datetime]:
    wall = datetime(day.year, day.month, day.day) + timedelta(minutes=start_min)
    if not zone:
        return [wall + timedelta(minutes=n) for n in range(int(minutes))]
    found = []
    for fold in (0, 1):
        start = wall.replace(tzinfo=ZoneInfo(zone), fold=fold).astimezone(UTC)
        found += [
            (start + timedelta(minutes=n)).astimezone(ZoneInfo(zone)) for n in range(int(minutes))
        ]
    return found


@settings(deadline=None, max_examples=20)
@given(
    law=LAWS,
    number=st.integers(1, 9999),
    zone=st.sampled_from(ZONES),
    season=st.tuples(st.integers(2024, 2099), st.integers(0, 365), st.integers(1, 60)),
    needs=st.lists(
        st.tuples(st.integers(5, 150), st.integers(1, 7), st.integers(2, 20), st.integers(0, 90)),
        min_size=1,
        max_size=4,
    ),
)
def test_no_run_of_a_proposal_is_ever_barred(
    law: WateringLaw,
    number: int,
    zone: str,
    season: tuple[int, int, int],
    needs: list[tuple[int, int, int, int]],
) -> None:
    permit = Permit(law, Site(house_number=number, time_zone=zone), Watered())
    wanted = [
        Wanted(f"zone {at}", week_min, between, permit, cycle, soak)
        for at, (week_min, between, cycle, soak) in enumerate(needs, start=1)
    ]
    first = date(season[0], 1, 1) + timedelta(days=season[1])
    last = first + timedelta(days=season[2])
    found = propose(wanted, first, last)
    for one in play(found.programmes, first, last):
        total: dict[str, float] = {}
        end = 0.0
        for run in one.runs:
            # One zone at a time, none put off, each soaked through before its next cycle.
            assert run.start_min >= end
            assert run.late_min == 0
            end = run.end_min
            total[run.station] = total.get(run.station, 0) + run.minutes
            for shown in shown_minutes(one.day, run.start_min, run.minutes, zone):
                assert not is_barred(law, number, shown, zone), (one.day, run)
        for limit in law.minutes:
            if in_season(limit.season, one.day, zone):
                assert all(minutes <= limit.most_min for minutes in total.values())


def test_the_oracle_sees_a_run_that_is_barred() -> None:
    law = WateringLaw(
        "made up",
        days=(DayLimit(Season(), (DayCase(Who(), DayPattern("odd")),)),),
        hours=(HourLimit(Season(), Who(), ((600, 960),), barred=True),),
    )
    assert is_barred(law, 1, datetime(2027, 7, 2, 5), "")
    assert is_barred(law, 1, datetime(2027, 7, 1, 10), "")
    assert not is_barred(law, 1, datetime(2027, 7, 1, 9, 59), "")
