"""How far readings may be off together: the instruments, and what the model does not know exactly.

Friction, nozzles, devices and the supply move all readings of a zone at once. Each is off by one
standard deviation in a column of shifts, and the covariance is the sum of the columns' squares and
the instruments' own. Small dense matrices in plain Python.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from fieldbook.diagnosis.fault_bench import FLOW, STATIC, Changed, FaultBench, Signature
from fieldbook.diagnosis.zone_parts import Measured, ZoneReadings
from fieldbook.trade.rules.design_limits import GAUGE_ERROR, HOUR_PART, TESTED_FLOW_ERROR

_PER_95 = 1.96


class Observed(NamedTuple):
    """What was read: each place in a signature, the value there, the instrument's sigma."""

    at: list[int]
    values: list[float]
    sigmas: list[float]


class Noise(NamedTuple):
    """The covariance of what was read as its Cholesky factor, and its log of determinant.

    columns: by doubt, the shift of a whole signature. spread: the part of a signature's variance
    that no other reading shares, without any instrument.
    """

    factor: list[list[float]]
    log_det: float
    columns: list[list[float]]
    spread: list[float]


def observed(readings: ZoneReadings, heads: Sequence[str], static_psi: float) -> Observed:
    """The readings by their place in a signature; `static_psi` is the record's."""
    found = Observed([], [], [])
    listed = [readings.static, readings.running, readings.flow]
    listed += [readings.heads.get(head) for head in heads]
    for at, one in enumerate(listed):
        if one is not None:
            # Today's pressure differs from the record's by the hour and by the gauge of that day.
            more = recorded_sigma_psi(static_psi) if at == STATIC else 0.0
            found.at.append(at)
            found.values.append(one.value)
            found.sigmas.append(math.hypot(one.sigma, more))
    return found


def recorded_sigma_psi(static_psi: float) -> float:
    """How far the street may be from the recorded static pressure at another hour, one sigma."""
    return math.hypot(GAUGE_ERROR.value, HOUR_PART.value * static_psi) / _PER_95


def doubts_of(
    bench: FaultBench, doubt: Mapping[str, float], static: Measured | None
) -> dict[str, float]:
    """How far what moves all readings may be off, one sigma each."""
    recorded = bench.recorded
    sigma = recorded_sigma_psi(recorded.static_psi) if static is None else static.sigma
    found = {**doubt, "static": sigma}
    if recorded.residual_psi is not None:
        drop = max(recorded.static_psi - recorded.residual_psi, 0.5)
        gauge = math.sqrt(2.0) * GAUGE_ERROR.value / _PER_95 / drop
        tested = recorded.exponent * TESTED_FLOW_ERROR.value / _PER_95
        found["supply_drop"] = min(math.hypot(gauge, tested), 0.5)
    return found


def noise_of(
    bench: FaultBench,
    changed: Changed,
    signature: Signature,
    doubts: Mapping[str, float],
    seen: Observed,
) -> Noise:
    """The noise of what was read, were the zone changed so."""
    columns = [
        [one - own for one, own in zip(shifted, signature, strict=True)]
        for shifted in bench.doubted(changed, doubts)
    ]
    for column in columns:
        # What the tap shows with everything off is compared with the record by itself.
        column[STATIC] = 0.0
    spread = [doubts["head_psi"] ** 2] * len(signature)
    spread[STATIC] = 0.0
    count = max(len(bench.parts.heads), 1)
    spread[FLOW] = (doubts["one_nozzle"] * signature[FLOW]) ** 2 / count
    rows = [[sum(column[i] * column[j] for column in columns) for j in seen.at] for i in seen.at]
    for number, (at, sigma) in enumerate(zip(seen.at, seen.sigmas, strict=True)):
        rows[number][number] += spread[at] + sigma**2
    factor = cholesky(rows)
    log_det = 2.0 * sum(math.log(row[number]) for number, row in enumerate(factor))
    return Noise(factor, log_det, columns, spread)


def cholesky(rows: Sequence[Sequence[float]]) -> list[list[float]]:
    """The lower factor of a positive definite matrix."""
    factor: list[list[float]] = []
    for i, row in enumerate(rows):
        made: list[float] = []
        for j in range(i + 1):
            rest = row[j] - sum(
                a * b for a, b in zip(made, (made if i == j else factor[j]), strict=False)
            )
            made.append(math.sqrt(max(rest, 1e-12)) if i == j else rest / factor[j][j])
        factor.append(made)
    return factor


def whiten(factor: Sequence[Sequence[float]], values: Sequence[float]) -> list[float]:
    """The values in units in which the noise is independent with sigma 1."""
    found: list[float] = []
    for row, value in zip(factor, values, strict=True):
        rest = value - sum(a * b for a, b in zip(row, found, strict=False))
        found.append(rest / row[len(found)])
    return found
