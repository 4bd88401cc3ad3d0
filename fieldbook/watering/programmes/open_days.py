"""Which days a rule leaves open in a part of a season, and which of them a programme takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from fieldbook.trade.watering.clock_times import ALL_DAY, DAY_MIN
from fieldbook.trade.watering.day_pattern import DayPattern
from fieldbook.watering.permitted.zone_permits import Permit

_WEEK = 7
_OTHER = tuple(
    DayPattern(kind, on_31st=on_31st, on_feb_29=on_feb_29)
    for kind in ("odd", "even")
    for on_31st in ("as odd", "nobody", "anybody")
    for on_feb_29 in ("as odd", "nobody", "anybody")
)


@dataclass(frozen=True)
class OpenDays:
    """What a part of the season leaves open.

    The patterns whose every day is allowed, the minutes allowed on all days that are open at all,
    and the most minutes of a zone on one day.
    """

    patterns: tuple[DayPattern, ...]
    hours: int
    most_min: int


def open_days(permit: Permit, first: date, last: date) -> OpenDays:
    """What is open from `first` to `last`, both included."""
    days = [first + timedelta(days=at) for at in range((last - first).days + 1)]
    allowed = {day: permit.on(day).minutes for day in days}
    hours = ALL_DAY
    for minutes in filter(None, allowed.values()):
        hours &= minutes
    most_min = min(permit.on(day).most_min or DAY_MIN for day in days)
    patterns = tuple(_patterns(allowed))
    return OpenDays(patterns, hours if patterns else 0, most_min)


def _patterns(allowed: Mapping[date, int]) -> Iterator[DayPattern]:
    """The patterns that fall on open days alone, weekdays first."""
    shut = {day.weekday() for day, minutes in allowed.items() if not minutes}
    weekdays = frozenset(day.weekday() for day in allowed) - shut
    if weekdays:
        yield DayPattern("weekdays", weekdays)
    first = next((day for day, minutes in allowed.items() if minutes), None)
    every = (DayPattern("interval", every=many, first=first) for many in (2, 3))
    for pattern in (*_OTHER, *every):
        covered = [minutes for day, minutes in allowed.items() if pattern.covers(day)]
        if covered and all(covered):
            yield pattern


def times_a_week(pattern: DayPattern) -> float:
    """How often a pattern comes in a week."""
    if pattern.kind == "weekdays":
        return float(len(pattern.weekdays))
    return _WEEK / (pattern.every if pattern.kind == "interval" else 2)


def chosen_days(patterns: Sequence[DayPattern], often: int) -> DayPattern | None:
    """The pattern to use: `often` days a week, spread evenly; weekdays if they do."""
    weekdays = next((one for one in patterns if one.kind == "weekdays"), None)
    others = [one for one in patterns if one.kind != "weekdays"]
    if weekdays is not None and (len(weekdays.weekdays) >= min(often, 3) or not others):
        return DayPattern("weekdays", _spread(sorted(weekdays.weekdays), often))
    return others[0] if others else None


def _spread(days: Sequence[int], many: int) -> frozenset[int]:
    """So many of the weekdays, as evenly over the week as they go."""
    if many >= len(days):
        return frozenset(days)
    return min(
        (frozenset(_evenly(days, many, begin)) for begin in range(len(days))),
        key=lambda chosen: (_widest(sorted(chosen)), sorted(chosen)),
    )


def _evenly(days: Sequence[int], many: int, begin: int) -> Iterator[int]:
    """Take `many` days, each the one nearest to where an even spread would put it."""
    left = list(days)
    for step in range(many):
        aim = days[begin] + step * _WEEK / many
        nearest = min(left, key=lambda day: (_apart(day, aim), day))
        left.remove(nearest)
        yield nearest


def _apart(day: int, aim: float) -> float:
    off = abs(day - aim) % _WEEK
    return min(off, _WEEK - off)


def _widest(days: Sequence[int]) -> int:
    """The longest gap between two of the days, round the week."""
    after = [*days[1:], days[0] + _WEEK]
    return max(later - day for day, later in zip(days, after, strict=True))
