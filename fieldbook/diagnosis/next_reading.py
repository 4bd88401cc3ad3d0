"""What to read or look at next: what is expected to tell most, for the minutes that it takes.

The information is bounded from below by how far the outcomes under each pair of faults lie apart
(their Bhattacharyya distance; Kolchinsky and Tracey, Entropy 19, 361, 2017). It serves readings
that are numbers and looks that are words alike.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from fieldbook.audit import gauge_error_psi
from fieldbook.diagnosis.fault_axes import Axis
from fieldbook.diagnosis.fault_bench import FIRST_HEAD, FLOW, STATIC, Signature
from fieldbook.diagnosis.fault_weights import Bench, Weighed
from fieldbook.diagnosis.head_signs import (
    causes_show,
    chances_of,
    leak_places,
    weights_at_fault,
)
from fieldbook.diagnosis.reading_noise import Noise, whiten
from fieldbook.trade.water_faults import SIGNS, Show

Reading = Literal["static", "running", "flow", "head", "walk", "ground", "others", "meter_off"]
_LEADING, _LEAST_CHANCE, _LEAST_BITS = 12, 0.01, 0.05
_FLOW_PART = 0.035
"""How far a flow timed at the meter is off: a turn of 7.48 gal in 37 s is off by 3.3 % at 95 %."""
_PER_95 = 1.96
_NAMED = 3


@dataclass(frozen=True)
class NextReading:
    """A measurement or look, its minutes, and the bits of information expected of it.

    expects: for the leading groups in order, the value expected in psi or gpm; None for a look.
    """

    kind: Reading
    place: str
    minutes: float
    bits: float
    expects: tuple[tuple[tuple[Axis, ...], float], ...] = ()

    @property
    def worth(self) -> float:
        """Bits per minute."""
        return self.bits / self.minutes


def next_readings(bench: Bench, noise: Noise, found: Sequence[Weighed]) -> list[NextReading]:
    """What is worth reading next, the most per minute first; none if nothing tells them apart."""
    leading = _leading(found)
    if len(leading) < 2:
        return []
    told = [
        NextReading(kind, place, bench.signs.table.minutes[kind], _bits(leading, apart), expects)
        for kind, place, apart, expects in _candidates(bench, noise, [one for one, _ in leading])
    ]
    kept = [one for one in told if one.bits >= _LEAST_BITS]
    return sorted(kept, key=lambda one: (-one.worth, one.kind, one.place))


def _leading(found: Sequence[Weighed]) -> list[tuple[Weighed, float]]:
    """The likeliest faults with their chances; those that no gauge tells apart are one."""
    top = max(one.log_weight for one in found)
    chances: dict[tuple[Axis, ...], float] = {}
    first: dict[tuple[Axis, ...], Weighed] = {}
    for one in sorted(found, key=lambda one: -one.log_weight):
        chances[one.axes] = chances.get(one.axes, 0.0) + math.exp(max(one.log_weight - top, -700))
        first.setdefault(one.axes, one)
    total = sum(chances.values())
    ranked = sorted(chances, key=lambda axes: -chances[axes])[:_LEADING]
    return [
        (first[axes], chances[axes] / total)
        for axes in ranked
        if chances[axes] / total >= _LEAST_CHANCE
    ]


_Apart = Callable[[int, int], float]
"""The Bhattacharyya distance of what two of the leading faults would show."""
_Candidate = tuple[Reading, str, _Apart, tuple[tuple[tuple[Axis, ...], float], ...]]


def _bits(leading: Sequence[tuple[Weighed, float]], apart: _Apart) -> float:
    total = sum(chance for _, chance in leading)
    chances = [chance / total for _, chance in leading]
    told = 0.0
    for i, own in enumerate(chances):
        same = sum(
            other * (1.0 if i == j else math.exp(-apart(min(i, j), max(i, j))))
            for j, other in enumerate(chances)
        )
        told -= own * math.log2(same)
    return max(told, 0.0)


def _candidates(bench: Bench, noise: Noise, leading: Sequence[Weighed]) -> Iterator[_Candidate]:
    yield from _gauged(bench, noise, leading)
    readings = bench.readings
    left = [head for head in bench.zone.parts.heads if head not in readings.signs]
    if left:
        yield "walk", "", _by_signs(bench, leading, left), ()
    if not readings.ground:
        yield "ground", "", _by_ground(bench, leading), ()
    if readings.others is None:
        yield "others", "", _by_looks(bench, leading, "others_weak"), ()
    if readings.meter_off is None:
        yield "meter_off", "", _by_looks(bench, leading, "meter_moves"), ()


def _gauged(bench: Bench, noise: Noise, leading: Sequence[Weighed]) -> Iterator[_Candidate]:
    """Readings of gauge and meter that were not made: given those made, what each would show."""
    heads = bench.zone.parts.heads
    named: list[tuple[Reading, str]] = [("static", ""), ("running", ""), ("flow", "")]
    named += [("head", head) for head in heads]
    for at, (kind, place) in enumerate(named):
        if at in bench.seen.at:
            continue
        sigma = _instrument_sigma(bench.zone.base, at)
        expected = [_given(bench, noise, one, at, sigma) for one in leading]
        expects = tuple(
            (one.axes, mean) for one, (mean, _) in zip(leading[:_NAMED], expected, strict=False)
        )
        yield kind, place, _normal_apart(expected), expects


def _instrument_sigma(base: Signature, at: int) -> float:
    if at == FLOW:
        return max(_FLOW_PART * base[FLOW], 0.05) / _PER_95
    return gauge_error_psi(base[at]) / _PER_95


def _given(bench: Bench, noise: Noise, one: Weighed, at: int, sigma: float) -> tuple[float, float]:
    """Mean and variance of a reading under a fault, given what was read already."""
    seen = bench.seen
    own = sum(column[at] ** 2 for column in noise.columns) + noise.spread[at]
    if at == STATIC:
        own += (0.025 * one.mean[STATIC]) ** 2
    variance = own + sigma**2 + one.spread[at]
    if not seen.at:
        return one.mean[at], variance
    shared = [sum(column[at] * column[other] for column in noise.columns) for other in seen.at]
    off = [value - one.mean[other] for other, value in zip(seen.at, seen.values, strict=True)]
    pull, white = whiten(noise.factor, shared), whiten(noise.factor, off)
    mean = one.mean[at] + sum(a * b for a, b in zip(pull, white, strict=True))
    return mean, max(variance - sum(a * a for a in pull), sigma**2)


def _normal_apart(expected: Sequence[tuple[float, float]]) -> _Apart:
    def apart(i: int, j: int) -> float:
        (mean_1, var_1), (mean_2, var_2) = expected[i], expected[j]
        both = var_1 + var_2
        by_mean = 0.25 * (mean_1 - mean_2) ** 2 / both
        return by_mean + 0.5 * math.log(both / (2.0 * math.sqrt(var_1 * var_2)))

    return apart


def _by_signs(bench: Bench, leading: Sequence[Weighed], heads: Sequence[str]) -> _Apart:
    """A walk past all heads that were not looked at: their signs are independent of each other."""
    roots = [[_sign_roots(bench, one, head) for head in heads] for one in leading]

    def apart(i: int, j: int) -> float:
        return sum(_unlike(one, two) for one, two in zip(roots[i], roots[j], strict=True))

    return apart


def _sign_roots(bench: Bench, one: Weighed, head: str) -> list[float]:
    """The square roots of the chances of every sign at a head."""
    at = FIRST_HEAD + bench.zone.parts.heads.index(head)
    weights = bench.signs.weights(head, one.mean[at])
    for (_, cause), severity in zip(one.faults, one.best, strict=True):
        own = weights_at_fault(cause, severity) if cause.place == head else None
        weights = own if own is not None else weights
    chances = chances_of(bench.signs.table, weights)
    return [math.sqrt(chances[sign]) for sign in SIGNS]


def _unlike(one: Sequence[float], two: Sequence[float]) -> float:
    return -math.log(min(max(sum(a * b for a, b in zip(one, two, strict=True)), 1e-12), 1.0))


def _by_looks(bench: Bench, leading: Sequence[Weighed], what: Show) -> _Apart:
    """A look that either shows something or does not."""
    roots = []
    for one in leading:
        caused = any(causes_show(axis, cause, what) for axis, cause in one.faults)
        chance = bench.signs.table.shows[what][0 if caused else 1]
        roots.append([math.sqrt(chance), math.sqrt(1.0 - chance)])
    return lambda i, j: _unlike(roots[i], roots[j])


def _by_ground(bench: Bench, leading: Sequence[Weighed]) -> _Apart:
    """A walk along the trenches: the ground is wet where a leak is thought to be, or nowhere."""
    leaks = [leak_places(one.faults) for one in leading]
    places = sorted(frozenset().union(*leaks))
    with_leak, without = bench.signs.table.shows["wet_spot"]
    roots = []
    for own in leaks:
        wet = [with_leak if place in own else without for place in places]
        dry = math.prod(1.0 - chance for chance in wet)
        part = (1.0 - dry) / sum(wet) if wet else 0.0
        roots.append([math.sqrt(chance * part) for chance in wet] + [math.sqrt(dry)])
    return lambda i, j: _unlike(roots[i], roots[j])
