"""Rank what could be wrong with a zone that runs, from what was read and seen of it.

Every single fault is simulated at several severities, and weighed by its prior chance and by how
likely the readings are under it. The likeliest are weighed again with the noise that they would
have themselves: after a leak more flow runs, and friction matters more. Where no single fault
explains the readings, pairs are weighed too. Faults that change the water in the same way are one
group: what tells them apart is a look.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from fieldbook.diagnosis.double_faults import weigh_doubles
from fieldbook.diagnosis.fault_axes import Axis, Cause, axes_of
from fieldbook.diagnosis.fault_bench import Changed, FaultBench, Signature
from fieldbook.diagnosis.fault_weights import (
    Bench,
    Point,
    Weighed,
    solve_axis,
    weigh_axis,
    weigh_sound,
)
from fieldbook.diagnosis.head_signs import SignBook
from fieldbook.diagnosis.next_reading import NextReading, next_readings
from fieldbook.diagnosis.reading_noise import Noise, doubts_of, noise_of, observed
from fieldbook.diagnosis.zone_parts import ZoneParts, ZoneReadings
from fieldbook.trade.water_faults import WaterFaults, water_faults

Verdict = Literal["sound", "found", "can't tell", "unexplained"]
SOUND_FROM = 0.33
"""From this chance on nothing is called wrong, where no group of faults is likelier: below it many
places together may be likelier to be at fault than the zone is to be sound."""
FOUND_FROM = 0.6
"""From this chance on the likeliest group is called what is wrong."""
_UNCHANGED = Changed()
_WEIGHED_ANEW = 12
_LEAST_KEPT = 0.002
_EXPLAINED_Z = 3.1
"""Standard normal deviate of 1 in 1,000: a zone is further off its best explanation than that only
where the record or a reading is wrong."""


@dataclass(frozen=True)
class RankedFault:
    """A group of faults that change the water alike, or two such groups together; sound if empty.

    chance: beside all others, from 0 to 1. causes: what it may be, each a tuple with one cause for
    each axis, with its share of the group. severities: the likeliest of each axis. mean: the
    signature expected. misfit: chi-squared of the best fit.
    """

    axes: tuple[Axis, ...]
    chance: float
    causes: tuple[tuple[tuple[Cause, ...], float], ...]
    severities: tuple[float, ...]
    mean: Signature
    misfit: float

    @property
    def sound(self) -> bool:
        """Whether it stands for the zone as recorded."""
        return not self.axes


@dataclass(frozen=True)
class Diagnosis:
    """What could be wrong with a zone, likeliest first.

    ranked: every group worth a line, the sound zone among them. base: the signature of the zone
    as recorded, with the static pressure that was read. nexts: what to read next, the one that
    tells most per minute first. apart: whether a reading that is left tells the leading two apart.
    solves: networks solved.
    """

    verdict: Verdict
    ranked: tuple[RankedFault, ...]
    heads: tuple[str, ...]
    base: Signature
    nexts: tuple[NextReading, ...]
    solves: int

    @property
    def faults(self) -> tuple[RankedFault, ...]:
        """The ranked groups without the sound zone."""
        return tuple(one for one in self.ranked if not one.sound)

    @property
    def sound_chance(self) -> float:
        """How likely it is that nothing is wrong."""
        return next((one.chance for one in self.ranked if one.sound), 0.0)


def diagnose(
    parts: ZoneParts, readings: ZoneReadings, table: WaterFaults | None = None
) -> Diagnosis:
    """Rank what could explain the readings of a zone that runs.

    Raises NetworkError, in one sentence, for a zone whose network can't be solved as recorded.
    """
    table = water_faults() if table is None else table
    static = readings.static
    zone = FaultBench(parts, None if static is None else max(static.value, 0.1))
    seen = observed(readings, parts.heads, zone.recorded.static_psi)
    bench = Bench(zone, readings, seen, SignBook(table, zone))
    doubts = doubts_of(zone, table.doubt, static)
    found, noise = _weigh_all(bench, doubts)
    ranked = _ranked(found)
    best = min(found, key=lambda one: one.misfit)
    verdict = _verdict(ranked, best.misfit, bench.signs.best_misfit(bench.readings), len(seen.at))
    nexts = () if verdict == "sound" else next_readings(bench, noise, found)
    return Diagnosis(verdict, ranked, parts.heads, zone.base, tuple(nexts), zone.solves)


def _weigh_all(bench: Bench, doubts: Mapping[str, float]) -> tuple[list[Weighed], Noise]:
    zone = bench.zone
    noise = noise_of(zone, _UNCHANGED, zone.base, doubts, bench.seen)
    points: dict[Axis, Sequence[Point]] = {
        axis: solve_axis(zone, axis) for axis in axes_of(zone.parts)
    }
    found = {axis: weigh_axis(bench, noise, axis, solved) for axis, solved in points.items()}
    singles = [one for weighed in found.values() for one in weighed]
    for axis in _likeliest_axes(singles):
        if axis.change != "none" and bench.seen.at:
            best = max(found[axis], key=lambda one: one.log_weight)
            near = min(points[axis], key=lambda one: abs(one.severity - best.best[0]))
            own = noise_of(zone, near.changed, near.signature, doubts, bench.seen)
            found[axis] = weigh_axis(bench, own, axis, points[axis])
    singles = [one for weighed in found.values() for one in weighed]
    sound = weigh_sound(bench, noise)
    doubles: list[Weighed] = []
    if min(one.misfit for one in (sound, *singles)) > _worth_doubles(bench):
        doubles = weigh_doubles(bench, noise, singles, points, doubts)
    return [sound, *singles, *doubles], noise


def _likeliest_axes(singles: Sequence[Weighed]) -> list[Axis]:
    ordered = sorted(singles, key=lambda one: -one.log_weight)
    return list(dict.fromkeys(one.axes[0] for one in ordered))[:_WEIGHED_ANEW]


def _worth_doubles(bench: Bench) -> float:
    # A single fault that fits about as well as chance lets it needs no second one.
    count = len(bench.seen.at)
    return bench.signs.best_misfit(bench.readings) + count + 2.0 * math.sqrt(2.0 * count) + 4.0


def _ranked(found: Sequence[Weighed]) -> tuple[RankedFault, ...]:
    """The weighed faults in groups that change the water alike, likeliest first."""
    top = max(one.log_weight for one in found)
    groups: dict[tuple[Axis, ...], list[Weighed]] = {}
    for one in found:
        groups.setdefault(tuple(sorted(one.axes)), []).append(one)
    total = sum(_part(one, top) for one in found)
    ranked = []
    for members in groups.values():
        members.sort(key=lambda one: -one.log_weight)
        weight = sum(_part(one, top) for one in members)
        first = members[0]
        causes = tuple(
            (tuple(cause for _, cause in one.faults), _part(one, top) / weight if weight else 0.0)
            for one in members
        )
        misfit = min(one.misfit for one in members)
        ranked.append(
            RankedFault(first.axes, weight / total, causes, first.best, first.mean, misfit)
        )
    ranked.sort(key=lambda one: -one.chance)
    return tuple(one for one in ranked if one.chance >= _LEAST_KEPT or one.sound)


def _part(one: Weighed, top: float) -> float:
    return math.exp(max(one.log_weight - top, -700.0))


def _verdict(ranked: Sequence[RankedFault], misfit: float, signs: float, count: int) -> Verdict:
    first = ranked[0]
    if misfit - signs > _most_by_chance(count) + 2.0 * 6.0:
        return "unexplained"
    sound = next((one.chance for one in ranked if one.sound), 0.0)
    if first.sound and sound >= SOUND_FROM:
        return "sound"
    return "found" if not first.sound and first.chance >= FOUND_FROM else "can't tell"


def _most_by_chance(count: int) -> float:
    """Chi-squared of `count` readings that chance exceeds once in 1,000 (Wilson and Hilferty)."""
    if not count:
        return 0.0
    part = 2.0 / (9.0 * count)
    return float(count * (1.0 - part + _EXPLAINED_Z * math.sqrt(part)) ** 3)
