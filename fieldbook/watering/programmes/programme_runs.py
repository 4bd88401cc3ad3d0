"""What a controller does on each day: which station runs from when, for how long."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from fieldbook.trade.watering.clock_times import DAY_MIN
from fieldbook.watering.programmes.controller_programme import Overlap, Programme, StationTime


class Run(NamedTuple):
    """One run of a station on a day. Times are minutes after that day's midnight.

    `start_min` is over 1440 where a run that was put off begins after midnight. `late_min` is how
    long after its own start the programme began, because another one was still running.
    """

    programme: str
    station: str
    start_min: float
    minutes: float
    late_min: float = 0.0

    @property
    def end_min(self) -> float:
        """When it ends."""
        return self.start_min + self.minutes


@dataclass(frozen=True)
class DayRuns:
    """The runs that begin on one day, in the order of their starts."""

    day: date
    runs: tuple[Run, ...]


Turn = tuple[str, float, float]
"""A station, the minutes after the start at which it runs, and how many it runs."""


@lru_cache(maxsize=1024)
def sequence(stations: tuple[StationTime, ...], percent: float) -> tuple[Turn, ...]:
    """The turns of one start.

    Stations take turns in their order. One that soaks is passed over; if all of them soak, the
    controller waits for the first that is ready.
    """
    left = [one.minutes * percent / 100 for one in stations]
    ready = [0.0] * len(stations)
    found: list[Turn] = []
    at, turn = 0.0, 0
    while any(minutes > 0 for minutes in left):
        order = [(turn + step) % len(stations) for step in range(len(stations))]
        waiting = [place for place in order if left[place] > 0]
        place = min(waiting, key=lambda place: max(ready[place] - at, 0.0))
        station = stations[place]
        at = max(at, ready[place])
        length = _cycle(station, left[place], percent)
        found.append((station.station, at, length))
        at += length
        # Below a second is what is left of rounding, not a run.
        left[place] = left[place] - length if left[place] - length > 1 / 60 else 0.0
        ready[place] = at + station.soak_min
        turn = place + 1
    return tuple(found)


def _cycle(station: StationTime, left: float, percent: float) -> float:
    """The minutes of the next cycle: the rest in equal parts of at most the station's cycle."""
    if not station.cycle_min or left <= station.cycle_min:
        return left
    whole = station.minutes * percent / 100
    parts = -(-whole // station.cycle_min)
    return min(left, whole / parts)


def play(
    programmes: Sequence[Programme],
    first: date,
    last: date,
    overlap: Overlap = "one after the other",
) -> Iterator[DayRuns]:
    """The runs of each day from `first` to `last`.

    Where starts wait for each other, what is still running at midnight puts off the next day's.
    """
    day, busy_min = first, 0.0
    while day <= last:
        runs: list[Run] = []
        for start_min, programme in _starts(programmes, day):
            turns = sequence(programme.stations, programme.percent_on(day))
            at = float(start_min)
            if overlap == "one after the other":
                at = max(at, busy_min)
            late = at - start_min
            runs += [Run(programme.name, name, at + off, long, late) for name, off, long in turns]
            if turns:
                busy_min = max(busy_min, at + turns[-1][1] + turns[-1][2])
        yield DayRuns(day, tuple(runs))
        day, busy_min = day + timedelta(days=1), max(0.0, busy_min - DAY_MIN)


def _starts(programmes: Sequence[Programme], day: date) -> list[tuple[int, Programme]]:
    """The starts of a day in the order of the clock; at the same time by the programme's name."""
    found = [
        (start_min, programme)
        for programme in programmes
        if programme.runs_on(day)
        for start_min in programme.starts
    ]
    return sorted(found, key=lambda start: (start[0], start[1].name))


def at_once(runs: Sequence[Run]) -> set[frozenset[str]]:
    """Every set of two or more stations that run at the same moment."""
    edges = sorted({run.start_min for run in runs})
    found = set()
    for edge in edges:
        running = {run.station for run in runs if run.start_min <= edge < run.end_min}
        if len(running) > 1:
            found.add(frozenset(running))
    return found
