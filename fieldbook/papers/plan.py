"""The as-built plan: fixed points and the parts tied to them, to scale; which way is up it says."""

from __future__ import annotations

import math
from dataclasses import dataclass
from html import escape
from typing import NamedTuple

from fieldbook.checks.common.naming import quantity, short
from fieldbook.checks.ground.fixed_points import by_compass, spot_of, spot_words
from fieldbook.checks.ground.positions import TieError, position_of, tapes_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import LENGTH

_CELL_ASPECT = 2.0
"""How many times as high as wide a character cell is, roughly."""
_PX_PER_FT_MAX, _WIDE_PX, _HIGH_PX, _EDGE_PX = 20.0, 720.0, 520.0, 60.0


class Mark(NamedTuple):
    """A point on the axes of the plan, in ft; `fixed`: a fixed point itself."""

    east_ft: float
    north_ft: float
    name: str
    fixed: bool


class Tape(NamedTuple):
    """A tape from a fixed point to a tied part, both on the axes of the plan; its length."""

    start: tuple[float, float]
    end: tuple[float, float]
    words: str


@dataclass(frozen=True)
class Plan:
    """The marks, the tapes between them, and the names of ties that give no position yet."""

    title: str
    marks: tuple[Mark, ...]
    tapes: tuple[Tape, ...]
    unplaced: tuple[str, ...]


def plan_of(job: LoadedJob) -> Plan:
    """The plan of a job."""
    marks: list[Mark] = []
    for point in job.fixed_points:
        spot = spot_of(job, point)
        if spot is not None:
            marks.append(Mark(*spot, short(point.name or "point"), fixed=True))
    marks.sort(key=lambda mark: (math.hypot(mark.east_ft, mark.north_ft), mark.name))
    tapes: list[Tape] = []
    unplaced = []
    for tie in sorted(job.ties, key=lambda one: (one.thing or "", one.name)):
        name = short(f"{tie.thing or ''} {tie.name}".strip() or "tied thing")
        try:
            at = position_of(job, tie)
        except TieError:
            at = None
        if at is None:
            unplaced.append(name)
        else:
            marks.append(Mark(at.east_ft, at.north_ft, name, fixed=False))
            tapes += [
                Tape(
                    (one.east_ft, one.north_ft),
                    (at.east_ft, at.north_ft),
                    quantity(job, one.tape_ft, LENGTH),
                )
                for one in tapes_of(job, tie)
            ]
    title = f"As-built plan, {job.job.address}"
    return Plan(title, tuple(marks), tuple(tapes), tuple(unplaced))


def plan_lines(job: LoadedJob, width: int, height: int = 16) -> list[str]:
    """The plan in characters, `width` cells wide: letters for marks, their names below."""
    plan = plan_of(job)
    if not plan.marks:
        return ["Nothing is tied to a fixed point yet: enter both at the valve boxes."]
    west, south, wide, high = _frame(plan)
    scale = max(wide / max(width - 2, 10), high / (height * _CELL_ASPECT), 1e-6)
    columns, rows = int(wide / scale) + 1, int(high / scale / _CELL_ASPECT) + 1
    grid = [
        ["·" if row % 4 == 0 and column % 8 == 0 else " " for column in range(columns + 1)]
        for row in range(rows + 1)
    ]
    legend = []
    for mark, letter in zip(plan.marks, _letters(plan), strict=True):
        column = round((mark.east_ft - west) / scale)
        row = rows - round((mark.north_ft - south) / scale / _CELL_ASPECT)
        grid[min(max(row, 0), rows)][min(max(column, 0), columns)] = letter
        where = spot_words(job, mark.east_ft, mark.north_ft)
        legend.append(f"{letter}  {mark.name}: {where}")
    bar = 10 * scale
    up = "N up" if by_compass(job) else "Out from the wall is down"
    foot = f"{up}; ├────────┤ is {quantity(job, round(bar, 1), LENGTH)}; dots 8 by 4 cells apart"
    lines = [f"  {''.join(row).rstrip()}" for row in grid]
    unplaced = [f"Not placed yet: {', '.join(plan.unplaced)}."] if plan.unplaced else []
    north = ["N", "^"] if by_compass(job) else []
    return [*north, *lines, foot, "", *legend, *unplaced]


def plan_svg(job: LoadedJob) -> str:
    """The plan as an SVG document with an arrow (north, or out from the wall) and a scale bar."""
    plan = plan_of(job)
    west, south, wide, high = _frame(plan)
    scale = min((_WIDE_PX / wide), (_HIGH_PX / high), _PX_PER_FT_MAX)
    width, height = wide * scale + 2 * _EDGE_PX + 160, high * scale + 2 * _EDGE_PX + 30

    def at(east_ft: float, north_ft: float) -> tuple[float, float]:
        x = _EDGE_PX + (east_ft - west) * scale
        return x, _EDGE_PX + (south + high - north_ft) * scale

    drawn = [
        f'<text x="12" y="20" font-weight="bold">{escape(plan.title)}</text>',
        *(_north(width) if by_compass(job) else _out_is_down(width)),
        *_scale_bar(job, scale, height),
    ]
    for tape in plan.tapes:
        (x1, y1), (x2, y2) = at(*tape.start), at(*tape.end)
        drawn.append(
            f'<path d="M{x1:g} {y1:g}L{x2:g} {y2:g}" stroke="#8a8a8a" stroke-dasharray="4 3"/>'
        )
        middle = f'x="{(x1 + x2) / 2:g}" y="{(y1 + y2) / 2:g}"'
        drawn.append(f'<text {middle} font-size="11">{escape(tape.words)}</text>')
    for mark in plan.marks:
        x, y = at(mark.east_ft, mark.north_ft)
        shape = (
            f'<path d="M{x - 6:g} {y:g}H{x + 6:g}M{x:g} {y - 6:g}V{y + 6:g}" stroke="#111111"/>'
            if mark.fixed
            else f'<circle cx="{x:g}" cy="{y:g}" r="6" fill="#1b5e9b"/>'
        )
        drawn += [shape, f'<text x="{x + 9:g}" y="{y + 4:g}">{escape(mark.name)}</text>']
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}" height="{height:g}" '
            f'viewBox="0 0 {width:g} {height:g}" role="img" '
            f'aria-label="{escape(plan.title, quote=True)}">',
            f'<rect width="{width:g}" height="{height:g}" fill="#ffffff"/>',
            '<g font-family="sans-serif" font-size="12" fill="#111111">',
            *drawn,
            "</g>",
            "</svg>",
            "",
        ]
    )


def _north(width: float) -> list[str]:
    x = width - 24
    return [
        f'<path d="M{x:g} 44V16M{x - 5:g} 24L{x:g} 16L{x + 5:g} 24" stroke="#111111" fill="none"/>',
        f'<text x="{x - 4:g}" y="58">N</text>',
    ]


def _out_is_down(width: float) -> list[str]:
    x = width - 24
    return [
        f'<path d="M{x:g} 16V44M{x - 5:g} 36L{x:g} 44L{x + 5:g} 36" stroke="#111111" fill="none"/>',
        f'<text x="{x - 100:g}" y="58">out from the wall</text>',
    ]


def _scale_bar(job: LoadedJob, scale: float, height: float) -> list[str]:
    feet = 10.0 if scale * 10 > 30 else 50.0
    y = height - 18
    words = quantity(job, feet, LENGTH)
    return [
        f'<path d="M12 {y:g}h{feet * scale:g}M12 {y - 4:g}v8M{12 + feet * scale:g} {y - 4:g}v8" '
        'stroke="#111111"/>',
        f'<text x="{20 + feet * scale:g}" y="{y + 4:g}">{escape(words)}</text>',
    ]


def _frame(plan: Plan) -> tuple[float, float, float, float]:
    """West and south edge, width and height in ft; at least 10 ft, for a plan of one point."""
    easts = [mark.east_ft for mark in plan.marks] or [0.0]
    norths = [mark.north_ft for mark in plan.marks] or [0.0]
    wide, high = max(easts) - min(easts), max(norths) - min(norths)
    return min(easts), min(norths), max(wide, 10.0), max(high, 10.0)


def _letters(plan: Plan) -> list[str]:
    """Capitals for fixed points, small letters for parts tied to them, "*" beyond z."""
    fixed, tied = iter("ABCDEFGHIJKLMNOPQRSTUVWXYZ"), iter("abcdefghijklmnopqrstuvwxyz")
    return [next(fixed if mark.fixed else tied, "*") for mark in plan.marks]
