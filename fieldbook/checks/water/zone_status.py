"""How each zone stands, in one word: what it takes, what the street allows, its worst head."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fieldbook.checks.finding import Finding, Missing
from fieldbook.checks.severity import SEVERITIES
from fieldbook.checks.water.head_pressures import (
    HeadVerdict,
    SolvedHead,
    exceeded_maximum_psi,
    judge_head,
)
from fieldbook.checks.water.zone_flags import street_doubted, zone_flags
from fieldbook.checks.water.zone_limits import Available, Supplied, supplied, zone_draw_gpm
from fieldbook.checks.water.zone_solutions import ZoneGroup, zone_groups, zone_lacks
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone

ZoneWord = Literal[
    "good",
    "tight",
    "doubtful",
    "short",
    "dry",
    "high",
    "too fast",
    "uneven",
    "surge",
    "over supply",
    "not solved",
    "open",
]
HeadWord = Literal["good", "tight", "low", "dry", "high"]
_FOR_FLAGS: Mapping[str, ZoneWord] = {
    "flow over supply": "over supply",
    "zone not solved": "not solved",
    "head dry": "dry",
    "pressure too low": "short",
    "pressure too high": "high",
    "water too fast": "too fast",
    "surge over rating": "surge",
    "pressure spread": "uneven",
}
"""What a zone is called for what is wrong with it, the worst word first."""
_FOR_NOTES: Mapping[str, ZoneWord] = {
    "little pressure to spare": "tight",
    "regulated head starved": "tight",
    "regulator short of pressure": "tight",
}


@dataclass(frozen=True)
class ZoneStatus:
    """How one zone stands, and the flags on it.

    The word is "open" while anything of its water is not checked, "doubtful" where a figure that
    it rests on has a flag. `held` is the draw of all zones that run with it beside what is
    allowed; `own_gpm` is this zone's part of it. `worst` is the head with the least to spare;
    `missing` is what must still be entered before it can be called good.
    """

    zone: Zone
    group: ZoneGroup
    held: Supplied
    own_gpm: float | None
    worst: HeadVerdict | None
    word: ZoneWord
    missing: tuple[Missing, ...] = ()
    flags: tuple[Finding, ...] = ()

    @property
    def flow_gpm(self) -> float | None:
        """The draw that is held against what is allowed, in gpm."""
        return self.held.draw_gpm

    @property
    def available(self) -> Available | None:
        """What the street allows."""
        return self.held.available


def zone_statuses(job: LoadedJob) -> list[ZoneStatus]:
    """The status of every zone, in the order of the record."""
    found = {
        zone.id: status_of(job, zone, group) for group in zone_groups(job) for zone in group.zones
    }
    return [found[zone.id] for zone in job.zones]


def status_of(job: LoadedJob, zone: Zone, group: ZoneGroup) -> ZoneStatus:
    """The status of one zone of a group."""
    heads = group.heads_of(zone)
    verdicts = [verdict for head in heads if (verdict := judge_head(*head)) is not None]
    # Worst severity first; a head without any has index 9, after all of them.
    worst = min(
        verdicts,
        key=lambda one: (SEVERITIES.index(one.severity) if one.severity else 9, one.margin_psi),
        default=None,
    )
    missing = zone_lacks(job, group, zone)
    flags = tuple(zone_flags(job, group, zone))
    return ZoneStatus(
        zone,
        group,
        supplied(job, group),
        zone_draw_gpm(job, group, zone),
        worst,
        _word(job, group, flags, open_=bool(missing) or not heads),
        missing,
        flags,
    )


def _word(job: LoadedJob, group: ZoneGroup, flags: tuple[Finding, ...], *, open_: bool) -> ZoneWord:
    """What is wrong comes first; "tight", "doubtful" and "good" only where nothing is missing."""
    codes = {flag.code for flag in flags}
    wrong = next((word for code, word in _FOR_FLAGS.items() if code in codes), None)
    if wrong is not None:
        return wrong
    # Any other fix is on the pipe rows: what is solved is then not what was laid.
    if open_ or not group.solved or any(flag.severity != "note" for flag in flags):
        return "open"
    noted = next((word for code, word in _FOR_NOTES.items() if code in codes), None)
    if noted is not None:
        return noted
    return "doubtful" if flags or street_doubted(job) else "good"


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
