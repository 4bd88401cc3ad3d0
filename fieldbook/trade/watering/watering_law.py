"""One jurisdiction's watering rule as frozen data: who may water when, and what is exempt.

Limits of one kind all hold at once, so the stricter governs. In a limit of days the first case
that fits the property and the zone gives the days.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from fieldbook.trade.watering.clock_times import Window, windows_in_words
from fieldbook.trade.watering.day_pattern import DayPattern, days_in_words
from fieldbook.trade.watering.season_text import Season, season_text

METHODS = ("automatic", "sprinkler", "drip", "bubbler", "soaker", "hand", "hose-end")
SOURCES = ("public", "reclaimed", "well", "other")
PROPERTIES = ("home", "other")
NUMBERS = ("odd", "even", "none")
PURPOSES = ("watering", "testing", "repair")
Lift = Literal["days", "hours", "minutes", "blackout"]
LIFTS: tuple[Lift, ...] = ("days", "hours", "minutes", "blackout")


@dataclass(frozen=True)
class Who:
    """Whom a limit, a case or an exemption is for; what is empty or None fits everybody."""

    number: tuple[str, ...] = ()
    digits: tuple[int, ...] = ()
    group: tuple[str, ...] = ()
    side: tuple[str, ...] = ()
    property: tuple[str, ...] = ()
    under_acres: float | None = None
    from_acres: float | None = None
    method: tuple[str, ...] = ()
    water: tuple[str, ...] = ()
    purpose: tuple[str, ...] = ()

    def words(self) -> str:
        """For whom, as a sentence names them; an empty text for everybody."""
        return ", ".join(self._parts())

    def _parts(self) -> Iterator[str]:
        if self.number:
            yield _numbers_in_words(self.number)
        if self.digits:
            yield f"house numbers that end in {', '.join(map(str, self.digits))}"
        if self.group:
            yield f"group {' or '.join(self.group)}"
        if self.side:
            yield f"the {' or '.join(self.side)} side of the street"
        if self.property:
            kinds = {"home": "homes", "other": "other properties than homes"}
            yield " or ".join(kinds[one] for one in self.property)
        if self.under_acres is not None:
            yield f"under {self.under_acres:g} acres"
        if self.from_acres is not None:
            yield f"{self.from_acres:g} acres or more"
        if self.method:
            yield f"{' or '.join(self.method)} watering"
        if self.water:
            yield f"{' or '.join(self.water)} water"
        if self.purpose:
            yield " or ".join(self.purpose)


def _numbers_in_words(numbers: Sequence[str]) -> str:
    """Such as "odd house numbers or none"."""
    said = " or ".join(one for one in numbers if one != "none")
    if not said:
        return "properties without a house number"
    return f"{said} house numbers{' or none' if 'none' in numbers else ''}"


@dataclass(frozen=True)
class DayCase:
    """The days of those whom `who` fits."""

    who: Who
    days: DayPattern


@dataclass(frozen=True)
class DayLimit:
    """Days of a season: the first case that fits gives them; if none fits, it limits nothing."""

    season: Season
    cases: tuple[DayCase, ...]

    def words(self) -> str:
        """The limit as one line of text."""
        return _with_season(self.season, "; ".join(map(_case_words, self.cases)))


@dataclass(frozen=True)
class HourLimit:
    """Windows of a season to which watering is limited, or in which it is `barred`.

    Times are minutes after midnight. A window that ends no later than it begins goes over midnight;
    each minute counts to the calendar day on which it falls.
    """

    season: Season
    who: Who
    windows: tuple[Window, ...]
    barred: bool = False

    def words(self) -> str:
        """The limit as one line of text."""
        head = "not" if self.barred else "only"
        text = f"{head} {windows_in_words(self.windows)}"
        return _with_season(self.season, _for(self.who, text))


@dataclass(frozen=True)
class MinuteLimit:
    """The most minutes that one zone may run on one day."""

    season: Season
    who: Who
    most_min: int

    def words(self) -> str:
        """The limit as one line of text."""
        return _with_season(self.season, _for(self.who, f"at most {self.most_min} min a zone"))


@dataclass(frozen=True)
class Blackout:
    """A season in which nobody whom `who` fits may water."""

    season: Season
    who: Who

    def words(self) -> str:
        """The limit as one line of text."""
        return _with_season(self.season, _for(self.who, "no watering"))


@dataclass(frozen=True)
class Phase:
    """Part of the time after planting: how many days it lasts, and the days of it by case."""

    days: int
    cases: tuple[DayCase, ...]


@dataclass(frozen=True)
class Exemption:
    """What an exemption lifts, for whom, and on which terms.

    With `phases` it is for new planting: day 1 is the day of planting, and each phase begins on
    the day after the one before. `paper` is what has to be in hand. `half_new` asks that half of
    the zone or more is new. In `never_in` it doesn't hold.
    """

    name: str
    who: Who
    lifts: frozenset[Lift]
    phases: tuple[Phase, ...] = ()
    paper: str = ""
    half_new: bool = False
    never_in: Season | None = None

    def words(self) -> str:
        """The exemption as one line of text."""
        terms = [f"free of {', '.join(one for one in LIFTS if one in self.lifts)}"]
        start = 1
        for phase in self.phases:
            which = " / ".join(map(_case_words, phase.cases))
            terms.append(f"days {start} to {start + phase.days - 1}: {which}")
            start += phase.days
        terms += [f"with {self.paper}"] if self.paper else []
        terms += ["only where half of the zone or more is new"] if self.half_new else []
        terms += [f"not in {season_text(self.never_in)}"] if self.never_in else []
        return f"{self.name}: {'; '.join(terms)}"


@dataclass(frozen=True)
class WateringLaw:
    """One jurisdiction's rule. `read_on` is the day the text was read, in ISO 8601.

    `unread` names what was not read or not looked up: of those the answer is "not known", never
    "free". At `freeze_f` and below (degrees Fahrenheit) nothing may run.
    """

    source: str
    read_on: str = ""
    days: tuple[DayLimit, ...] = ()
    hours: tuple[HourLimit, ...] = ()
    minutes: tuple[MinuteLimit, ...] = ()
    blackouts: tuple[Blackout, ...] = ()
    exemptions: tuple[Exemption, ...] = ()
    freeze_f: float | None = None
    unread: frozenset[Lift] = frozenset()

    def lines(self) -> list[str]:
        """The whole rule, a line of text for each limit and exemption."""
        found = [one.words() for one in self.days]
        found += [one.words() for one in self.hours]
        found += [one.words() for one in self.minutes]
        found += [one.words() for one in self.blackouts]
        found += [one.words() for one in self.exemptions]
        if self.freeze_f is not None:
            found.append(f"no watering at {self.freeze_f:g} F or below")
        names = [one for one in LIFTS if one in self.unread]
        return found + ([f"not looked up: {', '.join(names)}"] if names else [])


def _case_words(case: DayCase) -> str:
    return _for(case.who, days_in_words(case.days))


def _for(who: Who, text: str) -> str:
    whom = who.words()
    return f"{whom}: {text}" if whom else text


def _with_season(season: Season, text: str) -> str:
    return text if season.kind == "all year" else f"{season_text(season)}: {text}"
