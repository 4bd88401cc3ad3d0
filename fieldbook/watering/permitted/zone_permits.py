"""Which minutes of each day a law allows to one zone, what bars the others, what is not known."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Literal

from fieldbook.trade.watering.clock_times import ALL_DAY, minutes_of, windows_in_words
from fieldbook.trade.watering.day_pattern import DayPattern, days_in_words
from fieldbook.trade.watering.season_text import season_text
from fieldbook.trade.watering.watering_law import (
    DayCase,
    DayLimit,
    Exemption,
    Lift,
    WateringLaw,
    Who,
)
from fieldbook.watering.permitted.site_facts import Site, Watered, fits

Verdict = Literal["yes", "no", "not known"]
_LAST_DAY, _LEAP = 31, (2, 29)
_HALF = 0.5


@dataclass(frozen=True)
class DayPermit:
    """What a law says of one day.

    `minutes` are the minutes of the day that are surely allowed, a bit each (`clock_times`); it is
    0 where the day is barred or something is not known. `day` answers for the day alone, `most_min`
    is the most that a zone may run on it. `why` are sentences, `missing` what nobody has looked up
    or entered, `terms` what the answer rests on.
    """

    minutes: int
    day: Verdict
    most_min: int | None = None
    why: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()


@dataclass(eq=False)
class Permit:
    """A law held against one property and one zone; ask `on` for a day. Answers are kept by day.

    Two permits are the same only where they are one object: get one from `permit_for`.
    """

    law: WateringLaw
    site: Site
    watered: Watered
    _kept: dict[date, DayPermit] = field(default_factory=dict, repr=False)
    _for: dict[int, bool | str] = field(default_factory=dict, repr=False)
    """Whom each part of the law is for, by the identity of its `Who`, which the law keeps."""

    def on(self, day: date) -> DayPermit:
        """What the law says of a day."""
        if day not in self._kept:
            self._kept[day] = self._judge(day)
        return self._kept[day]

    def limits_on(self, day: date) -> tuple[bool, ...]:
        """Which limits, exemptions and phases hold on a day; between changes the days repeat."""
        law, zone = self.law, self.site.time_zone
        seasons = [one.season for one in law.days] + [one.season for one in law.hours]
        seasons += [one.season for one in law.minutes] + [one.season for one in law.blackouts]
        seasons += [one.never_in for one in law.exemptions if one.never_in is not None]
        found = [season.covers(day, zone) for season in seasons]
        for exemption in law.exemptions:
            last = self.watered.planted_on or date.max
            for phase in exemption.phases if last < date.max else ():
                first, last = last, last + timedelta(days=phase.days)
                found.append(first <= day < last)
        return tuple(found)

    def _fits(self, who: Who) -> bool | str:
        """Whether a part of the law is for this property and zone; the same on every day."""
        if id(who) not in self._for:
            self._for[id(who)] = fits(who, self.site, self.watered)
        return self._for[id(who)]

    def _judge(self, day: date) -> DayPermit:
        lifted, phase, terms, unsure = self._lifted(day)
        out = _Answer(terms=terms, missing=unsure)
        if "blackout" not in lifted:
            self._blackouts(day, out)
        if phase is not None:
            self._case(phase, day, "new planting: ", out)
        elif "days" not in lifted:
            self._days(day, out)
        if "hours" not in lifted:
            self._hours(day, out)
        if "minutes" not in lifted:
            self._most(day, out)
        if self.law.freeze_f is not None:
            out.terms.append(f"nothing runs at {self.law.freeze_f:g} F or below")
        return out.permit()

    def _lifted(self, day: date) -> tuple[set[Lift], DayCase | None, list[str], list[str]]:
        """What exemptions lift on a day, the days of a phase, the terms, and facts missing."""
        lifted: set[Lift] = set()
        phase: DayCase | None = None
        terms: list[str] = []
        missing: list[str] = []
        for exemption in self.law.exemptions:
            holds = self._holds(exemption, day)
            if isinstance(holds, str):
                terms.append(holds)
                continue
            if holds is None:
                continue
            lifted |= exemption.lifts
            terms.append(f"{exemption.name} is exempt from {', '.join(sorted(exemption.lifts))}")
            # An exemption without phases leaves every day open.
            if exemption.phases and "days" in exemption.lifts:
                found, lacks = self._first(holds)
                phase = found or phase
                missing += lacks
        return lifted, phase, terms, missing

    def _holds(self, exemption: Exemption, day: date) -> tuple[DayCase, ...] | str | None:
        """The cases of an exemption that holds (none without phases); a term; None if it can't."""
        whom = self._fits(exemption.who)
        cases = self._phase(exemption, day) if exemption.phases else ()
        if whom is False or cases is None:
            return None
        if isinstance(whom, str):
            return f"{exemption.name}: enter the {whom}"
        return self._unmet_term(exemption, day) or cases

    def _unmet_term(self, exemption: Exemption, day: date) -> str:
        """The first term of an exemption that is not met; an empty text if all are."""
        never = exemption.never_in
        if never is not None and never.covers(day, self.site.time_zone):
            return f"{exemption.name} has no exemption in {season_text(never)}"
        if exemption.paper and self.watered.has_paper is not True:
            return f"{exemption.name} is exempt only with {exemption.paper}"
        if exemption.half_new and (self.watered.new_part or 0) < _HALF:
            return f"{exemption.name} is exempt only where half of the zone or more is new"
        return ""

    def _phase(self, exemption: Exemption, day: date) -> tuple[DayCase, ...] | None:
        planted = self.watered.planted_on
        first = planted
        for phase in exemption.phases:
            if first is None or day < first:
                return None
            if day < first + timedelta(days=phase.days):
                return tuple(_counted_from(case, first) for case in phase.cases)
            first += timedelta(days=phase.days)
        return None

    def _first(self, cases: tuple[DayCase, ...]) -> tuple[DayCase | None, list[str]]:
        """The first case that fits; or what is missing to tell which one does."""
        for case in cases:
            whom = self._fits(case.who)
            if isinstance(whom, str):
                return None, [whom]
            if whom:
                return case, []
        return None, []

    def _blackouts(self, day: date, out: _Answer) -> None:
        for blackout in self.law.blackouts:
            if blackout.season.covers(day, self.site.time_zone):
                whom = self._fits(blackout.who)
                if isinstance(whom, str):
                    out.missing.append(whom)
                elif whom:
                    out.bar(f"{blackout.words()}")

    def _days(self, day: date, out: _Answer) -> None:
        if "days" in self.law.unread:
            out.missing.append("the local watering days")
            out.day_known = False
        for limit in self.law.days:
            if limit.season.covers(day, self.site.time_zone):
                found, lacks = self._first(limit.cases)
                out.missing += lacks
                out.day_known = out.day_known and not lacks
                if found is not None:
                    self._case(found, day, _season_of(limit), out)

    def _case(self, case: DayCase, day: date, before: str, out: _Answer) -> None:
        if case.days.kind == "assigned" and self.site.assigned is None:
            out.missing.append("the days that the utility assigned")
            out.day_known = False
            return
        if not case.days.covers(day, self.site.assigned):
            out.bar(f"{before}{_case_words(case)}{_odd_day(case.days, day)}")

    def _hours(self, day: date, out: _Answer) -> None:
        if "hours" in self.law.unread:
            out.missing.append("the local watering hours")
        for limit in self.law.hours:
            if not limit.season.covers(day, self.site.time_zone):
                continue
            whom = self._fits(limit.who)
            if isinstance(whom, str):
                out.missing.append(whom)
            elif whom:
                covered = minutes_of(limit.windows)
                out.minutes &= ALL_DAY & ~covered if limit.barred else covered
                how = "not" if limit.barred else "only"
                out.why.append(f"{how} {windows_in_words(limit.windows)}")

    def _most(self, day: date, out: _Answer) -> None:
        if "minutes" in self.law.unread:
            out.terms.append("whether minutes are limited was not looked up")
        for limit in self.law.minutes:
            if limit.season.covers(day, self.site.time_zone) and (
                # A limit whose fact is missing is taken to hold: it is the stricter reading.
                self._fits(limit.who) is not False
            ):
                out.most_min = min(out.most_min or limit.most_min, limit.most_min)


@lru_cache(maxsize=64)
def permit_for(law: WateringLaw, site: Site, watered: Watered) -> Permit:
    """The permit of a law, a property and a zone: the same object for the same facts."""
    return Permit(law, site, watered)


@dataclass
class _Answer:
    """What is gathered of one day."""

    minutes: int = ALL_DAY
    barred: bool = False
    day_known: bool = True
    most_min: int | None = None
    why: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    terms: list[str] = field(default_factory=list)

    def bar(self, reason: str) -> None:
        """The day is barred, for this reason."""
        self.barred = True
        self.why.insert(0, reason)

    def permit(self) -> DayPermit:
        """The answer: barred wins over not known, and not known over allowed."""
        day: Verdict = "no" if self.barred else "yes" if self.day_known else "not known"
        minutes = 0 if self.barred or self.missing else self.minutes
        missing = tuple(dict.fromkeys(self.missing))
        return DayPermit(minutes, day, self.most_min, tuple(self.why), missing, tuple(self.terms))


@lru_cache(maxsize=256)
def _case_words(case: DayCase) -> str:
    whom = case.who.words()
    return f"{whom}: {days_in_words(case.days)}" if whom else days_in_words(case.days)


def _counted_from(case: DayCase, first: date) -> DayCase:
    """The case with its interval counted from the first day of its phase."""
    if case.days.kind != "interval" or case.days.first is not None:
        return case
    return replace(case, days=replace(case.days, first=first))


def _season_of(limit: DayLimit) -> str:
    return "" if limit.season.kind == "all year" else f"{season_text(limit.season)}: "


def _odd_day(days: DayPattern, day: date) -> str:
    """Why the 31st and 29 February are as they are, where the rule goes by odd and even days."""
    if days.kind not in ("odd", "even"):
        return ""
    for is_it, name, says in (
        (day.day == _LAST_DAY, "the 31st", days.on_31st),
        ((day.month, day.day) == _LEAP, "29 February", days.on_feb_29),
    ):
        if is_it:
            return f" ({name} is {'a day for nobody' if says == 'nobody' else 'an odd day here'})"
    return ""
