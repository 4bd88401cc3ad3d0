"""Part of a year: between two days of the calendar, or by summer time."""

from __future__ import annotations

import calendar
import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

SeasonKind = Literal["all year", "dates", "daylight time", "standard time"]
MonthDay = tuple[int, int]
_KINDS: dict[str, SeasonKind] = {
    "": "all year",
    "all year": "all year",
    "daylight time": "daylight time",
    "standard time": "standard time",
}
_END = re.compile(r"([a-z]{3,9})\.?(?: (\d{1,2}))?")
_MONTHS = tuple(name.casefold() for name in calendar.month_name)


@dataclass(frozen=True)
class Season:
    """Part of a year: `first` and `last` are a month and a day, both of them in it."""

    kind: SeasonKind = "all year"
    first: MonthDay = (1, 1)
    last: MonthDay = (12, 31)

    def covers(self, day: date, time_zone: str = "") -> bool:
        """Whether a day is in it; `time_zone` is an IANA name, else summer time as in the US."""
        if self.kind == "all year":
            return True
        if self.kind == "dates":
            at = (day.month, day.day)
            if self.first <= self.last:
                return self.first <= at <= self.last
            return at >= self.first or at <= self.last
        return is_daylight_time(day, time_zone) == (self.kind == "daylight time")


@lru_cache(maxsize=4096)
def is_daylight_time(day: date, time_zone: str = "") -> bool:
    """Whether summer time holds at noon of a day.

    Without a time zone: from the second Sunday of March to the first Sunday of November, as the
    rule of Melbourne, Florida spells it out.
    """
    if time_zone:
        noon = datetime(day.year, day.month, day.day, 12, tzinfo=ZoneInfo(time_zone))
        return bool(noon.dst())
    return _sunday(day.year, 3, 2) <= day < _sunday(day.year, 11, 1)


def is_time_zone(name: str) -> bool:
    """Whether this machine knows a time zone of this name, such as America/New_York."""
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def _sunday(year: int, month: int, which: int) -> date:
    first = date(year, month, 1)
    return first + timedelta(days=(6 - first.weekday()) % 7 + 7 * (which - 1))


def read_season(text: str) -> Season:
    """The season of "May 15 - Sep 15", "Oct - Mar", "daylight time". Raises ValueError."""
    word = " ".join(text.casefold().split())
    if word in _KINDS:
        return Season(_KINDS[word])
    first, dash, last = word.partition("-")
    if dash:
        try:
            return Season("dates", _month_day(first, first=True), _month_day(last, first=False))
        except ValueError:
            pass
    raise ValueError("a season such as May 15 - Sep 15, Oct - Mar, or daylight time")


def _month_day(text: str, *, first: bool) -> MonthDay:
    """A month and day; a month alone begins on its first and ends on its last day."""
    found = _END.fullmatch(text.strip())
    months = [at for at, name in enumerate(_MONTHS) if at and found and name.startswith(found[1])]
    if found is None or len(months) != 1:
        raise ValueError(text)
    # A leap year, so that February may end on the 29th.
    longest = calendar.monthrange(2028, months[0])[1]
    day = int(found[2]) if found[2] else 1 if first else longest
    if not 1 <= day <= longest:
        raise ValueError(text)
    return months[0], day


def season_text(season: Season) -> str:
    """The text of a season, which `read_season` reads again."""
    if season.kind != "dates":
        return season.kind
    ends = (f"{calendar.month_abbr[month]} {day}" for month, day in (season.first, season.last))
    return " - ".join(ends)
