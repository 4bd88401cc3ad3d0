"""May one run go ahead? Yes, no or not known, with the reason in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from fieldbook.trade.watering.clock_times import time_in_words
from fieldbook.watering.permitted.wall_clock import bits, stretches
from fieldbook.watering.permitted.zone_permits import Permit, Verdict


@dataclass(frozen=True)
class MayRun:
    """The answer for one run, with its reasons, what is missing, and the terms it rests on."""

    verdict: Verdict
    why: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()


def may_run(
    permit: Permit, day: date, start_min: int, minutes: float, low_f: float | None = None
) -> MayRun:
    """Whether a zone may run from `start_min` (minutes after midnight) for `minutes`.

    Each minute is held against the day on which the wall clock shows it. `low_f` is the lowest
    temperature expected, where it is known.
    """
    freeze = permit.law.freeze_f
    if freeze is not None and low_f is not None and low_f <= freeze:
        return MayRun("no", (f"no watering at {freeze:g} F or below",))
    barred: list[str] = []
    missing: list[str] = []
    terms: list[str] = []
    for stretch in stretches(day, start_min, minutes, permit.site.time_zone):
        found = permit.on(stretch[0])
        terms += found.terms
        if found.day == "no":
            barred += found.why[:1]
        elif found.missing:
            missing += found.missing
        elif bits(stretch) & ~found.minutes:
            barred.append(
                f"{time_in_words(stretch[1])} to {time_in_words(stretch[2])} is outside "
                f"the hours: {'; '.join(found.why)}"
            )
        if found.most_min is not None and minutes > found.most_min:
            barred.append(f"at most {found.most_min} min a zone, not {minutes:g}")
    verdict: Verdict = "no" if barred else "not known" if missing else "yes"
    return MayRun(verdict, _once(barred), _once(missing), _once(terms))


def _once(words: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words))
