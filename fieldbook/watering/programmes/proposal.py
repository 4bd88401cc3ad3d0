"""Work out programmes: days that the rule allows, an order that fits the hours, starts to type.

A season is cut where the rule changes, and each part gets programmes of its own. Each programme
starts as often as its zones have cycles, so that any controller can soak. What doesn't fit is said,
never squeezed in. Every programme is played against the rule before it is proposed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil, floor

from fieldbook.trade.watering.clock_times import span
from fieldbook.trade.watering.day_pattern import DayPattern
from fieldbook.watering.permitted.zone_permits import Permit
from fieldbook.watering.programmes.controller_programme import (
    MonthPercents,
    Programme,
    StationTime,
)
from fieldbook.watering.programmes.open_days import chosen_days, open_days, times_a_week
from fieldbook.watering.programmes.run_order import Item, Order, best_order
from fieldbook.watering.programmes.season_calendar import Station, season_calendar

_FULL = 100.0
_WEEK = 7
_LONGEST = 365
_EARLIEST_MIN = 180
"""Three in the morning: no start is skipped or comes twice when summer time begins or ends."""


@dataclass(frozen=True)
class Wanted:
    """What one zone needs in the peak month: minutes a week, and what its soil takes at a time.

    `days_between` is how many days its soil may go without water. `cycle_min` is the longest cycle
    without run-off, None where there is no limit; `soak_min` the rest after it.
    """

    station: str
    week_min: float
    days_between: int
    permit: Permit
    cycle_min: float | None = None
    soak_min: float = 0.0


@dataclass(frozen=True)
class Proposal:
    """The programmes, and a sentence for whatever could not be met."""

    programmes: tuple[Programme, ...]
    notes: tuple[str, ...]


def propose(
    wanted: Sequence[Wanted], first: date, last: date, percents: MonthPercents = ()
) -> Proposal:
    """Programmes for the zones from `first` to `last`, both included.

    `percents` are the months' parts of the peak; a month that is not named has 100. The minutes of
    a part of the season are those of its own greatest month, which is 100 % there.
    """
    programmes: list[Programme] = []
    notes: list[str] = []
    for begin, end in _parts(wanted, first, last):
        here = {month: dict(percents).get(month, _FULL) for month in _months(begin, end)}
        most = max(here.values()) or _FULL
        there = tuple((at, pct * _FULL / most) for at, pct in here.items() if pct != most)
        needs = [_scaled(one, most / _FULL) for one in wanted]
        for made in _part(needs, begin, end):
            if isinstance(made, str):
                notes.append(made)
            else:
                programmes.append(replace(made, percent_by_month=there))
    named = [replace(one, name=_letter(at)) for at, one in enumerate(programmes)]
    return Proposal(tuple(named), tuple(dict.fromkeys(notes)))


def _scaled(wanted: Wanted, part: float) -> Wanted:
    """What a zone needs where the greatest month needs this part of the peak: less, and rarer."""
    between = min(int(wanted.days_between / part), _LONGEST) if part else _LONGEST
    return replace(wanted, week_min=wanted.week_min * part, days_between=max(between, 1))


def _months(first: date, last: date) -> list[int]:
    """The months from one day to another, each once."""
    begin, end = first.year * 12 + first.month - 1, last.year * 12 + last.month - 1
    return sorted({at % 12 + 1 for at in range(begin, end + 1)})


def _letter(at: int) -> str:
    """A, B, ... Z, then A2, B2."""
    return chr(ord("A") + at % 26) + (str(at // 26 + 1) if at >= 26 else "")


def _parts(wanted: Sequence[Wanted], first: date, last: date) -> Iterator[tuple[date, date]]:
    """The season cut where some limit of the rule begins or ends."""
    permits = {id(one.permit): one.permit for one in wanted}.values()
    begin, day = first, first
    while day < last:
        after = day + timedelta(days=1)
        if any(permit.limits_on(day) != permit.limits_on(after) for permit in permits):
            yield begin, day
            begin = after
        day = after
    yield begin, last


@dataclass(frozen=True)
class _Zone:
    """A zone on the days chosen for it: whole minutes a day, of which no more than `most_min`."""

    wanted: Wanted
    minutes: int
    most_min: int

    def cycles(self) -> tuple[int, int]:
        """How many cycles, and the whole minutes of each."""
        longest = max(floor(self.wanted.cycle_min), 1) if self.wanted.cycle_min else self.minutes
        cycles = ceil(self.minutes / longest)
        each = ceil(self.minutes / cycles)
        # Rounded up unless that would break a limit of minutes.
        return cycles, each if cycles * each <= self.most_min else self.minutes // cycles


@dataclass(frozen=True)
class _Group:
    """Zones that run on the same days in the same hours; `spare` are further weekdays to use."""

    zones: tuple[Wanted, ...]
    days: DayPattern
    hours: int
    most_min: int
    spare: frozenset[int] = frozenset()

    def zones_a_day(self) -> list[_Zone]:
        """The zones with their minutes on each of these days."""
        times = times_a_week(self.days)
        wanted = ((one, max(1, ceil(one.week_min / times))) for one in self.zones)
        return [_Zone(one, min(minutes, self.most_min), self.most_min) for one, minutes in wanted]


def _part(wanted: Sequence[Wanted], first: date, last: date) -> Iterator[Programme | str]:
    """Programmes, or sentences, of one part of the season, in which the rule stays the same."""
    span_words = f"from {first} to {last}"
    groups, notes = _groups(wanted, first, last)
    yield from notes
    taken: list[tuple[DayPattern, Order]] = []
    while groups:
        group = groups.pop(0)
        free = group.hours
        for other, order in taken:
            free &= ~_busy(order) if _may_meet(group.days, other) else free
        many = len(group.zones)
        while many and (made := _fitted(group, many, free, (first, last))) is None:
            many -= 1
        late = group.zones[many:]
        if late and group.spare:
            often = _often(late[0], group.most_min)
            days = chosen_days((DayPattern("weekdays", group.spare),), often)
            if days is not None:
                left = group.spare - days.weekdays
                groups.insert(0, replace(group, zones=late, days=days, spare=left))
        elif late:
            names = ", ".join(one.station for one in late)
            yield f"{names}: the runs don't fit the hours that are allowed {span_words}."
        if many and made is not None:
            programmes, order = made
            taken.append((group.days, order))
            met = replace(group, zones=group.zones[:many])
            yield from _short(met, span_words)
            yield from _dry(met, span_words)
            yield from _sound(programmes, group.zones, first, last)


def _often(wanted: Wanted, most_min: int) -> int:
    """How many days a week: as the soil asks, and as many as a limit of minutes needs."""
    by_soil = ceil(_WEEK / max(wanted.days_between, 1))
    return min(max(by_soil, ceil(wanted.week_min / most_min)), _WEEK)


def _groups(wanted: Sequence[Wanted], first: date, last: date) -> tuple[list[_Group], list[str]]:
    """The zones by the days and hours they may have; a sentence for each that may have none."""
    found: dict[tuple[DayPattern, int, int], _Group] = {}
    notes = []
    for one in wanted:
        left_open = open_days(one.permit, first, last)
        days = chosen_days(left_open.patterns, _often(one, left_open.most_min))
        if days is None or not left_open.hours:
            lacks = one.permit.on(first).missing
            why = f": enter {', '.join(lacks)}" if lacks else ""
            notes.append(
                f"{one.station} has no day from {first} to {last} that is known to be allowed{why}."
            )
            continue
        key = (days, left_open.hours, left_open.most_min)
        weekly = left_open.patterns[0].weekdays if days.kind == "weekdays" else frozenset()
        before = found.get(key, _Group((), *key, weekly - days.weekdays))
        found[key] = replace(before, zones=(*before.zones, one))
    return list(found.values()), notes


def _short(group: _Group, span_words: str) -> Iterator[str]:
    """A sentence for each zone that a limit of minutes leaves short of water."""
    for zone in group.zones_a_day():
        gets, needs = zone.minutes * times_a_week(group.days), zone.wanted.week_min
        if zone.minutes == group.most_min and gets < needs:
            yield (
                f"{zone.wanted.station} gets {gets:.0f} of the {needs:.0f} min it needs a week "
                f"{span_words}: at most {group.most_min} min a day are allowed."
            )


def _dry(group: _Group, span_words: str) -> Iterator[str]:
    """A sentence for zones that the rule lets water more rarely than their soil asks."""
    times = times_a_week(group.days)
    # Once a week holds for soil that lasts a week or longer.
    dry = [one for one in group.zones if min(_WEEK / one.days_between, _WEEK) > times + 0.5]
    if dry:
        names = ", ".join(one.station for one in dry)
        least = min(one.days_between for one in dry)
        yield (
            f"{names}: watered {_often_words(times)} {span_words}, but soil and plants ask for it "
            f"{'daily' if least == 1 else f'every {least} days'}."
        )


def _often_words(times: float) -> str:
    return "once a week" if times == 1 else f"{times:g} times a week"


def _busy(order: Order) -> int:
    found = 0
    for slot in order.slots:
        found |= span(slot.start_min, slot.end_min)
    return found


def _may_meet(one: DayPattern, other: DayPattern) -> bool:
    """Whether two patterns can fall on the same day; only weekdays are surely apart."""
    if one.kind == other.kind == "weekdays":
        return bool(one.weekdays & other.weekdays)
    return True


def _fitted(
    group: _Group, many: int, hours: int, in_use: tuple[date, date]
) -> tuple[list[Programme], Order] | None:
    """Programmes for the first zones of a group, and the order of their runs; None if too long."""
    by_cycles: dict[int, list[StationTime]] = {}
    for zone in group.zones_a_day()[:many]:
        cycles, each = zone.cycles()
        by_cycles.setdefault(cycles, []).append(StationTime(zone.wanted.station, each))
    soaks = {one.station: one.soak_min for one in group.zones}
    held = sorted(by_cycles.items(), reverse=True)
    items = [_item(cycles, stations, soaks) for cycles, stations in held]
    order = best_order(items, hours, _EARLIEST_MIN) or best_order(items, hours)
    if order is None:
        return None
    programmes = []
    for item, (_, stations) in zip(items, held, strict=True):
        starts = tuple(slot.start_min for slot in order.slots if slot.name == item.name)
        programme = Programme(item.name, group.days, starts, tuple(stations))
        programmes.append(replace(programme, first_day=in_use[0], last_day=in_use[1]))
    return programmes, order


def _item(cycles: int, held: Sequence[StationTime], soaks: Mapping[str, float]) -> Item:
    """A programme as one piece: between two of its starts every zone of it has to soak."""
    length = int(sum(one.minutes for one in held))
    apart = max(one.minutes + soaks[one.station] for one in held)
    lag = max(0, ceil(apart - length)) if cycles > 1 else 0
    return Item(f"{cycles} cycles", cycles, length, lag)


def _sound(
    programmes: Sequence[Programme], zones: Sequence[Wanted], first: date, last: date
) -> Iterator[Programme | str]:
    """The programmes, unless one of their runs is not surely allowed: then a sentence."""
    stations = [Station(one.station, one.permit) for one in zones]
    calendar = season_calendar(programmes, stations, first, last)
    broken = next(calendar.broken(), None)
    if broken is None:
        yield from programmes
        return
    day, run = broken
    yield f"{run.run.station} can't run as worked out on {day}: {run.why}."
