"""Verdicts and suggestions beside EPANET 2.3: seeded jobs, each network solved by both.

What a head needs and what the street allows are the job's; the pressures and flows that they are
held against here are EPANET's alone.
"""

from __future__ import annotations

import pytest
from epanet_reference import Reference, epanet
from random_jobs import random_job
from suggested import followed

from fieldbook.checks.water.advice.zone_remedies import advice
from fieldbook.checks.water.head_pressures import judge_head
from fieldbook.checks.water.network_draft import HeadRows
from fieldbook.checks.water.zone_limits import supplied
from fieldbook.checks.water.zone_solutions import ZoneGroup, zone_groups
from fieldbook.checks.water.zone_status import zone_statuses
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.water import HeadResult

CLOSE_PSI, CLOSE_PART = 0.01, 1e-4
FEW, ALL = range(12), range(12, 312)


def solved_by_epanet(group: ZoneGroup) -> Reference:
    assert group.job_network is not None
    return epanet(group.job_network.network)


def verdict(rows: HeadRows, psi: float, like: HeadResult) -> str | None:
    """The severity of a head at a pressure, and nothing else."""
    state = "dry" if psi <= 0.0 else like.state
    found = judge_head(rows, like._replace(psi=psi, state=state))
    return found.severity if found is not None else None


def hold_against_epanet(job: LoadedJob) -> int:
    """Compare one job's verdict and every suggestion; returns how many suggestions there were."""
    (group,) = zone_groups(job)
    assert group.solved
    assert group.job_network is not None
    reference = solved_by_epanet(group)
    for rows, result in group.heads_of(job.zones[0]):
        psi = reference.psi[result.name]
        # Within the agreement of the two a verdict may fall on either side of a limit.
        either = {verdict(rows, psi + off, result) for off in (-CLOSE_PSI, 0.0, CLOSE_PSI)}
        assert verdict(rows, result.psi, result) in either
    _flow_verdict(job, group, reference)
    found = advice(job, group)
    assert found is not None
    for one in found.suggestions:
        worst = []
        for after in followed(job, group, one):
            (changed,) = zone_groups(after)
            worst.append(_meets_all(after, changed))
        assert min(worst) == pytest.approx(one.result.margin_psi, abs=CLOSE_PSI)
    return len(found.suggestions)


def _flow_verdict(job: LoadedJob, group: ZoneGroup, reference: Reference) -> None:
    held = supplied(job, group)
    draw = sum(reference.gpm.values())
    assert held.draw_gpm == pytest.approx(draw, rel=CLOSE_PART)
    if held.available is not None and not held.available.by_test:
        allowed = held.available.flow_gpm
        if abs(draw - allowed) > CLOSE_PART * allowed:
            (status,) = zone_statuses(job)
            assert (status.word == "over supply") == (draw > allowed)


def _meets_all(job: LoadedJob, group: ZoneGroup) -> float:
    """That every head has what it needs, and the draw is allowed; returns the least margin."""
    reference = solved_by_epanet(group)
    margins = []
    for rows, result in group.heads_of(job.zones[0]):
        found = judge_head(rows, result)
        assert found is not None
        margins.append(reference.psi[result.name] - found.held_to_psi)
    assert min(margins) >= -CLOSE_PSI
    held = supplied(job, group)
    if held.available is not None and not held.available.by_test:
        assert sum(reference.gpm.values()) <= held.available.flow_gpm * (1 + CLOSE_PART)
    return min(margins)


def test_a_few_jobs_are_judged_and_mended_as_in_epanet() -> None:
    assert sum(hold_against_epanet(random_job(seed)) for seed in FEW) >= 8


@pytest.mark.slow
def test_300_jobs_are_judged_and_mended_as_in_epanet() -> None:
    words, suggestions = set(), 0
    for seed in ALL:
        job = random_job(seed)
        words.add(zone_statuses(job)[0].word)
        suggestions += hold_against_epanet(job)
    assert suggestions >= 300
    # The jobs are of all kinds, so that a verdict which is never given would show.
    assert words >= {"over supply", "short", "too fast", "good", "tight"}
