"""What the answer depends on besides the law: the property, and one zone of it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Literal

from fieldbook.trade.watering.day_pattern import DayPattern
from fieldbook.trade.watering.watering_law import Who

Parity = Literal["odd", "even"]
_NUMBER = re.compile(r"\s*(\d{1,9})\b|\s*(\d{1,9})[A-Za-z]\b")


@dataclass(frozen=True)
class Site:
    """A property. None or an empty text is "not known"; `no_number` says that it has no number.

    `assigned` are the days that a utility gave to it. `time_zone` is an IANA name.
    """

    house_number: int | None = None
    no_number: bool = False
    group: str = ""
    side: Parity | None = None
    property: Literal["home", "other"] | None = None
    acres: float | None = None
    water: str | None = None
    assigned: DayPattern | None = None
    time_zone: str = ""


@dataclass(frozen=True)
class Watered:
    """One zone, or what else is watered. `methods` are words of `watering_law.METHODS`.

    `planted_on` is the day of a new planting, which counts as day 1; `new_part` the part of the
    zone that is new, from 0 to 1; `has_paper` whether a permit or consent is in hand.
    """

    methods: frozenset[str] = frozenset({"automatic", "sprinkler"})
    purpose: str = "watering"
    planted_on: date | None = None
    new_part: float | None = None
    has_paper: bool | None = None


def house_number_of(address: str) -> int | None:
    """The house number with which an address begins, as in "12 Alder Lane" and "12B Alder Lane"."""
    found = _NUMBER.match(address)
    return int(found[1] or found[2]) if found else None


def fits(who: Who, site: Site, watered: Watered) -> bool | str:
    """Whether a limit is for this property and zone; the fact that is missing to tell, if any."""
    missing = ""
    for answer in (
        _number_fits(who, site),
        _digit_fits(who, site),
        _word_fits(who.group, site.group or None, "watering group"),
        _word_fits(who.side, site.side, "side of the street"),
        _word_fits(who.property, site.property, "kind of property"),
        _word_fits(who.water, site.water, "water source"),
        _acres_fit(who, site),
        not who.method or bool(watered.methods & set(who.method)),
        not who.purpose or watered.purpose in who.purpose,
    ):
        # One part that surely doesn't fit settles it, whatever else is not known.
        if answer is False:
            return False
        missing = missing or (answer if isinstance(answer, str) else "")
    return missing or True


def _number_fits(who: Who, site: Site) -> bool | str:
    if not who.number:
        return True
    if site.no_number:
        return "none" in who.number
    if site.house_number is None:
        return "house number"
    return ("odd" if site.house_number % 2 else "even") in who.number


def _digit_fits(who: Who, site: Site) -> bool | str:
    if not who.digits or site.no_number:
        return not who.digits
    if site.house_number is None:
        return "house number"
    return site.house_number % 10 in who.digits


def _word_fits(words: tuple[str, ...], known: str | None, name: str) -> bool | str:
    if not words:
        return True
    return name if known is None else known.casefold() in {word.casefold() for word in words}


def _acres_fit(who: Who, site: Site) -> bool | str:
    if who.under_acres is None and who.from_acres is None:
        return True
    if site.acres is None:
        return "size of the lot"
    over = who.from_acres is None or site.acres >= who.from_acres
    return over and (who.under_acres is None or site.acres < who.under_acres)
