"""What mends a zone's water, in sentences: each one solved before it is said.

A group of zones that run together is first offered one after the other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from fieldbook.checks.common.job_rules import velocity_maximum
from fieldbook.checks.common.naming import listed, quantity, sentence, speed, zone_word
from fieldbook.checks.water.networks import JobNetwork
from fieldbook.checks.water.zone_flow import available, bore_of, needed_psi, zone_flow_gpm
from fieldbook.checks.water.zone_solutions import Water
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

_TOLD = 3
"""Runs named one by one in a suggestion; of more only the first and last are."""


@dataclass(frozen=True)
class Advice:
    """`now` says how the zone stands against what is asked, `mends` what would mend it."""

    now: str
    mends: tuple[str, ...]


def advice(job: LoadedJob, water: Water) -> Advice | None:
    """What would mend a group of zones; None while it is not solved."""
    found = water.found
    if found is None or water.solution is None or not water.solution.converged:
        return None
    aim, heads = aim_of(job, found), list(found.heads)
    mending = find_remedies(found.network, aim, larger_pipe(found), heads)
    if mending.now.met:
        return Advice("All that is asked of it is met.", ())
    mends = [_pipe(job, found, mending)]
    if len(found.zones) > 1:
        mends.append(_one_after_the_other(job, found, aim))
    elif mending.split is not None:
        mends.append(_split(job, found, mending.split))
    if mending.nozzles is not None:
        mends.append(_nozzles(job, mending.nozzles))
    if len(found.zones) == 1:
        mends.append(_most(found, mending))
    return Advice(_now(job, mending.now), tuple(one for one in mends if one))


def aim_of(job: LoadedJob, found: JobNetwork) -> Requirements:
    """What the checks ask of a network: pressures, the available flow, the velocity limit."""
    needed: dict[str, float] = {}
    draws: dict[str, float] = {}
    for zone in found.zones:
        nozzles = {
            name: amount(one.head, "nozzle_gpm") or 0.0
            for name, one in found.heads.items()
            if one.zone is zone
        }
        total = sum(nozzles.values())
        part = (zone_flow_gpm(job, zone) or total) / total if total else 1.0
        draws.update((name, gpm * part) for name, gpm in nozzles.items())
    for name, one in found.heads.items():
        asked = needed_psi(one.head, one.zone) or amount(one.head, "min_psi")
        if asked is not None:
            needed[name] = asked
    limits = [limit.flow_gpm for zone in found.zones if (limit := available(job, zone)) is not None]
    return Requirements(needed, min(limits, default=None), velocity_maximum(job).value, draws)


def larger_pipe(found: JobNetwork) -> PipeChoices:
    """The larger sizes in which each run's class is listed."""
    choices: dict[str, list[PipeChoice]] = {}
    for name, run in found.runs.items():
        bigger = PIPE_SIZES[PIPE_SIZES.index(run.size or "") + 1 :]
        made = [(size, bore_of(run.pipe_class, size)) for size in bigger]
        choices[name] = [
            PipeChoice(size, bore.bore_in, bore.pipe.c) for size, bore in made if bore is not None
        ]
    return choices


def _now(job: LoadedJob, now: Margins) -> str:
    """What is amiss, the most telling first."""
    amiss = []
    if now.margin_psi < 0:
        amiss.append(f"its worst head is {quantity(job, -now.margin_psi, PRESSURE)} short")
    if now.spare_gpm < 0:
        amiss.append("it draws more than the supply allows")
    if now.spare_ft_s < 0:
        limit = velocity_maximum(job).value
        fastest = speed(job, limit - now.spare_ft_s)
        amiss.append(f"water runs {fastest} where {speed(job, limit)} is the limit")
    return f"{sentence(listed(amiss))}." if amiss else "It could not be solved."


def _pipe(job: LoadedJob, found: JobNetwork, mending: Remedies) -> str:
    if not mending.pipe_helps:
        return (
            "Larger pipe does not mend it: even pipe without any loss in every run would not. "
            "Look at the supply, or draw less at once."
        )
    if mending.upsizing is None:
        return (
            "Larger pipe would mend it, but no one or two runs in a listed size do: lay more of "
            "the way larger."
        )
    return _upsizing(job, found, mending.upsizing)


def _upsizing(job: LoadedJob, found: JobNetwork, upsizing: Upsizing) -> str:
    laid = listed([f"{_run(found, name)} in {size} in" for name, size in upsizing.sizes.items()])
    how = "the least pipe that does" if upsizing.proven else "not proven to be the least"
    return f"Lay {laid} ({how}): {_spare(job, upsizing.margins)}."


def _run(found: JobNetwork, name: str) -> str:
    """A run's name; whose it is, is plain where only one zone runs."""
    several = len(found.zones) > 1
    return name if several else name.partition(" of ")[0]


def _split(job: LoadedJob, found: JobNetwork, split: Split) -> str:
    groups = [_heads(found, group) for group in split.groups]
    spare = _spare(job, split.margins)
    return f"Split it in {len(groups)}: {'; then '.join(groups)}: {spare}."


def _heads(found: JobNetwork, group: Sequence[str]) -> str:
    numbers = [str(found.heads[name].run.number or "?") for name in group]
    if len(numbers) == 1:
        return f"the head at run {numbers[0]}"
    if len(numbers) > _TOLD:
        return f"the heads at runs {numbers[0]} to {numbers[-1]}"
    return f"the heads at runs {listed(numbers)}"


def _nozzles(job: LoadedJob, nozzles: SmallerNozzles) -> str:
    return (
        f"Fit nozzles of {100 * nozzles.part:.0f} % of the flow at the same pressure: "
        f"{_spare(job, nozzles.margins)}."
    )


def _most(found: JobNetwork, mending: Remedies) -> str:
    count = len(found.heads)
    if mending.most_heads == 0:
        return "As it is, the supply feeds not even its first head well."
    if mending.most_heads >= count:
        return ""
    return f"As it is, the supply feeds the first {mending.most_heads} of its {count} heads well."


def _one_after_the_other(job: LoadedJob, found: JobNetwork, aim: Requirements) -> str:
    verdicts = []
    for zone in found.zones:
        names = found.order(zone)
        needed: Mapping[str, float] = {
            name: psi for name, psi in aim.needed_psi.items() if name in set(names)
        }
        alone = only_heads(found.network, names, found.heads)
        verdicts.append(assess(alone, replace(aim, needed_psi=needed)))
    words = listed([zone_word(zone) for zone in found.zones])
    if not all(verdict.met for verdict in verdicts):
        return f"Running {words} one after the other would not be enough."
    worst = min(verdicts, key=lambda one: one.margin_psi)
    return f"Run {words} one after the other: {_spare(job, worst)}."


def _spare(job: LoadedJob, verdict: Margins) -> str:
    return f"the worst head then has {quantity(job, verdict.margin_psi, PRESSURE)} to spare"
