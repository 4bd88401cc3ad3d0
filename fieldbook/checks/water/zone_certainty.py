"""How surely a zone works: the band on its worst head, the street pressure it holds down to.

The band crosses the limit where the worst head would be short with the gauge, the flow test, the
friction law, the bore or the hour of the day off by what is usual.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from fieldbook.checks.water.head_pressures import judge_head
from fieldbook.checks.water.networks import SERVICE, JobNetwork
from fieldbook.checks.water.zone_flow import Bores, bore_of, bores_of
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import GAUGE_ERROR, HOUR_PART, TESTED_FLOW_ERROR
from fieldbook.water import Law, Link, Network, NetworkError, Pipe, Solution
from fieldbook.water.advice import (
    Band,
    DoubtName,
    Doubts,
    band_of,
    halving_test_gpm,
    least_static_psi,
    run_time_part,
    uniformity,
)

_MOST_FRICTION_OFF = 0.35
"""No law and no bore changes the friction of a zone by a larger part than this."""
_WORTH_A_TEST_PSI = 1.0


@dataclass(frozen=True)
class Certainty:
    """How surely one zone works; pressures are in psi.

    The worst head gets `psi`, and between `low_psi` and `high_psi` at 95 %; it needs
    `held_to_psi`. holds_to_psi: the lowest static pressure at which every head has enough, None
    where no usual pressure is enough. better_test_gpm: the flow of a test that would halve what
    the flow test adds to the band; None where that is small. uniformity: low quarter, of pressure
    alone; longer: by what part it runs longer for it.
    """

    run: PipeRun
    psi: float
    low_psi: float
    high_psi: float
    held_to_psi: float
    band: Band
    holds_to_psi: float | None
    better_test_gpm: float | None
    uniformity: float | None
    longer: float | None

    @property
    def crosses(self) -> bool:
        """Whether the band reaches below what the worst head needs, and its middle does not."""
        return self.low_psi < self.held_to_psi <= self.psi


def certainty_of(job: LoadedJob, group: ZoneGroup, zone: Zone) -> Certainty | None:
    """How surely a zone of a group works; None while it is not solved or nothing is needed."""
    needs = _needs(group, zone)
    network = group.job_network
    if network is None or not needs or not group.solved or group.solution is None:
        return None
    heads = group.solution.heads
    worst, need = min(needs, key=lambda pair: heads[pair[0]].psi - pair[1])
    try:
        band = _band(network.network, needs, other_networks(job, network))
        holds = least_static_psi(network.network, _Least(needs))
    except NetworkError:
        return None
    tested = network.network.supply.test_gpm
    worth = tested is not None and band.by_test_psi >= _WORTH_A_TEST_PSI
    even = uniformity(_parts(group, zone))
    return Certainty(
        network.heads[worst].run,
        need + band.margin_psi,
        need + band.low_psi,
        need + band.high_psi,
        need,
        band,
        holds,
        halving_test_gpm(tested) if worth and tested is not None else None,
        even,
        run_time_part(even) if even else None,
    )


def band_crosses(job: LoadedJob, group: ZoneGroup, zone: Zone) -> bool:
    """Whether the band of a zone whose heads all have enough reaches below what one needs.

    It runs at every entry, so the zone is solved again only where the margin is small enough.
    """
    needs = _needs(group, zone)
    network = group.job_network
    if network is None or not needs or not group.solved or group.solution is None:
        return False
    heads = group.solution.heads
    margin, psi = min((heads[name].psi - need, heads[name].psi) for name, need in needs)
    if margin < 0.0 or margin > _most_down_psi(network.network, group.solution, psi):
        return False
    try:
        return _band(network.network, needs, other_networks(job, network)).low_psi < 0.0
    except NetworkError:
        return False


def _most_down_psi(network: Network, solution: Solution, psi: float) -> float:
    """More than any band takes off the worst head: every doubt counts whole, none is damped."""
    supply, gauge = network.supply, GAUGE_ERROR.value
    squares = gauge**2 + (HOUR_PART.value * supply.static_psi) ** 2
    squares += (_MOST_FRICTION_OFF * (supply.static_psi - psi)) ** 2
    if supply.residual_psi is not None and supply.test_gpm is not None:
        part = (solution.supply_gpm / supply.test_gpm) ** supply.exponent
        drop = (supply.static_psi - supply.residual_psi) * part
        squares += (gauge * max(part, 1.0)) ** 2 * 2.0
        squares += (2.2 * TESTED_FLOW_ERROR.value * drop) ** 2
    return float(squares**0.5)


_Needs = tuple[tuple[str, float], ...]
"""Heads by name, each with the pressure that it is held to."""


def _needs(group: ZoneGroup, zone: Zone) -> _Needs:
    if group.job_network is None:
        return ()
    found = []
    for rows, result in group.heads_of(zone):
        verdict = judge_head(rows, result)
        if verdict is not None:
            found.append((result.name, verdict.held_to_psi))
    return tuple(found)


class _Least:
    """The least margin of some heads in a solution."""

    def __init__(self, needs: _Needs) -> None:
        self._needs = needs

    def __call__(self, solution: Solution) -> float:
        heads = solution.heads
        return min(heads[name].psi - need for name, need in self._needs)


# Most entries change no zone's network, or one: the others keep their band.
@lru_cache(maxsize=128)
def _band(network: Network, needs: _Needs, others: tuple[tuple[DoubtName, Network], ...]) -> Band:
    hour_psi = HOUR_PART.value * network.supply.static_psi
    doubts = Doubts(GAUGE_ERROR.value, TESTED_FLOW_ERROR.value, hour_psi, dict(others))
    return band_of(network, _Least(needs), doubts)


def other_networks(job: LoadedJob, network: JobNetwork) -> tuple[tuple[DoubtName, Network], ...]:
    """The network with the other friction law, and with the other bores of its pipe."""
    found = network.network
    darcy = found.law == "darcy-weisbach"
    law: Law = "hazen-williams" if darcy else "darcy-weisbach"
    bores: Bores = "average" if bores_of(job) == "minimum wall" else "minimum wall"
    links = tuple(_with_bore(job, network, link, bores) for link in found.links)
    return (("law", found._replace(law=law)), ("bore", found._replace(links=links)))


def _with_bore(job: LoadedJob, network: JobNetwork, link: Link, bores: Bores) -> Link:
    run = network.runs.get(link.name)
    bore = bore_of(run.pipe_class, run.size, bores) if run is not None else None
    if link.name == SERVICE and job.supply is not None:
        bore = bore_of(job.supply.service_class, job.supply.service_size, bores)
    if bore is None or not isinstance(link.kind, Pipe):
        return link
    return link._replace(kind=link.kind._replace(bore_in=bore.bore_in))


def _parts(group: ZoneGroup, zone: Zone) -> list[float]:
    """The solved flow of each head as a part of its nozzle's rated flow."""
    found = []
    for rows, result in group.heads_of(zone):
        nozzle = amount(rows.head, "nozzle_gpm")
        if nozzle:
            found.append(result.gpm / nozzle)
    return found


DOUBT_WORDS: Mapping[DoubtName, str] = {
    "static gauge": "the gauge at static",
    "residual gauge": "the gauge of the flow test",
    "tested flow": "the flow that was tested",
    "hour": "the time of day",
    "law": "the friction law",
    "bore": "the bore of the pipe",
}
