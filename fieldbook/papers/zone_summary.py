"""The head of a zone's sheet: its verdict, what holds it, what governs, what is still missing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rich.cells import cell_len

from fieldbook.checks.common.naming import (
    is_or_are,
    listed,
    sentence,
    system_of,
    zone_name,
    zone_word,
)
from fieldbook.checks.water.zone_solutions import Speed, speeds
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.picture import Role
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import FLOW, PRESSURE, Measure, System

SOUND, WRONG, NOT_CHECKED = "✓", "✗", "?"
_M_IN_FT = 0.3048
_GAPS = (3, 1)
"""Cells between two columns of figures: the most that fits is taken."""


class Mark(NamedTuple):
    """A verdict as its sign, its word and its role."""

    sign: str
    word: str
    role: Role


def verdict_of(status: ZoneStatus) -> Mark:
    """Whether a zone is sound, wrong or not checked, and in which way."""
    if status.word == "good":
        return Mark(SOUND, "sound", "good")
    if status.word == "tight":
        return Mark(SOUND, "sound, but tight", "tight")
    if status.word == "doubtful":
        return Mark(NOT_CHECKED, "doubtful: a figure that it rests on has a flag", "tight")
    if status.word == "open":
        return Mark(NOT_CHECKED, "not checked", "strong")
    return Mark(WRONG, f"wrong: {status.word}", "wrong")


class Held(NamedTuple):
    """One thing that a zone is held to: its figure and its limit, without their unit.

    `spare` is negative where the limit is not kept; `part` is it as a part of the limit. `by` names
    the limit in words.
    """

    label: str
    now: str
    limit: str
    spare: str
    unit: str
    part: float
    by: str


def held_to(job: LoadedJob, status: ZoneStatus) -> list[Held]:
    """What a zone's draw, its worst head and its fastest water are held to, as far as known."""
    system = system_of(job)
    found = []
    limit, worst, pipe = status.available, status.worst, _fastest(job, status)
    if status.flow_gpm is not None and limit is not None:
        figures = (limit.flow_gpm - status.flow_gpm, limit.flow_gpm)
        by = limit.rule.rstrip(",")
        found.append(_held("draw", status.flow_gpm, figures, (FLOW, system), by))
    if worst is not None:
        label = f"worst head, run {worst.rows.run.number or '?'}"
        figures = (worst.margin_psi, worst.held_to_psi)
        by = "its minimum" if "minimum" in worst.words else "what the head needs"
        found.append(_held(label, worst.result.psi, figures, (PRESSURE, system), by))
    if pipe is not None:
        found.append(_fast(pipe, system))
    return found


def _fastest(job: LoadedJob, status: ZoneStatus) -> Speed | None:
    """The pipe on the way to this zone whose water is nearest its limit."""
    zones = (None, status.zone.id)
    pipes = [
        one
        for one in speeds(job, status.group)
        if (one.run.zone_id if one.run is not None else None) in zones
    ]
    return max(pipes, key=lambda pipe: pipe.excess, default=None)


def _fast(pipe: Speed, system: System) -> Held:
    run = pipe.run
    label = "service line"
    if run is not None:
        label = f"{'mainline' if run.zone_id is None else 'run'} {run.number or '?'}"
    factor, unit, places = (_M_IN_FT, "m/s", 2) if system == "metric" else (1.0, "ft/s", 1)
    now, limit, spare = (
        f"{value * factor:.{places}f}"
        for value in (pipe.ft_s, pipe.limit_ft_s, pipe.limit_ft_s - pipe.ft_s)
    )
    return Held(label, now, limit, spare, unit, 1 - pipe.excess, "the velocity limit of its pipe")


def _held(
    label: str,
    now: float,
    figures: tuple[float, float],
    shown_in: tuple[Measure, System],
    by: str,
) -> Held:
    """A row of what is held; `figures` are what is to spare, and the limit."""
    measure, system = shown_in
    unit = measure.unit(system)
    places = measure.metric_decimals if system == "metric" else measure.decimals
    words = [f"{one / measure.factors[unit.lower()]:.{places}f}" for one in (now, *figures)]
    spare, limit = figures
    return Held(label, words[0], words[2], words[1], unit, spare / (limit or 1.0), by)


def summary_picture(job: LoadedJob, status: ZoneStatus, width: int) -> Canvas:
    """The head of a zone's sheet, at most `width` columns wide."""
    canvas = Canvas()
    mark = verdict_of(status)
    name, verdict = sentence(zone_name(status.zone)), f"{mark.sign} {mark.word}"
    below = canvas.say_wrapped(0, name, width, "title")
    if cell_len(f"{name}   {verdict}") <= width:
        canvas.say(cell_len(name) + 3, 0, verdict, mark.role)
    else:
        below = canvas.say_wrapped(below, verdict, width, mark.role)
    for words in _sentences(status):
        below = canvas.say_wrapped(below, words, width)
    held = held_to(job, status)
    if held:
        table = _table(held, _GAPS[0])
        canvas.add_below(table if table.columns <= width else _table(held, _GAPS[1]))
        governs = min(held, key=lambda one: one.part)
        words = f"Governs: {governs.label}, held to {governs.by}."
        canvas.say_wrapped(canvas.rows, words, width)
    return canvas


def _table(held: list[Held], gap: int) -> Canvas:
    """What is held as a table, with columns so many cells apart."""
    canvas = Canvas()
    at = max(len(one.label) for one in held)
    for name, words in (
        ("now", [one.now for one in held]),
        ("limit", [one.limit for one in held]),
        ("spare", [one.spare for one in held]),
    ):
        at += gap + max(len(name), *map(len, words))
        canvas.say_up_to(at, 0, name, "faint")
        for row, text in enumerate(words, start=1):
            canvas.say_up_to(at, row, text, "strong")
    units = max(len(one.unit) for one in held)
    for row, one in enumerate(held, start=1):
        mark = Mark(WRONG, "wrong", "wrong") if one.part < -1e-9 else Mark(SOUND, "kept", "good")
        canvas.say(0, row, one.label)
        canvas.say(at + 1, row, one.unit)
        canvas.say(at + 1 + units + gap, row, f"{mark.sign} {mark.word}", mark.role)
    return canvas


def _sentences(status: ZoneStatus) -> Iterator[str]:
    """With which zones it runs, what is missing, why it is not solved."""
    group = status.group
    others = [zone_word(one) for one in group.zones if one is not status.zone]
    if others:
        yield f"Solved together with {listed(others)}, which run at the same time."
    if group.missing:
        yield f"Not worked out yet: {group.missing} is still to be entered."
    missing = [lack.words for lack in status.missing if lack.at != group.missing_at]
    if missing:
        verb = is_or_are(len(missing))
        yield f"Not checked yet: {listed(missing, most=3)} {verb} still to be entered."
    if group.refusal:
        yield group.refusal
    elif group.failed:
        yield "The solver found no flow that fits every part: look for an impossible figure."
