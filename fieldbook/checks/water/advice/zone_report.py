"""Everything that a zone's page and the command say of its water beyond its figures.

The advice is searched for here, which takes as long as some hundred solutions: ask for it only
where somebody reads it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.checks.common.naming import listed, quantity, run_name
from fieldbook.checks.water.advice.advice_words import AdviceWords, advice_words
from fieldbook.checks.water.advice.zone_remedies import Advice, advice
from fieldbook.checks.water.zone_certainty import DOUBT_WORDS, Certainty, certainty_of
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import FLOW, PRESSURE

_LEAST_NAMED_PSI = 0.1
_EVEN = 0.995
"""A uniformity over this costs no run time worth a word."""


@dataclass(frozen=True)
class ZoneReport:
    """A zone's status, how surely it works, what would mend it; None while it is not solved."""

    status: ZoneStatus
    certainty: Certainty | None
    advice: Advice | None
    words: AdviceWords | None


def report_of(job: LoadedJob, status: ZoneStatus) -> ZoneReport:
    """Work out everything that is said of a zone."""
    found = advice(job, status.group)
    words = advice_words(job, status.group, found) if found is not None else None
    return ZoneReport(status, certainty_of(job, status.group, status.zone), found, words)


def certainty_words(job: LoadedJob, found: Certainty) -> Iterator[str]:
    """How surely a zone works, in sentences."""
    yield _holds(job, found)
    low, high = (quantity(job, psi, PRESSURE) for psi in (found.low_psi, found.high_psi))
    need = quantity(job, found.held_to_psi, PRESSURE)
    tight = ": tight" if found.crosses else ""
    yield f"At {run_name(job, found.run)} between {low} and {high}; it needs {need}{tight}."
    doubts = sorted(found.band.doubts, key=lambda one: -one.down_psi)
    named = [
        f"{DOUBT_WORDS[one.name]} ({quantity(job, one.down_psi, PRESSURE)})"
        for one in doubts
        if one.down_psi >= _LEAST_NAMED_PSI
    ]
    if named:
        yield f"It may be less by {listed(named)}."
    if found.better_test_gpm is not None:
        gpm = quantity(job, math.ceil(found.better_test_gpm), FLOW)
        yield f"A flow test with {gpm} running would halve what the flow test adds to this doubt."
    if found.uniformity is not None and found.longer is not None:
        yield _even(found.uniformity, found.longer)


def _holds(job: LoadedJob, found: Certainty) -> str:
    static = amount(job.supply, "static_psi") or 0.0
    if found.holds_to_psi is None:
        return "No pressure at the street is enough for it as it is."
    psi = quantity(job, found.holds_to_psi, PRESSURE)
    now = quantity(job, static, PRESSURE)
    if found.holds_to_psi > static:
        return f"It needs {psi} of static pressure at the street; there is {now}."
    return f"It works down to {psi} of static pressure at the street; now {now}."


def _even(low_quarter: float, longer: float) -> str:
    percent = f"Low-quarter uniformity by pressure alone: {100 * low_quarter:.0f} %"
    if low_quarter >= _EVEN:
        return f"{percent}."
    return f"{percent}; it runs {100 * longer:.0f} % longer to give its driest quarter as much."
