"""Whether a crew's round could tell a fault from every other, whatever is made of its readings.

A case is identifiable if what perfect instruments would show of the true fault differs from the
best fit of every other fault, and of the sound zone, by more than `APART` standard deviations of
the noise. The noise is that of the instruments and of the ground: the fault is dug into the ground
many times over, each time off in its own way, and the spread of the true readings is taken.
What is seen counts by its expected log-likelihood ratio, which for a reading of a gauge is half
the square of its distance. Nothing here asks `fieldbook.diagnosis` for an answer; from it come only
the list of faults (`axes_of`) and the words of the readings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from random import Random

from crew_rounds import RUNS_ON, SHARED, Round, sign_chances, true_values
from field_faults import Fault, broken, group_of, severities_of
from laid_zones import as_dug

from fieldbook.audit import gauge_error_psi, timed_gpm
from fieldbook.diagnosis.fault_axes import axes_of
from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.trade.water_faults import SIGNS

APART = 3.0
"""Standard deviations: at 3, noise alone hides the fault behind its nearest rival 1 time in 15."""
_TIMES_DUG = 24


def nearest(
    parts: ZoneParts, fault: Fault, what: Round, pick: Random
) -> tuple[float, tuple[str, str]]:
    """How many standard deviations the nearest other group is away, and which it is.

    The group is its change and place; the sound zone is ("sound", "").
    """
    places = ["static", *(["running"] if what.running else []), "flow", *what.gauged]
    true = true_values(parts, broken(parts, (fault,)))
    factor = _factor(_covariance(parts, fault, what, places, pick))
    usual = true_values(parts, parts.network)
    best, name = math.inf, ("sound", "")
    for group, rival, values in _rivals(parts, fault, usual):
        off = [true[place] - values[place] for place in places]
        apart = sum(one * one for one in _whitened(factor, off))
        if apart < best:
            apart += 2.0 * _seen_apart(parts, what, usual, (fault, true), (rival, values))
        if apart < best:
            best, name = apart, group
    return math.sqrt(best), name


def _rivals(
    parts: ZoneParts, fault: Fault, usual: Mapping[str, float]
) -> Iterator[tuple[tuple[str, str], Fault | None, Mapping[str, float]]]:
    yield ("sound", ""), None, usual
    own = group_of(parts, fault)
    for axis in axes_of(parts):
        if axis == own:
            continue
        for cause in axis.causes:
            for severity in severities_of(cause):
                rival = Fault(cause.kind, cause.place, severity)
                values = usual
                if axis.change != "none":
                    values = true_values(parts, broken(parts, (rival,)))
                yield (axis.change, axis.place), rival, values


def _covariance(
    parts: ZoneParts, fault: Fault, what: Round, places: Sequence[str], pick: Random
) -> list[list[float]]:
    """Of the readings: the ground's, as it spreads when dug again, and the instruments'."""
    dug = []
    for _ in range(_TIMES_DUG):
        values = true_values(parts, as_dug(pick, broken(parts, (fault,))))
        dug.append([values[place] for place in places])
    means = [sum(column) / _TIMES_DUG for column in zip(*dug, strict=True)]
    rows = [
        [
            sum((one[i] - means[i]) * (one[j] - means[j]) for one in dug) / (_TIMES_DUG - 1)
            for j in range(len(places))
        ]
        for i in range(len(places))
    ]
    for number, place in enumerate(places):
        if place == "flow":
            seconds = 60.0 * what.gallons / max(means[number], 0.2)
            error = timed_gpm(what.gallons, seconds, 0.1).up
        else:
            error = math.hypot(gauge_error_psi(means[number]), 0.5)
        rows[number][number] += (error / 1.96) ** 2 + 1e-6
    return rows


def _factor(rows: Sequence[Sequence[float]]) -> list[list[float]]:
    size = len(rows)
    found = [[0.0] * size for _ in rows]
    for i in range(size):
        for j in range(i + 1):
            rest = rows[i][j] - sum(found[i][k] * found[j][k] for k in range(j))
            found[i][j] = math.sqrt(rest) if i == j else rest / found[j][j]
    return found


def _whitened(factor: Sequence[Sequence[float]], off: Sequence[float]) -> list[float]:
    found: list[float] = []
    for i, value in enumerate(off):
        rest = value - sum(factor[i][k] * found[k] for k in range(i))
        found.append(rest / factor[i][i])
    return found


_With = tuple[Fault | None, Mapping[str, float]]


def _seen_apart(
    parts: ZoneParts, what: Round, usual: Mapping[str, float], one: _With, two: _With
) -> float:
    """The log-likelihood ratio expected of all that is seen, where the first is the truth."""
    total = 0.0
    if what.walked:
        for head in parts.heads:
            mine, theirs = (
                sign_chances(
                    head, parts, () if fault is None else (fault,), values[head], usual[head]
                )
                for fault, values in (one, two)
            )
            total += _ratio([mine[sign] for sign in SIGNS], [theirs[sign] for sign in SIGNS])
    for looked, kinds, there, else_ in (
        (what.others, SHARED, 0.85, 0.03),
        (what.meter, RUNS_ON, 0.85, 0.01),
        (what.walked, ("seat",), 0.8, 0.01),
    ):
        if looked:
            own, other = (_chance(fault, kinds, there, else_) for fault in (one[0], two[0]))
            total += _ratio([own, 1.0 - own], [other, 1.0 - other])
    if what.ground:
        total += _ground_apart(one[0], two[0])
    return total


def _as_faults(fault: Fault | None) -> tuple[Fault, ...]:
    return () if fault is None else (fault,)


def _chance(fault: Fault | None, kinds: Sequence[str], there: float, else_: float) -> float:
    return there if fault is not None and fault.kind in kinds else else_


def _ground_apart(one: Fault | None, two: Fault | None) -> float:
    wet = [_wets(fault) for fault in (one, two)]
    total = 0.0
    for place in {place for place in wet if place is not None}:
        own, other = (0.55 if place == here else 0.01 for here in wet)
        total += _ratio([own, 1.0 - own], [other, 1.0 - other])
    return total


def _wets(fault: Fault | None) -> str | None:
    return fault.place if fault is not None and fault.kind in ("leak", "missing") else None


def _ratio(mine: Sequence[float], theirs: Sequence[float]) -> float:
    return sum(a * math.log(a / b) for a, b in zip(mine, theirs, strict=True) if a > 0.0)
