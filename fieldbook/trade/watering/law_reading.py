"""Read a watering rule from a [watering] table, and from the JSON text that a job keeps of it.

[watering]
source = "City code 12.3"
read = 2026-11-26
unread = ["minutes"]                  # what nobody has looked up yet
freeze_f = 32

[[watering.days]]
season = "daylight time"              # or "May 15 - Sep 15"; left out: all year
cases = [
{ property = "other", days = "Tue Fri" },
{ number = "odd", days = "Wed Sat" },
{ days = "Thu Sun" },
]
[[watering.hours]]
not = "10:00-16:00"                   # or only = "21:00-09:00"
[[watering.minutes]]
most = 60
[[watering.blackout]]
season = "Nov - Mar"
[[watering.exempt]]
name = "new planting"
lifts = ["days"]
phases = [{ days = 30, cases = [{ days = "any" }] }]
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date
from functools import lru_cache
from typing import cast

from fieldbook.trade.watering.clock_times import read_windows
from fieldbook.trade.watering.day_pattern import read_days
from fieldbook.trade.watering.season_text import Season, read_season
from fieldbook.trade.watering.watering_law import (
    LIFTS,
    METHODS,
    NUMBERS,
    PROPERTIES,
    PURPOSES,
    SOURCES,
    Blackout,
    DayCase,
    DayLimit,
    Exemption,
    HourLimit,
    Lift,
    MinuteLimit,
    Phase,
    WateringLaw,
    Who,
)

_Table = Mapping[str, object]
_WORDS: Mapping[str, tuple[str, ...]] = {
    "number": NUMBERS,
    "group": (),
    "side": ("odd", "even"),
    "property": PROPERTIES,
    "method": METHODS,
    "water": SOURCES,
    "purpose": PURPOSES,
}
_WHO = {*_WORDS, "digits", "under_acres", "from_acres"}
_LONGEST = 400
_MOST_LIMITS = 60
_DAY_MIN = 1440


def law_of(table: object) -> WateringLaw:
    """The rule of a [watering] table. Raises ValueError, with words that go after "watering"."""
    held = _table(table, {"source", "read", "unread", "freeze_f", *_LISTS})
    source = _text(held, "source")
    if not source:
        raise ValueError("needs its source: the code and section, or who says so")
    read = held.get("read", "")
    return WateringLaw(
        source,
        read.isoformat() if isinstance(read, date) else _text(held, "read"),
        tuple(_day_limit(one) for one in _list(held, "days")),
        tuple(_hour_limit(one) for one in _list(held, "hours")),
        tuple(_minute_limit(one) for one in _list(held, "minutes")),
        tuple(_blackout(one) for one in _list(held, "blackout")),
        tuple(_exemption(one) for one in _list(held, "exempt")),
        _number(held, "freeze_f", -40, 60),
        _lifts(held, "unread"),
    )


_LISTS = ("days", "hours", "minutes", "blackout", "exempt")


@lru_cache(maxsize=64)
def law_from_text(text: str) -> WateringLaw:
    """The rule of the JSON text that a job keeps. Raises ValueError if it is none."""
    return law_of(json.loads(text))


def text_of(table: object) -> str:
    """The JSON text of a [watering] table, which a job keeps. Raises ValueError as `law_of`."""
    law_of(table)
    return json.dumps(table, ensure_ascii=False, sort_keys=True, default=str)


def _day_limit(held: object) -> DayLimit:
    table = _table(held, {"season", "cases", "days", *_WHO})
    cases = _cases(table) if "cases" in table else (_case(table, {"season"}),)
    return DayLimit(_season(table), cases)


def _cases(table: _Table) -> tuple[DayCase, ...]:
    return tuple(_case(one, set()) for one in _list(table, "cases"))


def _case(held: object, besides: set[str]) -> DayCase:
    table = _table(held, {"days", *_WHO, *besides})
    try:
        return DayCase(_who(table), read_days(_text(table, "days")))
    except ValueError as error:
        raise ValueError(f"days: {error}") from error


def _hour_limit(held: object) -> HourLimit:
    table = _table(held, {"season", "not", "only", *_WHO})
    if ("not" in table) == ("only" in table):
        raise ValueError('hours take either not = "10:00-16:00" or only = "21:00-09:00"')
    barred = "not" in table
    try:
        windows = read_windows(_text(table, "not" if barred else "only"))
    except ValueError as error:
        raise ValueError(f"hours: {error}") from error
    return HourLimit(_season(table), _who(table), windows, barred)


def _minute_limit(held: object) -> MinuteLimit:
    table = _table(held, {"season", "most", *_WHO})
    most = _number(table, "most", 1, _DAY_MIN)
    if most is None:
        raise ValueError("minutes need most, such as most = 60")
    return MinuteLimit(_season(table), _who(table), int(most))


def _blackout(held: object) -> Blackout:
    table = _table(held, {"season", *_WHO})
    return Blackout(_season(table), _who(table))


def _exemption(held: object) -> Exemption:
    known = {"name", "lifts", "phases", "paper", "half_new", "never_in", *_WHO}
    table = _table(held, known)
    lifts = _lifts(table, "lifts")
    if not lifts:
        raise ValueError(f"an exemption lifts some of {', '.join(LIFTS)}")
    half_new = table.get("half_new", False)
    if not isinstance(half_new, bool):
        raise ValueError("half_new takes true or false")
    never_in = read_season(_text(table, "never_in")) if "never_in" in table else None
    phases = tuple(_phase(one) for one in _list(table, "phases"))
    name, paper = _text(table, "name"), _text(table, "paper")
    return Exemption(name or "exempt", _who(table), lifts, phases, paper, half_new, never_in)


def _phase(held: object) -> Phase:
    table = _table(held, {"days", "cases"})
    days = _number(table, "days", 1, 3650)
    if days is None:
        raise ValueError("a phase needs its days, such as days = 30")
    return Phase(int(days), _cases(table) or (DayCase(Who(), read_days("any")),))


def _season(table: _Table) -> Season:
    return read_season(_text(table, "season"))


def _who(table: _Table) -> Who:
    words = {key: tuple(_words(table, key)) for key in _WORDS}
    digits = table.get("digits", [])
    if not isinstance(digits, list) or not all(one in range(10) for one in digits):
        raise ValueError("digits take a list such as [0, 1]")
    return Who(
        **words,
        digits=tuple(digits),
        under_acres=_number(table, "under_acres", 0, 1e6),
        from_acres=_number(table, "from_acres", 0, 1e6),
    )


def _words(table: _Table, key: str) -> Iterator[str]:
    """The words of a key, which takes one word or a list of them."""
    held, known = table.get(key, []), _WORDS[key]
    for word in held if isinstance(held, list) else [held]:
        if not isinstance(word, str) or not word.isprintable() or len(word) > _LONGEST:
            raise ValueError(f"{key} takes words")
        if known and word not in known:
            raise ValueError(f"{key} takes {', '.join(known)}, not {word[:40]}")
        yield word


def _lifts(table: _Table, key: str) -> frozenset[Lift]:
    held = table.get(key, [])
    if not isinstance(held, list) or any(one not in LIFTS for one in held):
        raise ValueError(f"{key} takes a list of {', '.join(LIFTS)}")
    return frozenset(cast("list[Lift]", held))


def _table(held: object, known: set[str]) -> _Table:
    if not isinstance(held, dict):
        raise ValueError("takes tables, as in the guide to rule files")
    for key in held:
        if key not in known:
            raise ValueError(f"{str(key)[:40]} is no part of it here: remove it")
    return held


def _list(table: _Table, key: str) -> list[object]:
    held = table.get(key, [])
    if not isinstance(held, list) or len(held) > _MOST_LIMITS:
        raise ValueError(f"{key} takes a list of at most {_MOST_LIMITS} tables")
    return held


def _text(table: _Table, key: str) -> str:
    held = table.get(key, "")
    if not isinstance(held, str) or not held.isprintable() or len(held) > _LONGEST:
        raise ValueError(f"{key} takes words of at most {_LONGEST} characters")
    return held.strip()


def _number(table: _Table, key: str, low: float, high: float) -> float | None:
    held = table.get(key)
    if held is None:
        return None
    # Python counts a bool as an int; a rule file does not.
    if isinstance(held, bool) or not isinstance(held, int | float) or not low <= held <= high:
        raise ValueError(f"{key} takes a number from {low:g} to {high:g}")
    return float(held)
