"""A diagnosis in plain words: what is likely wrong, what else would show, what to read next."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fieldbook.diagnosis.fault_axes import Axis, Cause
from fieldbook.diagnosis.fault_bench import FIRST_HEAD, FLOW, RUNNING, STATIC
from fieldbook.diagnosis.head_signs import causes_show, leak_places
from fieldbook.diagnosis.next_reading import NextReading
from fieldbook.diagnosis.ranking import Diagnosis, RankedFault
from fieldbook.diagnosis.zone_parts import ZoneReadings
from fieldbook.trade.water_faults import WaterFaults, water_faults

CHANCES_NOTE = (
    "Chances and minutes are common practice, no source. They rank what to look at; they prove "
    "nothing."
)
NOTHING_SHOWN = "Nothing wrong is shown: the zone as recorded explains what was read."
UNEXPLAINED = (
    "No fault explains these readings, nor two together. Read them again, and see whether the zone "
    "in the ground is the one in the record."
)
_MOST_SHOWN, _LEAST_LISTED, MOST_LISTED = 3, 0.02, 5
_WORTH_NAMING = 0.08
"""A change of flow or pressure by so small a part is not named among what else shows."""


@dataclass(frozen=True)
class Shown:
    """How figures are shown: by default in psi and gpm. `place` shortens a name of the network."""

    psi: Callable[[float], str] = lambda value: f"{value:.0f} psi"
    gpm: Callable[[float], str] = lambda value: f"{value:.1f} gpm"
    place: Callable[[str], str] = str


@dataclass(frozen=True)
class FaultLines:
    """One ranked group in words: a title with its chance, and lines about it.

    look: how to see which of its causes it is. cautions: dangers of looking, by name.
    """

    number: int
    title: str
    causes: str
    severity: str
    also: str
    look: str
    cautions: tuple[str, ...]


def headline(found: Diagnosis, shown: Shown) -> str:
    """What the diagnosis comes to, in a sentence."""
    if found.verdict == "unexplained":
        return UNEXPLAINED
    if found.verdict == "sound":
        return NOTHING_SHOWN
    first = found.ranked[0]
    if found.verdict == "found":
        return f"{_odds_word(first.chance)}: {group_words(first, shown)}."
    leading = [one for one in found.ranked if one.chance >= 0.5 * first.chance][:3]
    words = [group_words(one, shown) for one in leading]
    if len(leading) == 1 or found.nexts:
        return f"Can't tell yet: {'; or '.join(words)}."
    return f"Can't tell: no reading that is left tells these apart: {'; or '.join(words)}."


def group_words(one: RankedFault, shown: Shown) -> str:
    """What a group changes in the water, in words."""
    if one.sound:
        return "nothing is wrong"
    return ", and ".join(_axis_words(axis, shown) for axis in one.axes)


def _axis_words(axis: Axis, shown: Shown) -> str:
    place = shown.place(axis.place)
    match axis.change:
        case "less at a head":
            return f"{place} lets too little water through"
        case "more at a node":
            return f"too much water leaves at {place}"
        case "lateral loses":
            return f"{place} loses too much pressure"
        case "none":
            at_head = f"{place} does not stand or rise as it should"
            return at_head if place else "the zone's valve does not shut"
        case _:
            return _WORDS[axis.change]


_WORDS = {
    "more before the valve": "water leaves before the zone's valve",
    "valve loses": "too much pressure is lost at the zone's valve or right behind it",
    "shared part loses": "too much pressure is lost between the tap and the zone's valve",
    "street loses": "too much pressure is lost before the tap, once water runs",
    "street pressure": "the street gives less pressure than the record says",
    "regulator low": "the zone's regulator holds the pressure too low",
    "regulator open": "the zone's regulator does not hold the pressure down",
}


def _odds_word(chance: float) -> str:
    for least, word in ((0.9, "Very likely"), (0.6, "Likely"), (0.3, "Possible")):
        if chance >= least:
            return word
    return "Less likely" if chance >= 0.1 else "Unlikely"


def odds_words(chance: float) -> str:
    """A chance in words and percent: "Likely, 82 %"; neither 0 nor 100 is ever said."""
    return f"{_odds_word(chance)}, {min(max(round(100.0 * chance), 1), 99)} %"


def fault_lines(
    found: Diagnosis, readings: ZoneReadings, shown: Shown, table: WaterFaults | None = None
) -> list[FaultLines]:
    """The ranked groups that are worth a line, in words."""
    table = water_faults() if table is None else table
    listed = [one for one in found.ranked if one.chance >= _LEAST_LISTED][:MOST_LISTED]
    return [
        _lines(number, one, found, readings, shown, table)
        for number, one in enumerate(listed, start=1)
    ]


def _lines(
    number: int,
    one: RankedFault,
    found: Diagnosis,
    readings: ZoneReadings,
    shown: Shown,
    table: WaterFaults,
) -> FaultLines:
    title = f"{odds_words(one.chance)}: {group_words(one, shown)}"
    if one.sound:
        return FaultLines(number, title, "", "", "", "", ())
    kinds = _kinds(one)
    looks = dict.fromkeys(table.words[cause.kind].look for cause in kinds)
    cautions = dict.fromkeys(table.words[cause.kind].caution for cause in kinds)
    # A loss goes with the square of the flow, which falls as the loss grows.
    slowed = min(one.mean[FLOW] / max(found.base[FLOW], 0.1), 1.0) ** 2
    bad = [
        _severity(axis, severity, slowed, shown)
        for axis, severity in zip(one.axes, one.severities, strict=True)
    ]
    return FaultLines(
        number,
        title,
        "; or ".join(table.words[kind].words.format(at=at) for kind, at in _named(one, shown)),
        "; ".join(filter(None, bad)),
        "; ".join(_also(one, found, readings, shown)),
        "; ".join(looks),
        tuple(name for name in cautions if name),
    )


def _kinds(one: RankedFault) -> list[Cause]:
    """The causes of a group, one of each kind, likeliest first."""
    causes = [cause for members, share in one.causes if share >= 0.05 for cause in members]
    return list({cause.kind: cause for cause in reversed(causes)}.values())[::-1]


def _named(one: RankedFault, shown: Shown) -> list[tuple[str, str]]:
    """The kinds of a group, each with its places in words."""
    found: dict[str, list[str]] = {}
    for members, share in one.causes:
        for cause in members:
            if share >= 0.05:
                found.setdefault(cause.kind, []).append(shown.place(cause.place))
    named = {kind: list(dict.fromkeys(places)) for kind, places in found.items()}
    return [(kind, " or ".join(places[:_MOST_SHOWN])) for kind, places in named.items()]


def _severity(axis: Axis, severity: float, slowed: float, shown: Shown) -> str:
    match axis.change:
        case "less at a head":
            return f"about {100 * severity:.0f} % of its nozzle is shut"
        case "more at a node" | "more before the valve":
            return f"about {shown.gpm(severity)} more than usual"
        case "valve loses" | "shared part loses" | "street loses":
            return f"about {shown.psi(severity * slowed)} lost there"
        case "street pressure" | "regulator low":
            return f"about {100 * severity:.0f} % less"
        case _:
            return ""


def _also(one: RankedFault, found: Diagnosis, readings: ZoneReadings, shown: Shown) -> list[str]:
    """What was not read or seen and would show: the largest changes, then looks."""
    unread = []
    for at, (expected, usual) in enumerate(zip(one.mean, found.base, strict=True)):
        part = abs(expected - usual) / max(abs(usual), 1.0)
        if part >= _WORTH_NAMING and not _is_read(at, found, readings):
            unread.append((part, -at))
    words = []
    for _, at in sorted(unread, reverse=True)[:_MOST_SHOWN]:
        figure = shown.gpm if -at == FLOW else shown.psi
        expected, usual = one.mean[-at], found.base[-at]
        name = _reading_name(-at, found, shown)
        words.append(f"{name} {figure(expected)}, not {figure(usual)}")
    faults = [(axis, cause) for axis, cause in zip(one.axes, one.causes[0][0], strict=True)]
    if readings.others is None and any(causes_show(*pair, "others_weak") for pair in faults):
        words.append("other zones weak too")
    if readings.meter_off is None and any(causes_show(*pair, "meter_moves") for pair in faults):
        words.append("the meter moves with everything off")
    if not readings.ground and leak_places(faults):
        words.append(f"wet ground at {shown.place(min(leak_places(faults)))}")
    return words


def _is_read(at: int, found: Diagnosis, readings: ZoneReadings) -> bool:
    if at >= FIRST_HEAD:
        return found.heads[at - FIRST_HEAD] in readings.heads
    return (readings.static, readings.running, readings.flow)[at] is not None


def _reading_name(at: int, found: Diagnosis, shown: Shown) -> str:
    if at >= FIRST_HEAD:
        return shown.place(found.heads[at - FIRST_HEAD])
    return {STATIC: "static", RUNNING: "the tap while it runs", FLOW: "the zone's flow"}[at]


_READ = {
    "static": "Read the static pressure at the tap, everything off",
    "running": "Read the pressure at the same tap while the zone runs",
    "flow": "Time the zone's flow at the meter",
    "head": "Read the pressure at {place}",
    "walk": "Walk past all heads while the zone runs, and note how each looks",
    "ground": "Walk the trenches and look for wet ground",
    "others": "Run another zone: is it weak too?",
    "meter_off": "Watch the meter with everything off",
}


def next_words(one: NextReading, found: Diagnosis, shown: Shown) -> str:
    """A measurement in words, with what it shows by each of the leading groups."""
    what = _READ[one.kind].format(place=shown.place(one.place))
    words = f"{what} ({one.minutes:.0f} minutes)."
    figure = shown.gpm if one.kind == "flow" else shown.psi
    means = []
    for axes, value in one.expects:
        number = _number_of(axes, found)
        if number is not None and math.isfinite(value):
            means.append(f"{figure(value)} if {number}")
    return f"{words} It should show {', '.join(means)}." if means else words


def _number_of(axes: Sequence[Axis], found: Diagnosis) -> int | None:
    """The number under which a group is listed."""
    wanted = sorted(axes)
    for number, one in enumerate(found.ranked, start=1):
        if sorted(one.axes) == wanted:
            return number
    return None
