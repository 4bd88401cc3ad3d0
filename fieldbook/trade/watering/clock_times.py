"""Times of the day and windows, in minutes after midnight: "5:30 am", "21:00-09:00"."""

from __future__ import annotations

import re
from functools import lru_cache

DAY_MIN = 1440
"""Minutes of a day."""
Window = tuple[int, int]
"""From the first minute, to the minute it ends; one that ends no later goes over midnight."""
_TIME = re.compile(r"(\d{1,2})(?::?(\d{2}))?\s*(am|pm|a|p)?")
_NAMED = {"midnight": 0, "noon": 720, "24:00": DAY_MIN}
_HOURS, _HALF = 24, 12
_MOST_TIMES = 24
"""More starts than any controller takes."""


def read_time(text: str) -> int:
    """Minutes after midnight of "5:30", "5:30 am", "17:30", "530", "noon" or "24:00".

    Raises ValueError that says what it takes.
    """
    word = text.strip().casefold().replace(".", "")
    if word in _NAMED:
        return _NAMED[word]
    found = _TIME.fullmatch(word)
    hour = int(found[1]) if found else _HOURS
    minute = int(found[2] or 0) if found else 0
    half = (found[3] or "")[:1] if found else ""
    if half and not 1 <= hour <= _HALF:
        hour = _HOURS
    elif half:
        hour = hour % _HALF + (_HALF if half == "p" else 0)
    if hour >= _HOURS or minute >= 60:
        raise ValueError("a time of the day such as 5:30, 5:30 am or 21:00")
    return hour * 60 + minute


def read_times(text: str) -> tuple[int, ...]:
    """The times of "5:00, 8:30" or "5:00 am 8:30 am", in order and each once. Raises ValueError."""
    joined = re.sub(r"\s+(am|pm|a|p)\b", r"\1", text.casefold().replace(".", ""))
    found = {read_time(part) % DAY_MIN for part in re.split(r"[,;\s]+", joined) if part}
    if len(found) > _MOST_TIMES:
        raise ValueError(f"at most {_MOST_TIMES} times of the day")
    return tuple(sorted(found))


def times_text(times: tuple[int, ...]) -> str:
    """Times as they are stored."""
    return ", ".join(map(time_text, times))


def time_text(at_min: int) -> str:
    """A time as it is stored, such as "05:30"; the end of a day is "24:00"."""
    return f"{at_min // 60:02}:{at_min % 60:02}"


def time_in_words(at_min: int) -> str:
    """A time as it is typed into a controller, such as "5:30 am"."""
    hour, minute = divmod(at_min % DAY_MIN, 60)
    return f"{(hour + 11) % 12 + 1}:{minute:02} {'am' if hour < _HALF else 'pm'}"


def read_windows(text: str) -> tuple[Window, ...]:
    """The windows of "6:00-10:00, 18:00-22:00". Raises ValueError."""
    found = []
    for part in text.split(","):
        first, dash, last = part.partition("-")
        if not dash:
            raise ValueError("hours such as 06:00-10:00, 18:00-22:00")
        window = (read_time(first) % DAY_MIN, read_time(last))
        if window[0] == window[1]:
            raise ValueError("hours that begin and end at different times")
        found.append(window)
    return tuple(found)


def windows_text(windows: tuple[Window, ...]) -> str:
    """Windows as they are stored."""
    return ", ".join(f"{time_text(first)}-{time_text(last)}" for first, last in windows)


@lru_cache(maxsize=256)
def windows_in_words(windows: tuple[Window, ...]) -> str:
    """Windows as a sentence names them: "6:00 am to 10:00 am and 6:00 pm to midnight"."""
    return " and ".join(f"{_end_in_words(a)} to {_end_in_words(b)}" for a, b in windows)


def _end_in_words(at_min: int) -> str:
    return time_in_words(at_min) if at_min % DAY_MIN else "midnight"


@lru_cache(maxsize=256)
def minutes_of(windows: tuple[Window, ...]) -> int:
    """The minutes that windows cover, as a number whose bit n stands for minute n of the day."""
    found = 0
    for first, last in windows:
        if last > first:
            found |= span(first, last)
        else:
            found |= span(first, DAY_MIN) | span(0, last)
    return found


def span(first: int, last: int) -> int:
    """The bits of the minutes from `first` up to `last`, which is not one of them."""
    return (1 << last) - (1 << first) if last > first else 0


ALL_DAY = span(0, DAY_MIN)


def windows_in(minutes: int) -> tuple[Window, ...]:
    """The windows that a number of bits covers, each within the day."""
    found: list[Window] = []
    at = 0
    while minutes >> at:
        rest = minutes >> at
        # The lowest bit that is set, and the lowest clear one after it.
        first = at + (rest & -rest).bit_length() - 1
        run = ~(minutes >> first)
        at = first + (run & -run).bit_length() - 1
        found.append((first, at))
    return tuple(found)
