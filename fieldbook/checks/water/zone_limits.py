"""What zones that run together draw, and what the street allows them: one figure for every reader.

The draw is that of the solution. The flow test is held against what the zone needs behind all
losses on the way to its worst head, not against the head's own need alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from fieldbook.checks.common.job_rules import velocity_maximum
from fieldbook.checks.water.networks import way_to
from fieldbook.checks.water.zone_flow import needed_psi, street_of, zone_flow_gpm
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.meters import SAFE_FLOW_SOURCE
from fieldbook.trade.rules.design_limits import METER_LOSS_PART, Rule
from fieldbook.water import Limit, Way, available_flow, flow_leaving_gpm, way_to_head

_RULES = {
    "source": ("what the well, pump or tank gives", "As entered at the street."),
    "meter flow": (
        "75 % of the meter's safe flow",
        f"Common practice for the 75 %; safe maximum flow: {SAFE_FLOW_SOURCE}",
    ),
    "meter loss": ("the meter at a loss of 10 % of static", METER_LOSS_PART.source),
    "service line": ("the velocity limit of the service line", ""),
    "flow test": (
        "the flow test less the losses on the way to its heads",
        "NFPA 291, chapter 4: Q2 = Q1 ((Ps - P2) / (Ps - P1))^0.54.",
    ),
}

DrawnBy = Literal["solved", "design", "nozzles"]


@dataclass(frozen=True)
class Available:
    """The flow in gpm that the governing rule allows; `rule` names the rule in a sentence."""

    flow_gpm: float
    rule: str
    source: str
    by_test: bool = False


@dataclass(frozen=True)
class Supplied:
    """What a group of zones draws in gpm, and what the street allows it.

    `drawn_by`: the draw is as solved, else the design flow that was entered (also where that is
    more than the solution), else the sum of the nozzles. None for what is not known.
    """

    draw_gpm: float | None
    drawn_by: DrawnBy
    available: Available | None

    @property
    def margin_gpm(self) -> float | None:
        """What is left of the flow allowed; negative where the zones draw too much."""
        if self.draw_gpm is None or self.available is None:
            return None
        return self.available.flow_gpm - self.draw_gpm

    @property
    def over(self) -> bool:
        """Whether the zones draw more than they are allowed.

        A solved draw is not held against the flow test: the solution follows the test's curve, and
        a head that is short says that the test is exceeded.
        """
        margin = self.margin_gpm
        if margin is None or self.available is None:
            return False
        if self.available.by_test and self.drawn_by == "solved":
            return False
        return margin < -1e-9 * self.available.flow_gpm


def supplied(job: LoadedJob, group: ZoneGroup) -> Supplied:
    """The draw of a group of zones beside what the street allows it."""
    kept = _kept(job)
    key = group.zones[0].id
    if key not in kept:
        draw_gpm, drawn_by = _draw(job, group)
        kept[key] = Supplied(draw_gpm, drawn_by, _available(job, group))
    return kept[key]


@once_per_job
def _kept(_job: LoadedJob) -> dict[str, Supplied]:
    """What was worked out for a job, by the id of each group's first zone."""
    return {}


def zone_draw_gpm(job: LoadedJob, group: ZoneGroup, zone: Zone) -> float | None:
    """What one zone of a group draws: as solved, else by design."""
    heads = group.heads_of(zone) if group.solved else []
    return sum(result.gpm for _, result in heads) if heads else zone_flow_gpm(job, zone)


def _draw(job: LoadedJob, group: ZoneGroup) -> tuple[float | None, DrawnBy]:
    entered = any(amount(zone, "design_flow_gpm") is not None for zone in group.zones)
    designed = _sum(zone_flow_gpm(job, zone) for zone in group.zones)
    if not group.solved or group.solution is None:
        return designed, "design" if entered else "nozzles"
    solved = group.solution.supply_gpm
    if entered and designed is not None and designed > solved * (1 + 1e-9):
        return designed, "design"
    return solved, "solved"


def _sum(flows: Iterable[float | None]) -> float | None:
    known = [gpm for gpm in flows if gpm is not None]
    return sum(known) if known else None


def _available(job: LoadedJob, group: ZoneGroup) -> Available | None:
    limit = available_flow(street_of(job))
    by_test = _flow_test_limit(job, group)
    if by_test is not None and (limit is None or by_test.flow_gpm < limit.flow_gpm):
        limit = by_test
    if limit is None:
        return None
    rule, source = _RULES[limit.rule]
    if limit.rule == "service line":
        source = service_limit(job).source
    return Available(limit.flow_gpm, rule, source, limit.rule == "flow test")


def service_limit(job: LoadedJob) -> Rule:
    """The velocity limit in ft/s of the service line, for what it is made of."""
    return velocity_maximum(job, job.supply.service_class if job.supply is not None else None)


def _flow_test_limit(job: LoadedJob, group: ZoneGroup) -> Limit | None:
    """The flow at which the tested supply just feeds the worst head of the group.

    The losses behind the test are those of the solved way to that head; while a zone is not
    solved, those of the parts before its lateral that are entered.
    """
    street = street_of(job)
    if street.test_residual_psi is None:
        return None
    ways = _solved_ways(group) if group.solved else _entered_ways(job, group)
    flows = [flow for way, psi in ways if (flow := flow_leaving_gpm(street, psi, way)) is not None]
    return Limit("flow test", min(flows)) if flows else None


_Way = tuple[Way, float]
"""The losses to a head, and the pressure in psi that it needs."""


def _solved_ways(group: ZoneGroup) -> list[_Way]:
    assert group.job_network is not None
    assert group.solution is not None
    results = group.solution.heads
    margins = [
        (results[name].psi - psi, name, psi)
        for name, rows in group.job_network.heads.items()
        if (psi := needed_psi(rows.head, rows.zone)) is not None
    ]
    if not margins:
        return []
    _, name, psi = min(margins)
    return [(way_to_head(group.job_network.network, group.solution, name), psi)]


def _entered_ways(job: LoadedJob, group: ZoneGroup) -> list[_Way]:
    found = []
    for zone in group.zones:
        heads = [amount(head, "rated_psi") for head in job.heads_of(zone.id)]
        highest = max((psi for psi in heads if psi is not None), default=None)
        psi = amount(zone, "needed_psi") or highest
        if psi is not None:
            found.append((way_to(job, zone), psi))
    return found
