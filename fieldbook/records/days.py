"""Days and times as they are typed: today, May 1, 2026-05-01, now, 14:30.

They are stored in ISO 8601. A typed time is local and has no offset: a crew compares it with a
watch.
"""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import UTC, date, datetime, timedelta

_YEARS = range(1900, 2201)
"""Other years are typing mistakes, and days or months added to them may be no date at all."""
CLOCK_TOLERANCE = timedelta(minutes=5)
"""Two sound clocks may differ by this much; a time later than that is in the future."""
_FROM_TODAY = {"today": 0, "t": 0, "yesterday": -1, "y": -1, "tomorrow": 1}
_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_MONTH_DAY = re.compile(r"(?:([a-z]{3,9}) (\d{1,2})|(\d{1,2}) ([a-z]{3,9}))(?: (\d{4}))?")
_ALMOST_A_YEAR = timedelta(days=310)
"""A day of this year that is so far off was meant in the year beside it."""
_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})[ T])?(\d{1,2}):(\d{2})(?::\d{2})?")


def read_day(text: str) -> str:
    """The ISO date of "today", "yesterday", "tomorrow", "May 1", or a date such as 2026-05-01.

    A month and a day are of this year, or around New Year of the year beside it. "5/1" is refused:
    it is a day of May to one crew and of January to another. Raises ValueError that says what may
    be typed.
    """
    word = text.strip().casefold()
    if word in _FROM_TODAY:
        return (date.today() + timedelta(days=_FROM_TODAY[word])).isoformat()
    day = _date(word) or _month_and_day(word, date.today())
    if day is None:
        raise ValueError("a date such as 2026-05-01, May 1 or today")
    return day.isoformat()


def read_clock(text: str) -> str:
    """The ISO time of "now", "14:30" (today) or "2026-05-01 14:30".

    Raises ValueError that says what may be typed.
    """
    word = text.strip()
    if word.casefold() in ("now", "n"):
        return datetime.now().isoformat(timespec="minutes")
    found = _CLOCK.fullmatch(word)
    on = (_date(found[1]) if found[1] else date.today()) if found is not None else None
    try:
        if found is None or on is None:
            raise ValueError(word)
        at = datetime(on.year, on.month, on.day, int(found[2]), int(found[3]))
    except ValueError as error:
        raise ValueError("a time such as 14:30, 2026-05-01 14:30, or now") from error
    return at.isoformat(timespec="minutes")


def day_of(text: str | None) -> date | None:
    """The day of a stored date or time; None if the text is empty or no date we can use."""
    return _date(text[:10]) if text else None


def time_of(text: str | None) -> datetime | None:
    """A stored time without its offset; None if the text is empty or no time we can use."""
    try:
        at = datetime.fromisoformat(text).replace(tzinfo=None) if text else None
    except ValueError:
        return None
    return at if at is not None and at.year in _YEARS else None


def instant_of(text: str | None) -> datetime | None:
    """A kept time as an instant, so that times of two places compare; None for what is no time.

    A time without an offset is one of this laptop's own clock.
    """
    try:
        at = datetime.fromisoformat(text) if text else None
        return at.astimezone() if at is not None and at.year in _YEARS else None
    except (ValueError, OverflowError):
        return None
    except OSError:
        # Windows converts no local time before 1970.
        return at.replace(tzinfo=UTC) if at is not None else None


def order_of(text: str | None) -> datetime:
    """A key that sorts kept times as instants; what is no time comes first."""
    return instant_of(text) or datetime.min.replace(tzinfo=UTC)


def months_after(day: date, months: int) -> date:
    """The same day of the month so many months on, or the last day of a shorter month."""
    count = day.month - 1 + months
    year, month = day.year + count // 12, count % 12 + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def _month_and_day(word: str, today: date) -> date | None:
    """The day of "may 1", "1 may" or "may 1, 2026"; see `read_day` for the year."""
    found = _MONTH_DAY.fullmatch(" ".join(word.replace(",", " ").replace(".", " ").split()))
    if found is None:
        return None
    name, number, year = found[1] or found[4], found[2] or found[3], found[5]
    month = next((no for no, month in enumerate(_MONTHS, 1) if month.startswith(name)), 0)
    if year:
        return _date(f"{year}-{month:02}-{int(number):02}")
    years = (today.year, today.year - 1, today.year + 1)
    days = [_date(f"{one}-{month:02}-{int(number):02}") for one in years]
    return next((one for one in days if one and abs(one - today) < _ALMOST_A_YEAR), None)


def _date(text: str) -> date | None:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if day.year in _YEARS else None
