"""How each zone stands, in one word: what it takes, what the street allows, its worst head."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fieldbook.checks.finding import Missing
from fieldbook.checks.severity import SEVERITIES
from fieldbook.checks.water.head_pressures import (
    HeadVerdict,
    SolvedHead,
    exceeded_maximum_psi,
    judge_head,
)
from fieldbook.checks.water.zone_flow import (
    Available,
    available_together,
    over_supply_gpm,
    zone_flow_gpm,
)
from fieldbook.checks.water.zone_solutions import Speed, ZoneGroup, speeds, zone_groups, zone_lacks
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone

ZoneWord = Literal[
    "good", "tight", "short", "dry", "high", "too fast", "over supply", "not solved", "open"
]
HeadWord = Literal["good", "tight", "low", "dry", "high"]
_FOR_HEADS: Mapping[HeadWord, ZoneWord] = {
    "dry": "dry",
    "low": "short",
    "high": "high",
    "tight": "tight",
}
"""What a zone is called for its worst head, the worst word first."""


@dataclass(frozen=True)
class ZoneStatus:
    """How one zone stands; the word is "open" while anything of its water is not checked.

    `flow_gpm` is as solved, else by design; `worst` is the head with the least to spare;
    `missing` is what must still be entered before it can be called good.
    """

    zone: Zone
    group: ZoneGroup
    flow_gpm: float | None
    available: Available | None
    worst: HeadVerdict | None
    word: ZoneWord
    missing: tuple[Missing, ...] = ()


def zone_statuses(job: LoadedJob) -> list[ZoneStatus]:
    """The status of every zone, in the order of the record."""
    found = {
        zone.id: _status(job, zone, group) for group in zone_groups(job) for zone in group.zones
    }
    return [found[zone.id] for zone in job.zones]


def _status(job: LoadedJob, zone: Zone, group: ZoneGroup) -> ZoneStatus:
    heads = group.heads_of(zone)
    solved_gpm = sum(result.gpm for _, result in heads)
    verdicts = [verdict for head in heads if (verdict := judge_head(*head)) is not None]
    # Worst severity first; a head without any has index 9, after all of them.
    worst = min(
        verdicts,
        key=lambda one: (SEVERITIES.index(one.severity) if one.severity else 9, one.margin_psi),
        default=None,
    )
    missing = zone_lacks(job, group, zone)
    return ZoneStatus(
        zone,
        group,
        solved_gpm if heads else zone_flow_gpm(job, zone),
        available_together(job, group.zones),
        worst,
        _word(job, zone, group, heads, missing),
        missing,
    )


def _word(
    job: LoadedJob,
    zone: Zone,
    group: ZoneGroup,
    heads: list[SolvedHead],
    missing: tuple[Missing, ...],
) -> ZoneWord:
    """What is wrong comes first; "tight" and "good" only where nothing is missing."""
    if over_supply_gpm(job, group.zones) is not None:
        return "over supply"
    if group.failed:
        return "not solved"
    words = {head_word(head) for head in heads}
    wrong = next((word for head, word in _FOR_HEADS.items() if head in words), None)
    if wrong is not None and wrong != "tight":
        return wrong
    if any(_too_fast(zone, pipe) for pipe in speeds(job, group)):
        return "too fast"
    if missing or not heads:
        return "open"
    return wrong or "good"


def _too_fast(zone: Zone, pipe: Speed) -> bool:
    """Whether water runs too fast in a pipe of the zone, the mainline or the service line."""
    shared = pipe.run is None or pipe.run.zone_id is None
    own = pipe.run is not None and pipe.run.zone_id == zone.id
    return (shared or own) and pipe.excess > 1 + 1e-9


def head_word(head: SolvedHead) -> HeadWord | None:
    """How one head stands, in a word; None while nothing says what it needs."""
    verdict = judge_head(*head)
    if verdict is None:
        return None
    if verdict.result.state == "dry":
        return "dry"
    if verdict.severity in ("stop", "fix"):
        return "low"
    if exceeded_maximum_psi(*head) is not None:
        return "high"
    return "tight" if verdict.severity == "note" else "good"
