"""How likely the readings are under one fault, over all its severities.

A fault is simulated at a few severities. Between them its readings are taken as straight, so that
a narrow range of severities that fits is not missed; the average over that grid is its evidence.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from operator import mul
from typing import NamedTuple

from fieldbook.diagnosis.fault_axes import Axis, Cause
from fieldbook.diagnosis.fault_bench import Changed, FaultBench, Signature
from fieldbook.diagnosis.head_signs import SignBook
from fieldbook.diagnosis.reading_noise import Noise, Observed, whiten
from fieldbook.diagnosis.zone_parts import ZoneReadings

_STEPS_BETWEEN = 6


class Point(NamedTuple):
    """One severity of an axis, solved; `changed` is what was replaced for it."""

    severity: float
    changed: Changed
    signature: Signature


class Likelihood(NamedTuple):
    """Of one severity: its log-likelihood, and -2 log of it against a perfect fit."""

    severity: float
    log: float
    misfit: float
    signature: Signature


@dataclass(frozen=True)
class Weighed:
    """One fault, or two together, with its weight.

    faults: each axis with its cause. log_weight: log of prior chance times evidence. best: the
    likeliest severity of each. misfit: chi-squared of the best fit, signs included. mean, spread:
    the signature over all severities by how likely they are, and its variance.
    """

    faults: tuple[tuple[Axis, Cause], ...]
    log_weight: float
    best: tuple[float, ...]
    misfit: float
    mean: Signature
    spread: Signature

    @property
    def axes(self) -> tuple[Axis, ...]:
        """What it changes in the water: faults with the same axes are one to every gauge."""
        return tuple(axis for axis, _ in self.faults)


class Bench(NamedTuple):
    """What weighing needs: the zone on its bench, what was read and seen, and the signs."""

    zone: FaultBench
    readings: ZoneReadings
    seen: Observed
    signs: SignBook


def solve_axis(zone: FaultBench, axis: Axis) -> list[Point]:
    """The axis at each of its severities that can be solved."""
    if axis.change == "none":
        return [Point(1.0, Changed(), zone.base)]
    found = []
    for severity in axis.severities:
        changed = zone.change(axis, severity)
        # A change that replaces nothing has the signature of the zone as it is.
        simulated = changed.kinds or changed.heads or changed.supply is not None
        signature = zone.solve(changed) if simulated else zone.base
        if signature is not None:
            static = zone.recorded.static_psi if changed.static_psi is None else changed.static_psi
            found.append(Point(severity, changed, (static, *signature[1:])))
    return found


def weigh_sound(bench: Bench, noise: Noise) -> Weighed:
    """The zone as recorded, with nothing wrong."""
    gauges = _misfit(bench, noise, bench.zone.base)
    signs = sum(bench.signs.at_heads(bench.zone.base, bench.readings).values())
    signs += bench.signs.elsewhere((), bench.readings)
    log = -0.5 * (gauges + noise.log_det) + signs
    none = (0.0,) * len(bench.zone.base)
    return Weighed((), log, (), gauges - 2.0 * signs, bench.zone.base, none)


def weigh_axis(bench: Bench, noise: Noise, axis: Axis, points: Sequence[Point]) -> list[Weighed]:
    """Every cause of an axis, each with its own prior, severities and signs."""
    if not points:
        return []
    fine = _fine(bench, noise, axis, points)
    found = []
    for cause in axis.causes:
        elsewhere = bench.signs.elsewhere(((axis, cause),), bench.readings)
        covered = [
            _with_signs(bench, noise, cause, one, elsewhere)
            for one in fine
            if cause.least - 1e-9 <= one.severity <= cause.most + 1e-9
        ]
        if covered:
            chance = bench.signs.table.chance[cause.kind]
            found.append(average(((axis, cause),), chance, covered))
    return found


class _Between(NamedTuple):
    """A severity between those solved: chi-squared of the gauges, and logs of signs' chances.

    others: of the signs at all heads as if nothing were wrong at any; own: that of the axis's head.
    """

    severity: float
    gauges: float
    others: float
    own: float
    signature: Signature


def _fine(bench: Bench, noise: Noise, axis: Axis, points: Sequence[Point]) -> list[_Between]:
    rows = []
    for point in points:
        by_head = bench.signs.at_heads(point.signature, bench.readings)
        own = by_head.get(axis.place, 0.0)
        white = whitened(bench, noise, point.signature)
        rows.append([point.severity, sum(by_head.values()), own, *white, *point.signature])
    count, last = len(bench.seen.at), len(rows) - 1
    found = []
    for row, after in pairwise([*rows, rows[-1]]):
        for step in range(_STEPS_BETWEEN if row is not rows[last] else 1):
            part = step / _STEPS_BETWEEN
            mixed = [one + part * (two - one) for one, two in zip(row, after, strict=True)]
            gauges = sum(one * one for one in mixed[3 : 3 + count])
            found.append(_Between(mixed[0], gauges, mixed[1], mixed[2], tuple(mixed[3 + count :])))
    return found


def _with_signs(
    bench: Bench, noise: Noise, cause: Cause, one: _Between, elsewhere: float
) -> Likelihood:
    signs = one.others + elsewhere
    at_fault = bench.signs.at_fault(cause, one.severity, bench.readings)
    if at_fault is not None:
        signs += at_fault - one.own
    log = -0.5 * (one.gauges + noise.log_det) + signs
    return Likelihood(one.severity, log, one.gauges - 2.0 * signs, one.signature)


def average(
    faults: tuple[tuple[Axis, Cause], ...], chance: float, fine: Sequence[Likelihood]
) -> Weighed:
    """The fault over its severities, each as likely before anything was read."""
    best = max(fine, key=lambda one: one.log)
    shares = [math.exp(max(one.log - best.log, -700.0)) for one in fine]
    total = sum(shares)
    # By place in a signature, the values over all severities.
    places = list(zip(*(one.signature for one in fine), strict=True))
    mean = tuple(sum(map(mul, shares, values)) / total for values in places)
    spread = tuple(
        sum(share * (one - middle) ** 2 for share, one in zip(shares, values, strict=True)) / total
        for middle, values in zip(mean, places, strict=True)
    )
    log_weight = math.log(chance) + best.log + math.log(total / len(fine))
    return Weighed(faults, log_weight, (best.severity,), best.misfit, mean, spread)


def whitened(bench: Bench, noise: Noise, signature: Signature) -> list[float]:
    """How far the readings are from a signature, in independent units of sigma."""
    seen = bench.seen
    off = [value - signature[at] for at, value in zip(seen.at, seen.values, strict=True)]
    return whiten(noise.factor, off)


def _misfit(bench: Bench, noise: Noise, signature: Signature) -> float:
    return sum(one * one for one in whitened(bench, noise, signature))
