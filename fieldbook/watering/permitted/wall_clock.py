"""From a start on the wall clock and minutes of running to the hours that the clock then shows.

A controller starts by the clock on the wall and counts minutes by itself. When summer time begins
or ends in a run, the clock jumps: the run still takes its minutes, and ends an hour later or
earlier on the wall. A start at an hour that comes twice is taken to run at both.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from math import ceil
from zoneinfo import ZoneInfo

from fieldbook.trade.watering.clock_times import DAY_MIN, span

Stretch = tuple[date, int, int]
"""A day, and the minutes of it from the first up to the last, which is not one of them."""


def stretches(day: date, start_min: int, minutes: float, time_zone: str = "") -> list[Stretch]:
    """The stretches of the wall clock that a run covers, one or more for each day it touches.

    `start_min` may be over 1440: the run then starts on a later day.
    """
    day, start_min = day + timedelta(days=start_min // DAY_MIN), start_min % DAY_MIN
    length = ceil(minutes)
    if not is_jump_near(day, time_zone):
        return list(_plain(day, start_min, length))
    return list(_jumping(day, start_min, length, ZoneInfo(time_zone)))


def bits(stretch: Stretch) -> int:
    """The minutes of a stretch, a bit each."""
    return span(stretch[1], stretch[2])


@lru_cache(maxsize=4096)
def is_jump_near(day: date, time_zone: str) -> bool:
    """Whether the clock jumps on a day, or on the next two: no run is longer."""
    if not time_zone:
        return False
    zone = ZoneInfo(time_zone)
    first = datetime(day.year, day.month, day.day, tzinfo=zone)
    return first.utcoffset() != (first + timedelta(days=3)).utcoffset()


def _plain(day: date, start_min: int, length: int) -> Iterator[Stretch]:
    while length > 0:
        last = min(start_min + length, DAY_MIN)
        yield day, start_min, last
        length -= last - start_min
        day, start_min = day + timedelta(days=1), 0


def _jumping(day: date, start_min: int, length: int, zone: ZoneInfo) -> Iterator[Stretch]:
    """Minute by minute through UTC, from both instants where the start comes twice."""
    wall = datetime(day.year, day.month, day.day, tzinfo=zone) + timedelta(minutes=start_min)
    starts = {wall.replace(fold=fold).astimezone(UTC) for fold in (0, 1)}
    # An hour that is skipped has two readings as well, which are no two starts: take the first.
    if not _exists(wall):
        starts = {wall.replace(fold=0).astimezone(UTC)}
    for start in sorted(starts):
        at: list[Stretch] = []
        for minute in range(length):
            shown = (start + timedelta(minutes=minute)).astimezone(zone)
            minute_of_day = shown.hour * 60 + shown.minute
            if at and at[-1][0] == shown.date() and at[-1][2] == minute_of_day:
                at[-1] = (at[-1][0], at[-1][1], minute_of_day + 1)
            else:
                at.append((shown.date(), minute_of_day, minute_of_day + 1))
        yield from at


def _exists(wall: datetime) -> bool:
    """Whether the wall clock ever shows a time: it skips an hour in spring."""
    back = wall.astimezone(UTC).astimezone(wall.tzinfo)
    return back.replace(tzinfo=None) == wall.replace(tzinfo=None)


def is_twice_or_never(day: date, start_min: int, time_zone: str) -> bool:
    """Whether the clock shows this start twice on a day, or skips it."""
    if not is_jump_near(day, time_zone):
        return False
    zone = ZoneInfo(time_zone)
    wall = datetime(day.year, day.month, day.day, tzinfo=zone) + timedelta(minutes=start_min)
    offsets = {wall.replace(fold=fold).utcoffset() for fold in (0, 1)}
    return len(offsets) > 1
