"""How each zone stands: what it takes, what the street allows it, its worst head, in one word."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fieldbook.checks.finding import SEVERITIES
from fieldbook.checks.water.head_pressures import Served, Verdict, judge_head, too_high_psi
from fieldbook.checks.water.zone_flow import Available, available, over_supply, zone_flow_gpm
from fieldbook.checks.water.zone_solutions import Water, waters
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone

Word = Literal["good", "tight", "short", "dry", "high", "over supply", "not solved", "open"]
HeadWord = Literal["good", "tight", "low", "dry", "high"]
_OF_HEADS: Mapping[HeadWord, Word] = {
    "dry": "dry",
    "low": "short",
    "high": "high",
    "tight": "tight",
}
"""What a zone is called for its heads, the worst first."""


@dataclass(frozen=True)
class Standing:
    """One zone. `flow_gpm` is as solved, else by design; `worst` the head with the least to spare.

    open: figures are missing, and nothing is said yet.
    """

    zone: Zone
    water: Water
    flow_gpm: float | None
    available: Available | None
    worst: Verdict | None
    word: Word


def standings(job: LoadedJob) -> list[Standing]:
    """Every zone, in the order of the record."""
    found = {zone.id: _standing(job, zone, water) for water in waters(job) for zone in water.zones}
    return [found[zone.id] for zone in job.zones]


def _standing(job: LoadedJob, zone: Zone, water: Water) -> Standing:
    served = water.heads_of(zone)
    solved_gpm = sum(result.gpm for _, result in served)
    verdicts = [one for rows, result in served if (one := judge_head(rows, result)) is not None]
    worst = min(
        verdicts,
        key=lambda one: (SEVERITIES.index(one.severity) if one.severity else 9, one.margin_psi),
        default=None,
    )
    limits = [limit for one in water.zones if (limit := available(job, one)) is not None]
    return Standing(
        zone,
        water,
        solved_gpm if served else zone_flow_gpm(job, zone),
        min(limits, key=lambda one: one.flow_gpm, default=None),
        worst,
        _word(job, water, served, worst),
    )


def _word(job: LoadedJob, water: Water, served: list[Served], worst: Verdict | None) -> Word:
    if over_supply(job, water.zones) is not None:
        return "over supply"
    if water.why_not or (water.solution is not None and not water.solution.converged):
        return "not solved"
    words = {head_word(one) for one in served}
    for head, word in _OF_HEADS.items():
        if head in words:
            return word
    return "good" if worst is not None else "open"


def head_word(served: Served) -> HeadWord | None:
    """One head in a word; None while nothing says what it needs."""
    verdict = judge_head(*served)
    if verdict is None:
        return None
    if verdict.result.state == "dry":
        return "dry"
    if verdict.severity in ("stop", "fix"):
        return "low"
    if too_high_psi(*served) is not None:
        return "high"
    return "tight" if verdict.severity == "note" else "good"
