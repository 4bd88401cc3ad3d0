"""Which changes would make a failing zone good, in sentences; each is solved before it is named.

A group of zones that run together is first offered to run one after the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldbook.checks.common.job_rules import velocity_maximum
from fieldbook.checks.common.naming import listed, quantity, sentence, speed, zone_word
from fieldbook.checks.water.networks import JobNetwork
from fieldbook.checks.water.zone_flow import bore_of, needed_psi, zone_flow_gpm
from fieldbook.checks.water.zone_limits import supplied
from fieldbook.checks.water.zone_solutions import ZoneGroup, zone_lacks
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.pipes import PIPE_SIZES
from fieldbook.units import PRESSURE
from fieldbook.water import (
    Margins,
    PipeChoice,
    PipeChoices,
    Remedies,
    Requirements,
    SmallerNozzles,
    Split,
    Upsizing,
    assess,
    find_remedies,
    only_heads,
)

_MOST_NAMED = 3
"""Heads of a group that are named each; of more, only the first and the last are."""


@dataclass(frozen=True)
class Advice:
    """`now` says what is wrong with the zone as it is, `mends` which changes would be enough."""

    now: str
    mends: tuple[str, ...]


def advice(job: LoadedJob, group: ZoneGroup) -> Advice | None:
    """What would make a group of zones good; None while it is not solved."""
    job_network = group.job_network
    if job_network is None or group.solution is None or not group.solution.converged:
        return None
    required, heads = requirements_of(job, group, job_network), list(job_network.heads)
    remedies = find_remedies(job_network.network, required, larger_pipe(job_network), heads)
    if remedies.now.met:
        return Advice(_met(job, group), ())
    mends = [_pipe(job, job_network, remedies)]
    if len(group.zones) > 1:
        mends.append(_one_after_the_other(job, job_network, required))
    elif remedies.split is not None:
        mends.append(_split(job, job_network, remedies.split))
    if remedies.nozzles is not None:
        mends.append(_nozzles(job, remedies.nozzles))
    if len(group.zones) == 1:
        mends.append(_most_heads(job_network, remedies))
    return Advice(_now(job, remedies.now), tuple(mend for mend in mends if mend))


def _met(job: LoadedJob, group: ZoneGroup) -> str:
    """That nothing is short, and what of it is not checked yet."""
    missing = [lack.words for zone in group.zones for lack in zone_lacks(job, group, zone)]
    if not missing:
        return "All that is asked of it is met."
    return f"Nothing entered falls short, but it is not checked: {listed(missing, most=2)}."


def requirements_of(job: LoadedJob, group: ZoneGroup, job_network: JobNetwork) -> Requirements:
    """What the checks ask of a network: pressures, the available flow, the velocity limit."""
    needed: dict[str, float] = {}
    draws: dict[str, float] = {}
    for name, rows in job_network.heads.items():
        asked = needed_psi(rows.head, rows.zone) or amount(rows.head, "min_psi")
        if asked is not None:
            needed[name] = asked
    for zone in job_network.zones:
        nozzles = {
            name: amount(job_network.heads[name].head, "nozzle_gpm") or 0.0
            for name in job_network.order(zone)
        }
        total = sum(nozzles.values())
        # A design flow other than the nozzles' sum is shared among the heads in proportion.
        part = (zone_flow_gpm(job, zone) or total) / total if total else 1.0
        draws.update((name, gpm * part) for name, gpm in nozzles.items())
    held = supplied(job, group)
    most_gpm = held.available.flow_gpm if held.available and not held.available.by_test else None
    drawn = None if held.drawn_by == "solved" else draws
    return Requirements(needed, most_gpm, velocity_maximum(job, None).value, drawn)


def larger_pipe(job_network: JobNetwork) -> PipeChoices:
    """For each run, the larger sizes in which its class is made."""
    choices: dict[str, list[PipeChoice]] = {}
    for name, run in job_network.runs.items():
        larger = PIPE_SIZES[PIPE_SIZES.index(run.size or "") + 1 :]
        made = [(size, bore_of(run.pipe_class, size)) for size in larger]
        choices[name] = [
            PipeChoice(size, bore.bore_in, bore.pipe.c) for size, bore in made if bore is not None
        ]
    return choices


def _now(job: LoadedJob, now: Margins) -> str:
    """Which requirements are not met, the most telling first."""
    failing = []
    if now.margin_psi < 0:
        failing.append(f"its worst head is {quantity(job, -now.margin_psi, PRESSURE)} short")
    if now.spare_gpm < 0:
        failing.append("it draws more than the supply allows")
    if now.spare_ft_s < 0:
        limit = velocity_maximum(job, None).value
        fastest = speed(job, limit - now.spare_ft_s)
        failing.append(f"water runs {fastest} where {speed(job, limit)} is the limit")
    return f"{sentence(listed(failing))}." if failing else "It could not be solved."


def _pipe(job: LoadedJob, job_network: JobNetwork, remedies: Remedies) -> str:
    if not remedies.pipe_helps:
        return (
            "Larger pipe does not mend it: even pipe without any loss in every run would not. "
            "Look at the supply, or draw less at once."
        )
    if remedies.upsizing is None:
        return (
            "Larger pipe would mend it, but one or two runs in a listed size are not enough: lay "
            "more of the way larger."
        )
    return _upsizing(job, job_network, remedies.upsizing)


def _upsizing(job: LoadedJob, job_network: JobNetwork, upsizing: Upsizing) -> str:
    laid = listed(
        [f"{_run(job_network, name)} in {size} in" for name, size in upsizing.sizes.items()]
    )
    how = "the least pipe that is enough" if upsizing.proven else "not proven to be the least"
    return f"Lay {laid} ({how}): {_spare(job, upsizing.margins)}."


def _run(job_network: JobNetwork, name: str) -> str:
    """A run's name, without its zone where only one zone runs."""
    several = len(job_network.zones) > 1
    return name if several else name.partition(" of ")[0]


def _split(job: LoadedJob, job_network: JobNetwork, split: Split) -> str:
    groups = [_heads(job_network, group) for group in split.groups]
    return f"Split it in {len(groups)}: {'; then '.join(groups)}: {_spare(job, split.margins)}."


def _heads(job_network: JobNetwork, group: Sequence[str]) -> str:
    numbers = [str(job_network.heads[name].run.number or "?") for name in group]
    if len(numbers) == 1:
        return f"the head at run {numbers[0]}"
    if len(numbers) > _MOST_NAMED:
        return f"the heads at runs {numbers[0]} to {numbers[-1]}"
    return f"the heads at runs {listed(numbers)}"


def _nozzles(job: LoadedJob, nozzles: SmallerNozzles) -> str:
    return (
        f"Fit nozzles of {100 * nozzles.part:.0f} % of the flow at the same pressure: "
        f"{_spare(job, nozzles.margins)}."
    )


def _most_heads(job_network: JobNetwork, remedies: Remedies) -> str:
    count = len(job_network.heads)
    if remedies.most_heads == 0:
        return "As it is, the supply does not feed even its first head well."
    if remedies.most_heads >= count:
        return ""
    return f"As it is, the supply feeds the first {remedies.most_heads} of its {count} heads well."


def _one_after_the_other(job: LoadedJob, job_network: JobNetwork, required: Requirements) -> str:
    margins = []
    for zone in job_network.zones:
        names = job_network.order(zone)
        alone = only_heads(job_network.network, names, job_network.heads)
        margins.append(assess(alone, required.of_heads(names)))
    words = listed([zone_word(zone) for zone in job_network.zones])
    if not all(zone_margins.met for zone_margins in margins):
        return f"Running {words} one after the other would not be enough."
    worst = min(margins, key=lambda one: one.margin_psi)
    return f"Run {words} one after the other: {_spare(job, worst)}."


def _spare(job: LoadedJob, margins: Margins) -> str:
    return f"the worst head then has {quantity(job, margins.margin_psi, PRESSURE)} to spare"
