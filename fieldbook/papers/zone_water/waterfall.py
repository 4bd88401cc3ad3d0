"""Where the pressure goes on the way from the street to a zone's worst head, as a waterfall.

Every bar begins where the last one ended: static pressure, each loss and gain, what is left at the
head, what the head needs, and what is to spare or short.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fieldbook.checks.common.naming import run_name, system_of, zone_word
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.picture import Role
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.units import PRESSURE, fixed
from fieldbook.water import HEIGHT, SUPPLY, ledger

_MOST_RUNS = 8
"""Lateral runs with a bar each; of more, neighbours of one size share a bar."""
_LABEL = 22
"""The most columns of a label."""


class Step(NamedTuple):
    """One bar, from one pressure to another, both in psi.

    `sign` is "-" for a loss, "+" for a gain, "=" for what is left, "" for a pressure that stands.
    """

    label: str
    sign: str
    from_psi: float
    to_psi: float
    role: Role = ""

    @property
    def psi(self) -> float:
        """How long the bar is."""
        return abs(self.to_psi - self.from_psi)


class _Loss(NamedTuple):
    label: str
    psi: float
    run: PipeRun | None


def waterfall_steps(status: ZoneStatus) -> list[Step]:
    """The bars of a zone's worst head; none for a zone that is not solved.

    The losses and gains lead from the static pressure to exactly what the solver leaves there.
    """
    network, solution, worst = status.group.job_network, status.group.solution, status.worst
    if network is None or solution is None or worst is None or not solution.converged:
        return []
    name = next(name for name, rows in network.heads.items() if rows is worst.rows)
    entries = ledger(network.network, solution, name)
    losses = [
        _Loss(_label(status, item.name), item.psi, network.runs.get(item.name))
        for item in entries.items
        if item.psi
    ]
    steps = [Step("static pressure", "", 0.0, entries.static_psi, "strong")]
    at = entries.static_psi
    for loss in _folded(losses):
        steps.append(Step(loss.label, "-" if loss.psi > 0 else "+", at, at - loss.psi))
        at -= loss.psi
    good: Role = "wrong" if worst.margin_psi < 0 else "good"
    spare = "short" if worst.margin_psi < 0 else "to spare"
    return [
        *steps,
        Step("left at the head", "=", 0.0, entries.left_psi, "strong"),
        Step(worst.words, "", 0.0, worst.held_to_psi),
        Step(spare, "", worst.held_to_psi, entries.left_psi, good),
    ]


def _label(status: ZoneStatus, name: str) -> str:
    """What an item of the ledger is called on the page of its zone."""
    if name == SUPPLY:
        return "supply (flow test)"
    if name == HEIGHT:
        return "height of the head"
    return name.removesuffix(f" of {zone_word(status.zone)}").replace("mainline run", "mainline")


def _folded(losses: Sequence[_Loss]) -> list[_Loss]:
    """The losses, with neighbouring lateral runs of one size added up where there are many."""
    lateral = [loss for loss in losses if loss.run is not None and loss.run.zone_id is not None]
    if len(lateral) <= _MOST_RUNS:
        return [_with_size(loss) for loss in losses]
    found: list[list[_Loss]] = []
    for loss in losses:
        last = found[-1][-1].run if found else None
        same = last is not None and loss.run is not None and last.zone_id == loss.run.zone_id
        if same and last is not None and loss.run is not None and last.size == loss.run.size:
            found[-1].append(loss)
        else:
            found.append([loss])
    return [_together(group) for group in found]


def _with_size(loss: _Loss) -> _Loss:
    if loss.run is None or not loss.run.size:
        return loss
    return loss._replace(label=f"{loss.label}, {loss.run.size} in")


def _together(group: Sequence[_Loss]) -> _Loss:
    first, last = group[0], group[-1]
    if first.run is None or last.run is None or len(group) == 1:
        return _with_size(first)
    label = f"{len(group)} runs to {last.run.number or '?'}"
    return _with_size(_Loss(label, sum(loss.psi for loss in group), first.run))


def waterfall_picture(job: LoadedJob, status: ZoneStatus, width: int) -> Canvas | None:
    """The waterfall of a zone's worst head, at most `width` columns wide; None where unsolved."""
    steps = waterfall_steps(status)
    if not steps or status.worst is None:
        return None
    system = system_of(job)
    unit = PRESSURE.unit(system)
    # A loss that rounds to nothing would stand there as 0.0.
    shown = [
        step for step in steps if step.sign in ("", "=") or float(fixed(step.psi, PRESSURE, system))
    ]
    figures = [f"{step.sign:1}{fixed(step.psi, PRESSURE, system)}" for step in shown]
    label = min(max(len(step.label) for step in shown), _LABEL)
    figure = max(len(unit), *(len(text) for text in figures))
    left = label + 1 + figure + 2
    ends = [psi for step in steps for psi in (step.from_psi, step.to_psi)]
    low, high = min(0.0, *ends), max(*ends, 1e-9)
    scale = (width - left) / (high - low)
    canvas = Canvas()
    canvas.say_up_to(left - 2, 0, unit, "faint")
    need = left + (status.worst.held_to_psi - low) * scale
    canvas.dotted(min(int(need), width - 1), range(1, len(shown)))
    for row, (step, text) in enumerate(zip(shown, figures, strict=True), start=1):
        canvas.say(0, row, _cut(step.label, label), step.role)
        canvas.say(left - 2 - figure, row, f"{text[:1]}{text[1:]:>{figure - 1}}", step.role)
        start, end = (left + (psi - low) * scale for psi in (step.from_psi, step.to_psi))
        canvas.bar(row, start, end, step.role)
    at = run_name(job, status.worst.rows.run)
    canvas.say_wrapped(canvas.rows, f"The head at {at}; ┊ marks what it needs.", width)
    return canvas


def _cut(label: str, width: int) -> str:
    return label if len(label) <= width else label[: width - 1] + "…"
