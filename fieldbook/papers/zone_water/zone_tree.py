"""The tree of a zone: its lateral as it branches, each run with its figures, each head's pressure.

It is drawn as far as it is entered: what is missing is "?", and runs without a way back to the
valve are named under the drawing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from fieldbook.checks.common.naming import listed, quantity, speed, system_of
from fieldbook.checks.water.pipe_tree import Runs, RunTree, lateral_of
from fieldbook.checks.water.zone_solutions import Speed, speeds
from fieldbook.checks.water.zone_status import HeadWord, ZoneStatus, head_word
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.picture import Role
from fieldbook.papers.zone_water.branches import Branch, lay_out
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.units import FLOW, LENGTH, PRESSURE, VELOCITY, System, fixed, show

VALVE, HEAD, WORST, FAST, UNKNOWN = "◇", "●", "◂", "!", "?"
"""The signs of the valve, a head, the worst head, too fast water, and what is not entered."""
_ROLES: Mapping[HeadWord, Role] = {
    "good": "good",
    "tight": "tight",
    "low": "wrong",
    "dry": "wrong",
    "high": "wrong",
}
_NAMES = ("run", "size", "length", "flow", "velocity")
_STEP = 2
"""Cells from one column of the tree to the next."""
_GAPS = (4, 2, 1)
"""Cells between two columns of figures: the most that fits is taken."""
_TOP = 2
"""The row of the valve: over it are the heads of the columns and their units."""


class TreeHead(NamedTuple):
    """The head at the end of a run: its pressure, how it stands in a word."""

    psi: str
    word: str
    role: Role


class TreeRow(NamedTuple):
    """One run: its number, size, length, flow and velocity as words, then its head if it has one.

    `note` says what is odd about a run without a head.
    """

    cells: tuple[str, ...]
    fast: bool
    head: TreeHead | None
    worst: bool
    note: str = ""


def tree_picture(job: LoadedJob, status: ZoneStatus, width: int) -> Canvas | None:
    """The tree of a zone, at most `width` columns wide; None where no run of it is entered."""
    lateral = lateral_of(job, status.zone)
    if not lateral.runs:
        return None
    drawings = [_drawing(job, status, lateral, gap) for gap in _GAPS]
    canvas = next((one for one in drawings if one.columns <= width), drawings[-1])
    below = canvas.rows
    for sentence in _sentences(job, status, lateral):
        below = canvas.say_wrapped(below, sentence, width)
    return canvas


def _drawing(job: LoadedJob, status: ZoneStatus, lateral: RunTree, gap: int) -> Canvas:
    """The pipes and the figures, with columns so many cells apart."""
    canvas = Canvas()
    branches = lay_out(_fed_by(lateral))
    if not branches:
        return canvas
    rows = tree_rows(job, status, lateral)
    _pipes(canvas, branches)
    for one in branches:
        head = rows[one.key].head
        if head is not None:
            canvas.spot(
                (_STEP * one.column + 0.5, _TOP + one.row + 0.5), role=head.role or "strong"
            )
    first = _STEP * max(one.column for one in branches) + 2
    _figures(canvas, [rows[one.key] for one in branches], (first, gap), system_of(job))
    psi = _valve_psi(status, lateral)
    behind = f", {quantity(job, psi, PRESSURE)} behind it" if psi is not None else ""
    canvas.spot((0.5, _TOP + 0.5), VALVE)
    canvas.say(first, _TOP, f"valve{behind}")
    return canvas


def tree_rows(job: LoadedJob, status: ZoneStatus, lateral: RunTree) -> dict[str, TreeRow]:
    """The words of every run that leads back to the valve, by the run's id."""
    system = system_of(job)
    moving = {one.run.id: one for one in speeds(job, status.group) if one.run is not None}
    feeds = set(_fed_by(lateral).values())
    worst = status.worst.rows.run.id if status.worst is not None else None
    heads = _heads(job, status, lateral.paths())
    found = {}
    for path in lateral.paths():
        run = path[-1]
        pipe, head = moving.get(run.id), heads.get(run.id)
        found[run.id] = TreeRow(
            _cells(run, pipe, system),
            pipe is not None and pipe.excess > 1 + 1e-9,
            head,
            run.id == worst,
            "no head" if head is None and run.id not in feeds else "",
        )
    return found


def _fed_by(lateral: RunTree) -> dict[str, str | None]:
    """For each run that leads back to the valve, the run that feeds it."""
    return {path[-1].id: path[-2].id if len(path) > 1 else None for path in lateral.paths()}


def _heads(job: LoadedJob, status: ZoneStatus, paths: Sequence[Runs]) -> dict[str, TreeHead]:
    """Every head by the id of its run, with its pressure where the zone is solved."""
    solved = {head[0].run.id: head for head in status.group.heads_of(status.zone)}
    found = {}
    for *_, run in paths:
        if run.id in solved:
            word = head_word(solved[run.id])
            psi = fixed(solved[run.id][1].psi, PRESSURE, system_of(job))
            found[run.id] = TreeHead(psi, word or "", _ROLES[word] if word else "")
        elif job.head_at(run.id) is not None:
            found[run.id] = TreeHead(UNKNOWN, "", "")
    return found


def _cells(run: PipeRun, pipe: Speed | None, system: System) -> tuple[str, ...]:
    """Number, size, length, flow and velocity of a run, without their units."""
    flow = fixed(pipe.flow_gpm, FLOW, system) if pipe is not None else UNKNOWN
    length = amount(run, "length_ft")
    return (
        str(run.number or UNKNOWN),
        run.size or UNKNOWN,
        show(length, LENGTH, system, unit=False) or UNKNOWN,
        flow,
        fixed(pipe.ft_s, VELOCITY, system) if pipe is not None else UNKNOWN,
    )


def _pipes(canvas: Canvas, branches: Sequence[Branch]) -> None:
    """The pipes: down the column of what feeds a run, then across to its own."""
    for one in branches:
        corner = (_STEP * one.from_column, _TOP + one.row)
        canvas.link((corner[0], _TOP + one.from_row), corner)
        if one.column != one.from_column:
            canvas.link(corner, (_STEP * one.column, corner[1]))


def _figures(
    canvas: Canvas, rows: Sequence[TreeRow], place: tuple[int, int], system: System
) -> None:
    """The figures of each run in columns, right aligned under their heads.

    `place` is the column where the first begins, and how many cells are between two of them.
    """
    first, gap = place
    units = ("", "in", LENGTH.unit(system), FLOW.unit(system), VELOCITY.unit(system))
    at = first - gap
    for number, name in enumerate(_NAMES):
        texts = [row.cells[number] for row in rows]
        at += gap + max(len(name), len(units[number]), *map(len, texts))
        _column(canvas, at, (name, units[number]), texts)
    for line, row in enumerate(rows, start=_TOP + 1):
        if row.fast:
            canvas.say(at, line, FAST, "wrong")
    psi, heads = PRESSURE.unit(system), [row.head for row in rows]
    widest = max(len(head.psi) for head in [*heads, TreeHead(psi, "", "")] if head is not None)
    end = at + gap + 3 + widest
    _column(canvas, end, ("head", psi), [])
    for line, row in enumerate(rows, start=_TOP + 1):
        if row.head is None:
            canvas.say(end - widest - 2, line, row.note, "faint")
            continue
        canvas.say(end - widest - 2, line, HEAD, row.head.role)
        canvas.say_up_to(end, line, row.head.psi, row.head.role)
        worst = f"{WORST} worst" if gap > 1 else WORST
        word = f"{row.head.word} {worst}" if row.worst else row.head.word
        canvas.say(end + min(gap, 2), line, word.strip(), row.head.role)


def _column(canvas: Canvas, end: int, heads: tuple[str, str], texts: Sequence[str]) -> None:
    """A column that ends before `end`: its name, its unit, its texts."""
    for line, text in enumerate(heads):
        canvas.say_up_to(end, line, text, "faint")
    for line, text in enumerate(texts, start=_TOP + 1):
        canvas.say_up_to(end, line, text)


def _valve_psi(status: ZoneStatus, lateral: RunTree) -> float | None:
    """The pressure where the lateral begins, behind the valve, its filter and its regulator."""
    network, solution = status.group.job_network, status.group.solution
    if network is None or solution is None:
        return None
    first = {path[0].id for path in lateral.paths()}
    for link in network.network.links:
        run = network.runs.get(link.name)
        if run is not None and run.id in first:
            return solution.node_psi[link.start]
    return None


def _sentences(job: LoadedJob, status: ZoneStatus, lateral: RunTree) -> Iterator[str]:
    """What the signs mean, what the flows rest on, which runs could not be drawn."""
    worst = status.worst
    if worst is not None:
        psi = quantity(job, worst.result.psi, PRESSURE)
        needs = f"{worst.words} {quantity(job, worst.held_to_psi, PRESSURE)}"
        yield f"{WORST} worst head: run {worst.rows.run.number or UNKNOWN}, {psi}; {needs}."
    own = {run.id for run in lateral.runs}
    pipes = [one for one in speeds(job, status.group) if one.run and one.run.id in own]
    fast = [one for one in pipes if one.excess > 1 + 1e-9]
    if fast:
        limit = speed(job, min(one.limit_ft_s for one in fast))
        yield f"{FAST} the water runs faster than {limit}."
    if status.group.solution is None:
        yield "Not solved: the flows are those of the nozzles. ? is not entered or not known yet."
    yield from _not_drawn(lateral)


def _not_drawn(lateral: RunTree) -> Iterator[str]:
    """The runs without a way back to the valve, and why they have none."""
    for runs, why in (
        (lateral.unfed, "not fed from the valve"),
        (lateral.looped, "fed in a ring"),
        (lateral.doubled, "their number is used twice"),
    ):
        if runs:
            numbers = listed([f"run {run.number or UNKNOWN}" for run in runs])
            yield f"Not drawn, {why}: {numbers}."
