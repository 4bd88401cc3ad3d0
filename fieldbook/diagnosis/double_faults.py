"""Two faults at once, where one alone does not explain the readings.

All pairs of a likely fault with any other are compared as if their effects added up; the best few
are solved, and what was off by adding is taken into account.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from fieldbook.diagnosis.fault_axes import Axis
from fieldbook.diagnosis.fault_bench import Changed, Signature
from fieldbook.diagnosis.fault_weights import (
    Bench,
    Likelihood,
    Point,
    Weighed,
    average,
    whitened,
)
from fieldbook.diagnosis.reading_noise import Noise, noise_of

_FIRST, _SOLVED = 8, 8
"""How many of the likeliest single faults are paired, and how many pairs are solved."""


class _Sketch(NamedTuple):
    """Two faults, the place of each one's best severity, and their log of weight if they added."""

    log_weight: float
    order: int
    first: Weighed
    second: Weighed
    at: tuple[int, int]


def weigh_doubles(
    bench: Bench,
    noise: Noise,
    singles: Sequence[Weighed],
    points: Mapping[Axis, Sequence[Point]],
    doubts: Mapping[str, float],
) -> list[Weighed]:
    """The likeliest pairs of faults, solved together."""
    sketches = _sketches(bench, noise, singles, points)
    best = heapq.nlargest(_SOLVED, sketches, key=lambda one: (one.log_weight, -one.order))
    found = (_solved(bench, noise, sketch, points, doubts) for sketch in best)
    return [one for one in found if one is not None]


def _sketches(
    bench: Bench,
    noise: Noise,
    singles: Sequence[Weighed],
    points: Mapping[Axis, Sequence[Point]],
) -> Iterator[_Sketch]:
    """Every pair of one of the best with any other, at the severities that fit best."""
    by_axis: dict[Axis, Weighed] = {}
    for one in sorted(singles, key=lambda one: -one.log_weight):
        by_axis.setdefault(one.faults[0][0], one)
    ranked = list(by_axis.values())
    effects = {id(one): _effects(bench, noise, one, points[one.axes[0]]) for one in ranked}
    base = whitened(bench, noise, bench.zone.base)
    usual = _signs(bench, ranked[0], Point(0.0, Changed(), bench.zone.base), plain=True)
    most = -0.5 * bench.signs.best_misfit(bench.readings)
    order = itertools.count()
    for place, first in enumerate(ranked[:_FIRST]):
        for second in ranked[place + 1 :]:
            top, at = -math.inf, (0, 0)
            pairs = itertools.product(enumerate(effects[id(first)]), enumerate(effects[id(second)]))
            for (i, (log_1, shift_1)), (j, (log_2, shift_2)) in pairs:
                misfit = 0.0
                for own, by_1, by_2 in zip(base, shift_1, shift_2, strict=True):
                    misfit += (own + by_1 + by_2) ** 2
                # Two faults that each explain the same signs do not explain them twice.
                signs = min(usual + log_1 + log_2, most)
                if (log := signs - 0.5 * misfit) > top:
                    top, at = log, (i, j)
            chances = [bench.signs.table.chance[one.faults[0][1].kind] for one in (first, second)]
            yield _Sketch(top + sum(map(math.log, chances)), next(order), first, second, at)


def _effects(
    bench: Bench, noise: Noise, one: Weighed, points: Sequence[Point]
) -> list[tuple[float, list[float]]]:
    """By severity, how much likelier the signs are (log), and the readings' shift in sigmas."""
    _, cause = one.faults[0]
    base = whitened(bench, noise, bench.zone.base)
    usual = _signs(bench, one, Point(0.0, Changed(), bench.zone.base), plain=True)
    found = []
    for point in points:
        if not cause.least <= point.severity <= cause.most:
            found.append((-math.inf, base))
            continue
        shift = [a - b for a, b in zip(whitened(bench, noise, point.signature), base, strict=True)]
        found.append((_signs(bench, one, point) - usual, shift))
    return found


def _signs(bench: Bench, one: Weighed, point: Point, *, plain: bool = False) -> float:
    """The log of the chance of all signs; `plain`: as if the fault itself were not there."""
    _, cause = one.faults[0]
    by_head = bench.signs.at_heads(point.signature, bench.readings)
    if plain:
        return sum(by_head.values()) + bench.signs.elsewhere((), bench.readings)
    at_fault = bench.signs.at_fault(cause, point.severity, bench.readings)
    if at_fault is not None:
        by_head[cause.place] = at_fault
    return sum(by_head.values()) + bench.signs.elsewhere(one.faults, bench.readings)


def _solved(
    bench: Bench,
    noise: Noise,
    sketch: _Sketch,
    points: Mapping[Axis, Sequence[Point]],
    doubts: Mapping[str, float],
) -> Weighed | None:
    """A pair solved at its best severities; beside them its effects add, and what is off stays."""
    first, second = points[sketch.first.axes[0]], points[sketch.second.axes[0]]
    i, j = sketch.at
    changed = first[i].changed.joined(second[j].changed)
    signature = bench.zone.solve(changed) if changed is not None else None
    if changed is None or signature is None:
        return None
    noise = noise_of(bench.zone, changed, signature, doubts, bench.seen)
    off = [
        exact - one - two + own
        for exact, one, two, own in zip(
            signature, first[i].signature, second[j].signature, bench.zone.base, strict=True
        )
    ]
    fine = []
    for one, two in itertools.product(_near(first, i), _near(second, j)):
        mixed = tuple(
            a + b - own + more
            for a, b, own, more in zip(
                one.signature, two.signature, bench.zone.base, off, strict=True
            )
        )
        fine.append(_likelihood(bench, noise, (sketch.first, one), (sketch.second, two), mixed))
    # The severities beside the best stand for all: the others count as not fitting at all.
    whole = _share(first, i) * _share(second, j)
    chances = bench.signs.table.chance
    (axis_1, cause_1), (axis_2, cause_2) = sketch.first.faults[0], sketch.second.faults[0]
    chance = chances[cause_1.kind] * chances[cause_2.kind] * whole
    found = average(((axis_1, cause_1), (axis_2, cause_2)), chance, fine)
    return replace(found, best=(first[i].severity, second[j].severity))


def _likelihood(
    bench: Bench,
    noise: Noise,
    one: tuple[Weighed, Point],
    two: tuple[Weighed, Point],
    mixed: Signature,
) -> Likelihood:
    by_head = bench.signs.at_heads(mixed, bench.readings)
    faults = (*one[0].faults, *two[0].faults)
    for (_, cause), (_, point) in zip(faults, (one, two), strict=True):
        at_fault = bench.signs.at_fault(cause, point.severity, bench.readings)
        if at_fault is not None:
            by_head[cause.place] = at_fault
    signs = sum(by_head.values()) + bench.signs.elsewhere(faults, bench.readings)
    gauges = sum(each * each for each in whitened(bench, noise, mixed))
    log = -0.5 * (gauges + noise.log_det) + signs
    return Likelihood(one[1].severity, log, gauges - 2.0 * signs, mixed)


def _near(points: Sequence[Point], at: int) -> list[Point]:
    """Severities about the best: from halfway to the one before it, to halfway to the next."""
    found = []
    for other in (at - 1, at + 1):
        if 0 <= other < len(points):
            found += [_mixed(points[at], points[other], part) for part in (0.5, 0.33, 0.17)]
    return [points[at], *found]


def _share(points: Sequence[Point], at: int) -> float:
    return (0.5 if at in (0, len(points) - 1) else 1.0) / max(len(points) - 1, 1)


def _mixed(near: Point, far: Point, part: float) -> Point:
    severity = near.severity + part * (far.severity - near.severity)
    signature = tuple(
        a + part * (b - a) for a, b in zip(near.signature, far.signature, strict=True)
    )
    return Point(severity, near.changed, signature)
