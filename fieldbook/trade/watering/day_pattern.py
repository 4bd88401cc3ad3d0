"""Which days of the calendar: weekdays, odd or even days, every so many days."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Literal

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
PatternKind = Literal["any", "none", "weekdays", "odd", "even", "interval", "assigned"]
OddDay = Literal["as odd", "nobody", "anybody"]
"""What a rule says of the 31st or of 29 February, after which two odd days follow each other."""

EXAMPLE = "Mon Wed Fri, odd, even, odd not 31, every 3 from 2027-05-01, any or none"
_INTERVAL = re.compile(r"every (\d{1,2})(?: days?)?(?: from (\d{4}-\d\d-\d\d))?")
_ODD_DAY = re.compile(r"\b(not|or) (31st|31|feb(?:ruary)? 29|29 feb(?:ruary)?)\b")
_PLAIN: dict[str, PatternKind] = {
    "any": "any",
    "any day": "any",
    "daily": "any",
    "every day": "any",
    "none": "none",
    "no day": "none",
    "odd": "odd",
    "odd days": "odd",
    "even": "even",
    "even days": "even",
    "assigned": "assigned",
}
_LEAP_MONTH, _LEAP_DAY, _LAST = 2, 29, 31


@dataclass(frozen=True)
class DayPattern:
    """Days of the calendar. `weekdays` counts Monday as 0; `every` days are counted from `first`.

    `on_31st` and `on_feb_29` say what holds of a rule by odd and even days on these two: "as odd"
    takes them as the odd days they are, "nobody" bars everyone, "anybody" bars no one. "assigned"
    are the days that a utility gave to the property, which the site's own facts hold.
    """

    kind: PatternKind = "any"
    weekdays: frozenset[int] = frozenset()
    every: int = 1
    first: date | None = None
    on_31st: OddDay = "as odd"
    on_feb_29: OddDay = "as odd"

    def covers(self, day: date, assigned: DayPattern | None = None) -> bool:
        """Whether a day is one of them; `assigned` are the property's own days."""
        special = self._special(day)
        if special != "as odd":
            return special == "anybody"
        if self.kind == "weekdays":
            return day.weekday() in self.weekdays
        if self.kind in ("odd", "even"):
            return day.day % 2 == (self.kind == "odd")
        if self.kind == "interval":
            return self.first is not None and (day - self.first).days % self.every == 0
        if self.kind == "assigned":
            return assigned is not None and assigned.covers(day)
        return self.kind == "any"

    def _special(self, day: date) -> OddDay:
        if day.day == _LAST:
            return self.on_31st
        if (day.month, day.day) == (_LEAP_MONTH, _LEAP_DAY):
            return self.on_feb_29
        return "as odd"


def read_days(text: str) -> DayPattern:
    """The pattern of a text such as those of EXAMPLE. Raises ValueError that says what it takes."""
    word = " ".join(text.casefold().replace(",", " ").split())
    odd_days: dict[str, OddDay] = {"31": "as odd", "29": "as odd"}
    for says, which in _ODD_DAY.findall(word):
        odd_days["31" if which.startswith("31") else "29"] = (
            "nobody" if says == "not" else "anybody"
        )
    base = " ".join(_ODD_DAY.sub("", word).split())
    plain = _pattern(base)
    if plain is None or (odd_days != {"31": "as odd", "29": "as odd"} and plain.kind == "none"):
        raise ValueError(f"days such as {EXAMPLE}")
    return DayPattern(
        plain.kind, plain.weekdays, plain.every, plain.first, odd_days["31"], odd_days["29"]
    )


def _pattern(base: str) -> DayPattern | None:
    if base in _PLAIN:
        return DayPattern(_PLAIN[base])
    found = _INTERVAL.fullmatch(base)
    if found is not None:
        every = int(found[1])
        try:
            first = date.fromisoformat(found[2]) if found[2] else None
        except ValueError:
            return None
        return DayPattern("interval", every=every, first=first) if every else None
    days = _weekdays(base)
    return DayPattern("weekdays", days) if days else None


def _weekdays(base: str) -> frozenset[int]:
    """The weekdays of "mon wed", "monday", "mon-fri"; none if a word is no weekday."""
    found: set[int] = set()
    for word in base.replace("/", " ").split():
        ends = [_weekday(part) for part in word.split("-", 1)]
        if None in ends:
            return frozenset()
        first, last = int(ends[0] or 0), int(ends[-1] or 0)
        # "fri-mon" goes over the end of the week.
        found |= {at % 7 for at in range(first, (last if last >= first else last + 7) + 1)}
    return frozenset(found)


def _weekday(word: str) -> int | None:
    full = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    known = len(word) >= 2
    return next((at for at, name in enumerate(full) if known and name.startswith(word)), None)


def days_text(pattern: DayPattern) -> str:
    """The text of a pattern, which `read_days` reads again."""
    words = {
        "weekdays": " ".join(WEEKDAYS[at] for at in sorted(pattern.weekdays)),
        "interval": f"every {pattern.every}"
        + (f" from {pattern.first.isoformat()}" if pattern.first else ""),
    }.get(pattern.kind, pattern.kind)
    for which, odd_day in (("31", pattern.on_31st), ("Feb 29", pattern.on_feb_29)):
        if odd_day != "as odd":
            words += f" {'not' if odd_day == 'nobody' else 'or'} {which}"
    return words


@lru_cache(maxsize=256)
def days_in_words(pattern: DayPattern) -> str:
    """A pattern as a sentence names it, such as "Wednesday and Saturday"."""
    full = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
    if pattern.kind == "weekdays":
        names = [full[at] for at in sorted(pattern.weekdays)]
        words = f"{', '.join(names[:-1])} and {names[-1]}" if names[1:] else names[0]
    elif pattern.kind == "interval":
        since = f", counted from {pattern.first.isoformat()}" if pattern.first else ""
        words = "every day" if pattern.every == 1 else f"every {pattern.every} days{since}"
    else:
        words = {
            "any": "any day",
            "none": "no day",
            "odd": "odd days of the month",
            "even": "even days of the month",
            "assigned": "the days that the utility assigned",
        }[pattern.kind]
    for which, odd_day in (("the 31st", pattern.on_31st), ("29 February", pattern.on_feb_29)):
        if odd_day != "as odd":
            words += f", {'not' if odd_day == 'nobody' else 'and'} {which}"
    return words
