"""The head of a zone's sheet: its verdict, what holds it, what governs, what is still missing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from rich.cells import cell_len

from fieldbook.checks.common.naming import (
    listed,
    sentence,
    system_of,
    zone_name,
    zone_word,
)
from fieldbook.checks.severity import Severity
from fieldbook.checks.water.zone_solutions import Speed, speeds
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.picture import Role
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import FLOW, PRESSURE, VELOCITY, Measure, fixed

SOUND, WRONG, NOT_CHECKED = "✓", "✗", "?"
_GAPS = (3, 2, 1)
"""Cells between two columns of figures: the most that fits is taken."""


_FLAG_ROLES: Mapping[Severity, Role] = {"stop": "wrong", "fix": "tight", "note": "faint"}


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
    found = []
    supply, worst, pipe = status.held, status.worst, _fastest(job, status)
    if supply.draw_gpm is not None and supply.available is not None:
        limit = supply.available
        spare = limit.flow_gpm - supply.draw_gpm
        label = "draw" if len(status.group.zones) == 1 else "draw together"
        if supply.drawn_by != "solved":
            label += f", by {supply.drawn_by}"
        figures = (supply.draw_gpm, limit.flow_gpm, spare)
        found.append(_held(job, label, figures, FLOW, limit.rule))
    if worst is not None:
        label = f"worst head, run {worst.rows.run.number or '?'}"
        by = "its minimum" if "minimum" in worst.words else "what the head needs"
        figures = (worst.result.psi, worst.held_to_psi, worst.margin_psi)
        found.append(_held(job, label, figures, PRESSURE, by))
    if pipe is not None:
        run, label = pipe.run, "service line"
        if run is not None:
            label = f"{'mainline' if run.zone_id is None else 'run'} {run.number or '?'}"
        figures = (pipe.ft_s, pipe.limit_ft_s, pipe.limit_ft_s - pipe.ft_s)
        found.append(_held(job, label, figures, VELOCITY, "the velocity limit of its pipe"))
    return found


def _held(
    job: LoadedJob, label: str, figures: tuple[float, float, float], measure: Measure, by: str
) -> Held:
    """A row of what is held; `figures` are the figure, its limit, and what is to spare."""
    system = system_of(job)
    now, limit, spare = (fixed(one, measure, system) for one in figures)
    part = figures[2] / (figures[1] or 1.0)
    return Held(label, now, limit, spare, measure.unit(system), part, by)


def _fastest(job: LoadedJob, status: ZoneStatus) -> Speed | None:
    """The pipe on the way to this zone whose water is nearest its limit."""
    zones = (None, status.zone.id)
    pipes = [
        one
        for one in speeds(job, status.group)
        if (one.run.zone_id if one.run is not None else None) in zones
    ]
    return max(pipes, key=lambda pipe: pipe.excess, default=None)


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
        tables = [_table(held, gap) for gap in _GAPS]
        canvas.add_below(next((one for one in tables if one.columns <= width), tables[-1]))
        governs = min(held, key=lambda one: one.part)
        words = f"Governs: {governs.label}, held to {governs.by}."
        canvas.say_wrapped(canvas.rows, words, width)
    for flag in status.flags:
        role = _FLAG_ROLES[flag.severity]
        words = f"{flag.severity.upper()} {flag.sentence}"
        canvas.say_wrapped(canvas.rows, words, width, role)
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
        yield f"Solved together with {listed(others)}: they run at the same time."
    if group.missing:
        yield f"Not worked out yet: {group.missing} must be entered."
    missing = [lack.words for lack in status.missing if lack.at != group.missing_at]
    if missing:
        yield f"Not checked yet: {listed(missing, most=3)} must be entered."
    if group.refusal:
        yield group.refusal
    elif group.failed:
        yield "The solver found no flow that fits every part: look for an impossible figure."
