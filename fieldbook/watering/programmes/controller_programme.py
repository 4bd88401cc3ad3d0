"""A programme as it is typed into a controller. No make and no model: what all of them take."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Literal

from fieldbook.trade.watering.day_pattern import DayPattern

Overlap = Literal["one after the other", "at once"]
"""What a controller does with a start that comes while another programme runs."""
MonthPercents = tuple[tuple[int, float], ...]
"""A month from 1 to 12 and its percentage, in the order of the months."""
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH_PCT = re.compile(r"([a-z]{3,9})\.?\s*(\d{1,3})\s*%?")
_MOST_PCT = 300


@dataclass(frozen=True)
class StationTime:
    """What one terminal runs at a start: `minutes` at 100 %.

    With `cycle_min` the controller itself splits them into cycles of at most so many minutes, with
    at least `soak_min` from the end of one to the start of the next.
    """

    station: str
    minutes: float
    cycle_min: float | None = None
    soak_min: float = 0.0


@dataclass(frozen=True)
class Programme:
    """One programme: at each of `starts` (minutes after midnight) every station runs in order.

    `percent` scales all minutes; `percent_by_month` replaces it in the months it names (1 to 12).
    It is in use from `first_day` to `last_day`, both included; None is without end.
    """

    name: str
    days: DayPattern
    starts: tuple[int, ...]
    stations: tuple[StationTime, ...]
    percent: float = 100.0
    percent_by_month: MonthPercents = ()
    first_day: date | None = None
    last_day: date | None = None

    def in_use(self, day: date) -> bool:
        """Whether a day lies in the time in which the programme is in the controller."""
        return (self.first_day or day) <= day <= (self.last_day or day)

    def runs_on(self, day: date) -> bool:
        """Whether it starts on a day."""
        return bool(self.starts) and self.in_use(day) and self.days.covers(day)

    def percent_on(self, day: date) -> float:
        """The seasonal percentage of a day."""
        return dict(self.percent_by_month).get(day.month, self.percent)


def read_months(text: str) -> MonthPercents:
    """The percentages of "Apr 51, May 68". Raises ValueError that says what it takes."""
    found: dict[int, float] = {}
    for part in filter(None, (part.strip().casefold() for part in text.split(","))):
        match = _MONTH_PCT.fullmatch(part)
        month = _MONTHS.index(match[1][:3]) + 1 if match and match[1][:3] in _MONTHS else 0
        if match is None or not month or int(match[2]) > _MOST_PCT:
            raise ValueError(f"months with a percentage up to {_MOST_PCT}: Apr 51, May 68, Jul 100")
        found[month] = float(match[2])
    return tuple(sorted(found.items()))


def months_text(months: MonthPercents) -> str:
    """Percentages by month as they are typed."""
    return ", ".join(f"{_MONTHS[at - 1].capitalize()} {percent:.0f}" for at, percent in months)
