"""A season by the day: which zones may run, which do, how long, and how much water they take."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import lru_cache
from math import ceil

from fieldbook.trade.watering.clock_times import DAY_MIN, span, time_in_words
from fieldbook.watering.permitted.may_run import may_run
from fieldbook.watering.permitted.wall_clock import is_jump_near
from fieldbook.watering.permitted.zone_permits import Permit, Verdict
from fieldbook.watering.programmes.controller_programme import Overlap, Programme
from fieldbook.watering.programmes.programme_runs import DayRuns, Run, play

_Bits = tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Station:
    """One terminal as the calendar sees it: its permit, and the gallons a minute it takes.

    Stations that are watered alike share one `Permit`, which keeps its answers.
    """

    name: str
    permit: Permit
    gpm: float | None = None


@dataclass(frozen=True)
class Broken:
    """A run that the rule doesn't allow, or that nobody can say it allows, with the reason."""

    run: Run
    verdict: Verdict
    why: str


@dataclass(frozen=True)
class CalendarDay:
    """One day. `may` has the answer for each station; `window_min` the minutes that all may use."""

    day: date
    may: Mapping[str, Verdict]
    runs: tuple[Run, ...]
    window_min: int
    run_min: float
    gallons: float | None
    broken: tuple[Broken, ...] = ()

    @property
    def stations(self) -> tuple[str, ...]:
        """The stations that run, each once, in the order of their first run."""
        return tuple(dict.fromkeys(run.station for run in self.runs))


@dataclass(frozen=True)
class SeasonCalendar:
    """The days of a season, in order, and the stations that they were held against."""

    days: tuple[CalendarDay, ...]
    stations: tuple[Station, ...] = ()
    _by_day: dict[date, CalendarDay] = field(default_factory=dict, repr=False)

    def __post_init__(self) -> None:
        """Index the days."""
        self._by_day.update({one.day: one for one in self.days})

    def on(self, day: date) -> CalendarDay | None:
        """A day of the season."""
        return self._by_day.get(day)

    def gallons_by_month(self) -> dict[tuple[int, int], float]:
        """Gallons by year and month, of the stations whose flow is known."""
        return self._gallons(lambda day: (day.year, day.month))

    def gallons_by_week(self) -> dict[tuple[int, int], float]:
        """Gallons by ISO year and week."""
        return self._gallons(lambda day: (day.isocalendar()[0], day.isocalendar()[1]))

    def broken(self) -> Iterator[tuple[date, Broken]]:
        """Every run that is not allowed, or not known to be."""
        return ((one.day, broken) for one in self.days for broken in one.broken)

    def _gallons(self, key: Callable[[date], tuple[int, int]]) -> dict[tuple[int, int], float]:
        found: dict[tuple[int, int], float] = defaultdict(float)
        for one in self.days:
            found[key(one.day)] += one.gallons or 0.0
        return dict(found)


def season_calendar(
    programmes: Sequence[Programme],
    stations: Sequence[Station],
    first: date,
    last: date,
    overlap: Overlap = "one after the other",
) -> SeasonCalendar:
    """The calendar of a season for the programmes of one controller."""
    by_name = {station.name: station for station in stations}
    # The day before too: what it has put off past midnight runs on the first day of the season.
    days = play(programmes, first - timedelta(days=1), last, overlap)
    next(days)
    return SeasonCalendar(tuple(_day(one, by_name) for one in days), tuple(stations))


def _day(found: DayRuns, stations: Mapping[str, Station]) -> CalendarDay:
    day, runs = found.day, found.runs
    window = span(0, DAY_MIN)
    may: dict[str, Verdict] = {}
    for name, station in stations.items():
        permit = station.permit.on(day)
        may[name] = "no" if permit.day == "no" else "not known" if permit.missing else "yes"
        window &= permit.minutes
    gallons, known = 0.0, False
    for run in runs:
        station_gpm = stations[run.station].gpm if run.station in stations else None
        if station_gpm is not None:
            gallons, known = gallons + run.minutes * station_gpm, True
    return CalendarDay(
        day,
        may,
        runs,
        window.bit_count(),
        sum(run.minutes for run in runs),
        gallons if known or not runs else None,
        tuple(_broken(found, stations)),
    )


def _broken(found: DayRuns, stations: Mapping[str, Station]) -> Iterator[Broken]:
    """The runs that are not surely allowed. Plain ones are told by their bits, the rest in full."""
    totals: dict[str, float] = defaultdict(float)
    bits = _bits(found.runs)
    for run, (name, minutes) in zip(found.runs, bits, strict=True):
        station = stations.get(name)
        if station is None:
            continue
        totals[name] += run.minutes
        permit = station.permit.on(found.day)
        jump = is_jump_near(found.day, station.permit.site.time_zone)
        if jump or minutes < 0 or minutes & ~permit.minutes:
            start = int(run.start_min)
            # The seconds before a whole minute count as part of it.
            answer = may_run(station.permit, found.day, start, run.end_min - start)
            if answer.verdict != "yes":
                reasons = answer.why or tuple(f"not known: {one}" for one in answer.missing)
                yield Broken(run, answer.verdict, "; ".join(reasons))
        elif permit.most_min is not None and totals[name] > permit.most_min + 1e-9:
            yield Broken(
                run,
                "no",
                f"at most {permit.most_min} min a zone and day, not {totals[name]:g}, from "
                f"{time_in_words(int(run.start_min))}",
            )


@lru_cache(maxsize=256)
def _bits(runs: tuple[Run, ...]) -> _Bits:
    """The station and the minutes of each run; -1 for one that goes over midnight."""
    return tuple(
        (run.station, span(int(run.start_min), ceil(run.end_min)) if run.end_min <= DAY_MIN else -1)
        for run in runs
    )
