"""Days and times as they are typed: today, 2026-05-01, now, 14:30.

They are stored in ISO 8601. A typed time is local and has no offset: a crew compares it with a
watch.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})[ T])?(\d{1,2}):(\d{2})(?::\d{2})?")


def read_day(text: str) -> str:
    """The ISO date of "today", "yesterday" or a date such as 2026-05-01.

    Raises ValueError that says what may be typed.
    """
    word = text.strip().casefold()
    if word in ("today", "t"):
        return date.today().isoformat()
    if word in ("yesterday", "y"):
        return (date.today() - timedelta(days=1)).isoformat()
    try:
        return date.fromisoformat(word).isoformat()
    except ValueError as error:
        raise ValueError("a date such as 2026-05-01, or today") from error


def read_clock(text: str) -> str:
    """The ISO time of "now", "14:30" (today) or "2026-05-01 14:30".

    Raises ValueError that says what may be typed.
    """
    word = text.strip()
    if word.casefold() in ("now", "n"):
        return datetime.now().isoformat(timespec="minutes")
    found = _CLOCK.fullmatch(word)
    try:
        if found is None:
            raise ValueError(word)
        on = date.fromisoformat(found[1]) if found[1] else date.today()
        at = datetime(on.year, on.month, on.day, int(found[2]), int(found[3]))
    except ValueError as error:
        raise ValueError("a time such as 14:30, 2026-05-01 14:30, or now") from error
    return at.isoformat(timespec="minutes")


def day_of(text: str | None) -> date | None:
    """The day of a stored date or time; None if there is none, or if the text is no date."""
    try:
        return date.fromisoformat(text[:10]) if text else None
    except ValueError:
        return None


def time_of(text: str | None) -> datetime | None:
    """A stored time without its offset; None if there is none, or if the text is no time."""
    try:
        return datetime.fromisoformat(text).replace(tzinfo=None) if text else None
    except ValueError:
        return None


def instant_of(text: str | None) -> datetime | None:
    """A kept time as an instant, so that times of two places compare; None for what is no time.

    A time without an offset is one of this laptop's own clock.
    """
    try:
        return datetime.fromisoformat(text).astimezone() if text else None
    except (ValueError, OverflowError):
        return None


def order_of(text: str | None) -> datetime:
    """A key that sorts kept times as instants; what is no time comes first."""
    return instant_of(text) or datetime.min.replace(tzinfo=UTC)
