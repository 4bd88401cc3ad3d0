"""What the plan of a job shows: marks, tapes, pipes and the house wall, on axes in ft.

Nothing is drawn at a guessed place. A box is located by its tapes; a pipe run is drawn only where
both its ends are: its start at the end of the run before, or at its valve's box, and its end where
a tie says that it ends. What has no position is listed by name.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from fieldbook.checks.common.naming import box_name, box_word, quantity, short, zone_word
from fieldbook.checks.ground.fixed_points import Spot, by_compass, spot_of, wall_of
from fieldbook.checks.ground.positions import TieError, position_of
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.ties import COMPASS, FixedPoint, Tie
from fieldbook.records.tables.wires import Valve, ValveBox
from fieldbook.units import LENGTH

MarkKind = Literal["corner", "box", "head", "splice", "end", "other"]
MARK_WORDS: dict[MarkKind, str] = {
    "corner": "taped corner",
    "box": "valve box",
    "splice": "wire splice",
    "other": "other buried part",
    "head": "sprinkler head",
    "end": "end of pipe",
}
"""What each kind of mark is called in the legend; parts are listed in this order."""
_LONGEST_LABEL = 14
_ON_WALL_FT = 0.1
"""A corner no farther from the wall's line than a tape may err is drawn on it."""


class Mark(NamedTuple):
    """A point on the axes of the plan, in ft, its name, and the few letters of it on a small map.

    Corners have numbers from 1, as in the record.
    """

    kind: MarkKind
    at: Spot
    name: str
    label: str
    number: int = 0


class Tape(NamedTuple):
    """A tape from a corner to a located part, both on the axes of the plan, and its length."""

    corner: int
    start: Spot
    end: Spot
    words: str
    to: str


class Pipe(NamedTuple):
    """A pipe run between two located ends; `words` are its size, `zone` is "" for the mainline."""

    start: Spot
    end: Spot
    words: str
    zone: str


@dataclass(frozen=True)
class Plan:
    """What is where. `wall` are the ends of the house wall, the house on the left of the way.

    `north_deg` is the way north on the plan, clockwise from up; None where it is not known. `lacks`
    names what has no position: boxes, other tied parts, pipes.
    """

    address: str
    by_compass: bool
    marks: tuple[Mark, ...]
    tapes: tuple[Tape, ...]
    pipes: tuple[Pipe, ...]
    wall: tuple[Spot, Spot] | None
    north_deg: float | None
    lacks: tuple[str, ...]

    @property
    def corners(self) -> tuple[Mark, ...]:
        """The taped corners."""
        return tuple(mark for mark in self.marks if mark.kind == "corner")

    @property
    def parts(self) -> tuple[Mark, ...]:
        """What is buried and located."""
        return tuple(mark for mark in self.marks if mark.kind != "corner")

    @property
    def drawn_tapes(self) -> tuple[Tape, ...]:
        """The tapes that are drawn: those of pipe ends and heads are many, and listed alone."""
        kinds = {(mark.at, mark.name): mark.kind for mark in self.parts}
        listed = ("head", "end")
        return tuple(tape for tape in self.tapes if kinds[tape.end, tape.to] not in listed)

    @property
    def frame(self) -> tuple[Spot, Spot]:
        """The corners of the smallest upright rectangle around all marks and pipes."""
        spots = [mark.at for mark in self.marks] or [Spot(0.0, 0.0)]
        xs, ys = [spot.x_ft for spot in spots], [spot.y_ft for spot in spots]
        return Spot(min(xs), min(ys)), Spot(max(xs), max(ys))


def plan_of(job: LoadedJob) -> Plan:
    """The plan of a job."""
    corners = list(_corners(job))
    numbers = {point.id: mark.number for point, mark in corners}
    located = {tie.id: spot for tie in job.ties if (spot := _spot(job, tie)) is not None}
    parts: list[Mark] = []
    tapes: list[Tape] = []
    ties = [tie for tie in job.ties if tie.id in located]
    kinds = list(MARK_WORDS)
    for tie in sorted(ties, key=lambda tie: (kinds.index(_kind(job, tie)), _name(job, tie))):
        kind, name = _kind(job, tie), _name(job, tie)
        label = name.removeprefix("valve ") if kind == "box" else tie.thing or name
        mark = Mark(kind, located[tie.id], name, short(label, _LONGEST_LABEL))
        parts.append(mark)
        tapes += _tapes(job, tie, mark, numbers)
    pipes, undrawn = _pipes(job, located)
    return Plan(
        job.job.address,
        by_compass(job),
        (*(mark for _, mark in corners), *parts),
        tuple(tapes),
        tuple(pipes),
        _wall(job),
        _north_deg(job),
        (*_not_located(job, located), *undrawn),
    )


def _corners(job: LoadedJob) -> Iterator[tuple[FixedPoint, Mark]]:
    placed = [(point, spot_of(job, point)) for point in job.fixed_points]
    for number, (point, spot) in enumerate(placed, start=1):
        if spot is not None:
            name = short(point.name) or f"corner {number}"
            yield point, Mark("corner", spot, name, str(number), number)


def _spot(job: LoadedJob, tie: Tie) -> Spot | None:
    """Where a tied part is; None while its tapes don't say it, or can't be right."""
    try:
        found = position_of(job, tie)
    except TieError:
        return None
    if found is None or not math.isfinite(found.east_ft + found.north_ft):
        return None
    return Spot(found.east_ft, found.north_ft)


def _kind(job: LoadedJob, tie: Tie) -> MarkKind:
    if tie.thing == "valve box" or job.find(ValveBox, tie.box_id) is not None:
        return "box"
    run = job.find(PipeRun, tie.run_id)
    if run is not None and job.head_at(run.id) is not None:
        return "head"
    if run is not None or tie.thing == "line end":
        return "end"
    return "splice" if tie.thing == "splice" else "other"


def _name(job: LoadedJob, tie: Tie) -> str:
    """Such as "valve box A", "drain at the gate" or, for the end of a run, "zone 3 run 2"."""
    box = job.find(ValveBox, tie.box_id)
    if box is not None:
        return box_word(box)
    run = job.find(PipeRun, tie.run_id)
    if run is not None and not tie.name.strip():
        stretch = "mainline" if run.zone_id is None else zone_word(job.zone(run.zone_id))
        return f"{stretch} run {run.number or '?'}"
    name, thing = tie.name.strip(), tie.thing or ""
    if not name.casefold().startswith(thing.casefold()):
        name = f"{thing} {name}"
    return short(name or thing) or "tied part"


def _tapes(job: LoadedJob, tie: Tie, mark: Mark, numbers: dict[str, int]) -> Iterator[Tape]:
    for column in (1, 2, 3):
        point = job.find(FixedPoint, getattr(tie, f"point_{column}_id"))
        start, tape_ft = spot_of(job, point), amount(tie, f"tape_{column}_ft")
        if point is not None and start is not None and tape_ft is not None:
            words = quantity(job, tape_ft, LENGTH)
            yield Tape(numbers[point.id], start, mark.at, words, mark.name)


def _pipes(job: LoadedJob, located: dict[str, Spot]) -> tuple[list[Pipe], list[str]]:
    """The runs whose two ends are located, and how many of each stretch are not drawn."""
    ends = _run_ends(job, located)
    pipes: list[Pipe] = []
    undrawn = []
    for zone_id in (None, *(zone.id for zone in job.zones)):
        runs = job.runs_of(zone_id)
        stretch = "mainline" if zone_id is None else zone_word(job.zone(zone_id))
        drawn = []
        for run in runs:
            start, end = _run_start(job, run, ends, located), ends.get(run.id)
            if start is not None and end is not None:
                words = f"{run.size} in" if run.size else ""
                drawn.append(Pipe(start, end, words, "" if zone_id is None else stretch))
        pipes += drawn
        name = "the mainline" if zone_id is None else stretch
        if len(drawn) < len(runs):
            undrawn.append(f"{len(runs) - len(drawn)} of {len(runs)} pipe runs of {name}")
    return pipes, undrawn


def _run_ends(job: LoadedJob, located: dict[str, Spot]) -> dict[str, Spot]:
    """Where runs end: at a tie, or a run of the mainline at the box of the valve it leads to."""
    tied = {tie.run_id: located[tie.id] for tie in job.ties if tie.run_id and tie.id in located}
    boxes: dict[str, set[Spot]] = {}
    for valve in job.valves:
        box, run = _box_spot(job, valve.box_id, located), _main_run(job, valve)
        if box is not None and run is not None:
            boxes.setdefault(run.id, set()).add(box)
    # A run that would end at several boxes has a branch that the record does not tell of.
    only = {run_id: next(iter(spots)) for run_id, spots in boxes.items() if len(spots) == 1}
    return only | tied


def _main_run(job: LoadedJob, valve: Valve) -> PipeRun | None:
    """The run of the mainline that ends at a valve: the one it names, else the last."""
    mains = [run for run in job.runs_of(None) if run.number is not None]
    if valve.main_run is None:
        return mains[-1] if mains else None
    return next((run for run in mains if run.number == valve.main_run), None)


def _run_start(
    job: LoadedJob, run: PipeRun, ends: dict[str, Spot], located: dict[str, Spot]
) -> Spot | None:
    if run.after is not None:
        before = [one for one in job.runs_of(run.zone_id) if one.number == run.after]
        return ends.get(before[0].id) if before else None
    if run.zone_id is None:
        source = next((tie for tie in job.ties if tie.thing == "backflow"), None)
        return located.get(source.id) if source is not None else None
    valve = job.valve_of(run.zone_id)
    return _box_spot(job, valve.box_id, located) if valve is not None else None


def _box_spot(job: LoadedJob, box_id: str | None, located: dict[str, Spot]) -> Spot | None:
    """Where a box is, by the first of its ties that locates it."""
    ties = (tie for tie in job.ties if box_id and tie.box_id == box_id)
    return next((located[tie.id] for tie in ties if tie.id in located), None)


def _not_located(job: LoadedJob, located: dict[str, Spot]) -> Iterator[str]:
    """The boxes and other tied parts without a position."""
    for box in job.valve_boxes:
        if _box_spot(job, box.id, located) is None:
            yield box_name(box)
    for tie in job.ties:
        if tie.id not in located and job.find(ValveBox, tie.box_id) is None:
            yield _name(job, tie)


def _wall(job: LoadedJob) -> tuple[Spot, Spot] | None:
    """The wall as far as corners on its line show it; None with fewer than two of them."""
    if not job.fixed_points:
        return None
    corner, (dx, dy) = wall_of(job)
    along = []
    for point in job.fixed_points:
        spot = spot_of(job, point)
        if spot is None:
            continue
        x, y = spot.x_ft - corner.x_ft, spot.y_ft - corner.y_ft
        if abs(x * dy - y * dx) <= _ON_WALL_FT:
            along.append(x * dx + y * dy)
    if len(along) < 2 or max(along) - min(along) <= _ON_WALL_FT:
        return None
    first, last = min(along), max(along)
    return (
        Spot(corner.x_ft + first * dx, corner.y_ft + first * dy),
        Spot(corner.x_ft + last * dx, corner.y_ft + last * dy),
    )


def _north_deg(job: LoadedJob) -> float | None:
    """Clockwise from up. Out from the wall is down on the plan, and a point says where it faces."""
    if by_compass(job):
        return 0.0
    faces = next((point.faces for point in job.fixed_points if point.faces in COMPASS), None)
    if faces is None:
        return None
    return (180.0 - 45.0 * COMPASS.index(faces)) % 360.0
