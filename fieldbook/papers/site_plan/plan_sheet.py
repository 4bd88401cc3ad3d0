"""The plan as one sheet for an owner: an SVG that prints on Letter and on A4, in black and white.

The sheet is 259 by 190 mm, which both papers hold lying down with a margin. Its left part is the
map to a round scale, its right part the legend, how each part is found, and the title block.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import partial
from html import escape
from itertools import islice

from fieldbook.checks.common.naming import sentence
from fieldbook.papers.site_plan.label_places import Box
from fieldbook.papers.site_plan.plan import MARK_WORDS, MarkKind, Plan, plan_of
from fieldbook.papers.site_plan.plan_words import (
    CAUTION,
    NOTHING,
    corner_list,
    found_by,
    which_way,
)
from fieldbook.papers.site_plan.sheet_map import MAP, MM, Scale, map_shapes, scale_of
from fieldbook.papers.site_plan.sheet_shapes import (
    GRAY,
    INK,
    LARGE,
    LEADING,
    NORMAL,
    SMALL,
    draw_line,
    draw_shape,
    draw_text,
    small_width,
)
from fieldbook.papers.text_widths import text_width, wrapped
from fieldbook.records.loaded_job import LoadedJob

PRINTED = "<style>@page { size: landscape; margin: 8mm }</style>"
"""Makes browsers print the sheet lying down, on whatever paper is in the printer."""
_WIDE, _HIGH = 259.0 * MM, 190.0 * MM
_SIDE = Box(748, 8, _WIDE - 8, _HIGH - 8)
_BLOCK_TOP = _SIDE.bottom - 116
_LISTS_TOP = 176.0


def plan_svg(job: LoadedJob, today: date | None = None) -> str:
    """The plan as an SVG document; `today` is the day of drawing, this computer's unless given."""
    plan = plan_of(job)
    scale = scale_of(job, plan)
    title = f"Record drawing, {plan.address}"
    drawn = [
        *_frames(),
        *(map_shapes(job, plan, scale) if plan.marks else draw_text(40, 60, NOTHING, NORMAL)),
        *_north(plan),
        *_legend(plan),
        *_lists(job, plan),
        *_title_block(job, scale, today or date.today()),
    ]
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_WIDE / MM:g}mm" '
            f'height="{_HIGH / MM:g}mm" viewBox="0 0 {_WIDE:g} {_HIGH:g}" role="img" '
            f'aria-label="{escape(title, quote=True)}">',
            f"<title>{escape(title)}</title>",
            PRINTED,
            f'<rect width="{_WIDE:g}" height="{_HIGH:g}" fill="#ffffff"/>',
            f'<g font-family="Helvetica, Arial, sans-serif" fill="{INK}">',
            *drawn,
            "</g>",
            "</svg>",
            "",
        ]
    )


def _frames() -> Iterator[str]:
    for box in (MAP, _SIDE):
        yield (
            f'<rect x="{box.left:g}" y="{box.top:g}" width="{box.right - box.left:g}" '
            f'height="{box.bottom - box.top:g}" fill="none" stroke="{INK}" stroke-width="1.2"/>'
        )


def _north(plan: Plan) -> Iterator[str]:
    """An arrow to the north, or where that is not known, one out from the wall."""
    x, y = _SIDE.left + 40, _SIDE.top + 38
    turn = 180.0 if plan.north_deg is None else plan.north_deg
    yield (
        f'<path d="M{x:g} {y + 24:g}V{y - 18:g}M{x - 8:g} {y - 8:g}L{x:g} {y - 24:g}'
        f'L{x + 8:g} {y - 8:g}Z" stroke="{INK}" stroke-width="1.6" '
        f'transform="rotate({turn:g} {x:g} {y:g})"/>'
    )
    words = "Out from the wall" if plan.north_deg is None else "North"
    yield from draw_text(x + 40, y - 4, words, NORMAL, bold=True)
    lines = wrapped(f"{sentence(which_way(plan))}.", _SIDE.right - x - 48, small_width)
    for number, line in enumerate(lines):
        yield from draw_text(x + 40, y + 10 + number * SMALL * LEADING, line, SMALL)


def _legend(plan: Plan) -> Iterator[str]:
    """The signs that are on the map with their words, in two columns."""
    kinds = [kind for kind in MARK_WORDS if any(mark.kind == kind for mark in plan.marks)]
    entries: list[tuple[str, MarkKind | None, str]] = [
        ("", kind, MARK_WORDS[kind]) for kind in kinds
    ]
    if plan.wall is not None:
        entries.append(('stroke-width="4"', None, "house wall"))
    if plan.drawn_tapes:
        entries.append((f'stroke="{GRAY}" stroke-dasharray="7 3"', None, "tape, its length"))
    if any(pipe.zone for pipe in plan.pipes):
        entries.append(('stroke-width="1.6"', None, "lateral pipe"))
    if any(not pipe.zone for pipe in plan.pipes):
        entries.append(('stroke-width="3"', None, "mainline pipe"))
    for number, (style, kind, words) in enumerate(entries):
        x = _SIDE.left + 12 + number % 2 * 132
        y = _SIDE.top + 86 + number // 2 * 17
        yield draw_shape(kind, (x + 10, y)) if kind else draw_line((x, y), (x + 20, y), style)
        yield from draw_text(x + 26, y + 3.5, words, SMALL)


def _lists(job: LoadedJob, plan: Plan) -> Iterator[str]:
    """Corners, how each part is found, and what is not located, as far as there is room.

    Boxes come before heads; how many entries found no room is said in the last line.
    """
    entries = [("Corners", True), *((words, False) for _, words in corner_list(job, plan))]
    parts = [(mark, f"{mark.name}: {found_by(plan, mark)}") for mark in plan.parts]
    many = [words for mark, words in parts if mark.kind in ("head", "end")]
    entries += [("How to find each part", True)] if parts else []
    entries += [(words, False) for mark, words in parts if mark.kind not in ("head", "end")]
    missing = [(name, False) for name in plan.lacks]
    entries += [("Not located, so not drawn", True), *missing] if missing else []
    entries += [("Heads and pipe ends", True), *((words, False) for words in many)] if many else []
    yield from _written(entries)


def _written(entries: Sequence[tuple[str, bool]]) -> Iterator[str]:
    left, width = _SIDE.left + 10, _SIDE.right - _SIDE.left - 20
    step = SMALL * LEADING
    y, left_out = _LISTS_TOP, 0
    bottom = _BLOCK_TOP - step * 5.2
    for words, heading in entries:
        lines = list(islice(wrapped(words, width, small_width), 6))
        down = step * len(lines) + (5 if heading else 1)
        if left_out or y + down > bottom - step:
            left_out += not heading
            continue
        y += 5 if heading else 1
        for line in lines:
            yield from draw_text(left, y, line, SMALL, bold=heading)
            y += step
    if left_out:
        more = f"{left_out} more {'is' if left_out == 1 else 'are'} in the job's record."
        yield from draw_text(left, y + 2, more, SMALL)
    for number, line in enumerate(wrapped(CAUTION, width, small_width)):
        yield from draw_text(left, bottom + step * (1.2 + number), line, SMALL, bold=True)


def _title_block(job: LoadedJob, scale: Scale, today: date) -> Iterator[str]:
    yield draw_line((_SIDE.left, _BLOCK_TOP), (_SIDE.right, _BLOCK_TOP), 'stroke-width="1.2"')
    left, width = _SIDE.left + 10, _SIDE.right - _SIDE.left - 20
    y = _BLOCK_TOP + 20
    yield from draw_text(left, y, "RECORD DRAWING", NORMAL, bold=True)
    for line in islice(wrapped(job.job.address, width, partial(text_width, size=LARGE)), 2):
        y += LARGE * LEADING
        yield from draw_text(left, y, line, LARGE, bold=True)
    y += 4
    for words in (
        f"Irrigation as built{f', for {job.job.customer}' if job.job.customer.strip() else ''}",
        f"Scale {scale.words}, printed at full size",
        f"Drawn from the record on {today.isoformat()}",
    ):
        y += SMALL * LEADING + 1
        yield from draw_text(left, y, words, SMALL, most=width)
