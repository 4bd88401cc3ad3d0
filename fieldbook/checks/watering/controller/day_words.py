"""One day of the season in a sign and in words: what may run, what runs, and why not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.watering.controller.job_permits import permit_of
from fieldbook.checks.watering.controller.job_programmes import (
    Outlet,
    calendar_of,
    controllers_of,
    outlets,
)
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.watering.clock_times import (
    ALL_DAY,
    time_in_words,
    windows_in,
    windows_in_words,
)
from fieldbook.watering.programmes.season_calendar import CalendarDay

Sign = Literal["+", "!", "?", ".", "-"]


@dataclass(frozen=True)
class DaySummary:
    """A day in short: its sign, the numbers of the zones that run such as "1-4,6", how many."""

    day: date
    sign: Sign
    zones: str
    many: int


def day_summary(job: LoadedJob, day: date) -> DaySummary:
    """The sign and the zones of a day, of all controllers together."""
    days = list(_days(job, day))
    running = {name for found in days for name in found.stations}
    numbers = sorted(
        one.runs.number or one.number
        for one in outlets(job)
        if one.terminal_id in running and one.runs is not None
    )
    return DaySummary(day, _sign(job, day, days), ranges(numbers), len(numbers))


def _days(job: LoadedJob, day: date) -> Iterator[CalendarDay]:
    """The day of each controller. A month is played at once, so that its days are kept."""
    first, last = day.replace(day=1), _month_end(day)
    for controller_id, _name in controllers_of(job):
        found = calendar_of(job, controller_id, first, last).on(day)
        if found is not None:
            yield found


def _month_end(day: date) -> date:
    after = date(day.year + day.month // 12, day.month % 12 + 1, 1)
    return date.fromordinal(after.toordinal() - 1)


def _sign(job: LoadedJob, day: date, days: Sequence[CalendarDay]) -> Sign:
    verdicts = {broken.verdict for found in days for broken in found.broken}
    if verdicts:
        return "!" if "no" in verdicts else "?"
    if any(found.runs for found in days):
        return "+"
    open_zones = (permit_of(job, zone).on(day).minutes for zone in job.zones)
    return "." if any(open_zones) else "-"


def ranges(numbers: Sequence[int]) -> str:
    """Numbers in order as "1-4,6"."""
    found: list[list[int]] = []
    for number in numbers:
        if found and found[-1][-1] in (number, number - 1):
            found[-1][1:] = [number]
        else:
            found.append([number])
    return ",".join("-".join(map(str, dict.fromkeys(one))) for one in found)


def day_lines(job: LoadedJob, day: date) -> Iterator[str]:
    """The day in words: its runs, its total against the window, and the rule's reasons."""
    yield f"{day:%A} {day.isoformat()}"
    by_id = {one.terminal_id: one for one in outlets(job)}
    ran = False
    for found in _days(job, day):
        ran = ran or bool(found.runs)
        yield from _runs(found, by_id)
    if not ran:
        yield "Nothing runs."
    yield from _rule(job, day)


def _runs(found: CalendarDay, by_id: dict[str, Outlet]) -> Iterator[str]:
    wrong = {id(broken.run): broken for broken in found.broken}
    for run in found.runs:
        outlet = by_id.get(run.station)
        name = zone_name(outlet.runs) if outlet is not None and outlet.runs else "no zone"
        yield (
            f"{time_in_words(int(run.start_min)):>8}  {run.programme}  {run.minutes:g} min  {name}"
        )
        broken = wrong.get(id(run))
        if broken is not None:
            word = "Barred" if broken.verdict == "no" else "Not checked"
            yield f"          {word}: {broken.why}"
    if found.runs:
        water = "" if found.gallons is None else f", {found.gallons:,.0f} gal"
        yield f"Together {found.run_min:g} min of {found.window_min} min allowed{water}."


def _rule(job: LoadedJob, day: date) -> Iterator[str]:
    """What the rule says of the day, once for zones of which it says the same."""
    said: dict[str, list[str]] = {}
    for zone in job.zones:
        permit = permit_of(job, zone).on(day)
        if permit.day == "no":
            words = f"may not run: {'; '.join(permit.why[:1])}"
        elif permit.missing:
            words = f"not known: {', '.join(permit.missing)}"
        else:
            hours = windows_in_words(windows_in(permit.minutes))
            words = "may run at any hour" if permit.minutes == ALL_DAY else f"may run {hours}"
            if permit.most_min is not None:
                words += f", at most {permit.most_min} min a zone"
        terms = f" ({'; '.join(permit.terms)})" if permit.terms else ""
        said.setdefault(f"{words}{terms}", []).append(str(zone.number or zone.name))
    for words, zones in said.items():
        numbers = [int(one) for one in zones if one.isdigit()]
        who = f"Zone {ranges(numbers)}" if len(zones) == 1 else f"Zones {ranges(numbers)}"
        yield f"{who} {words}."
