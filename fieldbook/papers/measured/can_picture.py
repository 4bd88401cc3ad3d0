"""The cans of an audit, the driest and the wettest marked: on a sketch, else as bars.

Cans whose place is entered stand where they stood, to scale. Otherwise they stand under each other
from the driest to the wettest. A sign and a word mark them, so that nothing rests on a colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from fieldbook.checks.common.naming import listed, quantity, system_of
from fieldbook.checks.measured.audits import AuditResult, Caught
from fieldbook.checks.measured.measured_words import (
    catch_measure,
    caught_words,
    result_words,
)
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.picture import Role
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import LENGTH, show

DRY, WET = "▼", "▲"
_LEAST_WIDTH = 40
_CELL_SHAPE = 2.25
"""A character cell is so many times as high as it is wide."""
_MOST_ROWS = 30
_LABEL = 7
"""Columns that the sign and the figure of a can take on the sketch."""
_BEFORE_BAR = 20
_NAMED = 6
_LEAST_MAPPED = 3


class _Marked(NamedTuple):
    """A can with its mark: DRY, WET or neither."""

    caught: Caught
    sign: str

    @property
    def role(self) -> Role:
        """How it stands out on a screen that has colours."""
        return "wrong" if self.sign == DRY else "strong" if self.sign == WET else ""


def can_picture(job: LoadedJob, result: AuditResult, width: int) -> Canvas:
    """The cans of an audit in at most `width` columns, 40 at least, with what they come to."""
    width = max(width, _LEAST_WIDTH)
    canvas = Canvas()
    marked = _marked(result)
    if not marked:
        canvas.say(0, 0, "No can is read yet.")
        return canvas
    placed = [one for one in marked if _place(one) is not None]
    if len(placed) == len(marked) >= _LEAST_MAPPED:
        _sketch(job, result, canvas, placed, width)
    else:
        _bars(job, result, canvas, marked, width)
    row = canvas.rows + 1
    for words in _below(job, result, marked):
        row = canvas.say_wrapped(row, words, width)
    return canvas


def can_svg(job: LoadedJob, result: AuditResult) -> str:
    """The same as an SVG document."""
    return can_picture(job, result, 84).svg(f"Catch cans of {result.where}")


def _marked(result: AuditResult) -> list[_Marked]:
    """The cans from the driest to the wettest; a quarter each is marked dry and wet."""
    ordered = sorted(result.cans, key=lambda one: (one.amount, one.can.number or 0, one.can.id))
    even = result.evenness
    # Of a weighted quarter the can that counts in part is among those marked.
    quarter = min(-int(-even.quarter_cans // 1), len(ordered) // 2) if even is not None else 0
    signs = [DRY] * quarter + [""] * (len(ordered) - 2 * quarter) + [WET] * quarter
    return [_Marked(caught, sign) for caught, sign in zip(ordered, signs, strict=True)]


def _place(one: _Marked) -> tuple[float, float] | None:
    along, out = amount(one.caught.can, "along_ft"), amount(one.caught.can, "out_ft")
    return (along, out) if along is not None and out is not None else None


def _figure(job: LoadedJob, result: AuditResult, one: _Marked) -> str:
    """Such as "▼3", without its unit."""
    measure = catch_measure(result.audit)
    return f"{one.sign}{show(one.caught.amount, measure, system_of(job), unit=False)}"


def _sketch(
    job: LoadedJob, result: AuditResult, canvas: Canvas, placed: Sequence[_Marked], width: int
) -> None:
    """Each can's figure where it stood, and under them how long a stretch is."""
    places = [place for one in placed if (place := _place(one)) is not None]
    low_x, high_x = min(x for x, _ in places), max(x for x, _ in places)
    low_y, high_y = min(y for _, y in places), max(y for _, y in places)
    across = (width - _LABEL) / max(high_x - low_x, 1.0)
    down = _MOST_ROWS * _CELL_SHAPE / max(high_y - low_y, 1.0)
    scale = min(across, down)
    taken: set[tuple[int, int]] = set()
    for one, (x, y) in zip(placed, places, strict=True):
        text = _figure(job, result, one)
        column, row = int((x - low_x) * scale), int((high_y - y) * scale / _CELL_SHAPE)
        cells = range(column - 1, column + len(text) + 1)
        # Cans that stood close to each other stand under each other.
        while any((cell, row) in taken for cell in cells):
            row += 1
        taken |= {(cell, row) for cell in cells[1:-1]}
        canvas.say(column, row, text, one.role)
    unit = catch_measure(result.audit).unit(system_of(job))
    _bar_of_scale(job, canvas, scale, f"the figures are {unit}")


def _bar_of_scale(job: LoadedJob, canvas: Canvas, scale: float, beside: str) -> None:
    """A line that is a round length long, and words beside it."""
    system = system_of(job)
    foot = 1.0 if system == "us" else 1 / 0.3048
    length = next((n * foot for n in (10, 5, 2, 1) if n * foot * scale <= 30), foot)
    row, cells = canvas.rows + 1, max(int(length * scale), 1)
    canvas.link((0, row), (cells, row))
    canvas.say(cells + 2, row, f"{show(length, LENGTH, system)}; {beside}")


def _bars(
    job: LoadedJob, result: AuditResult, canvas: Canvas, marked: Sequence[_Marked], width: int
) -> None:
    """A bar for each can, from the driest on, and a dotted line at the mean."""
    most = max(one.caught.amount for one in marked) or 1.0
    scale = (width - _BEFORE_BAR - 2) / most
    for row, one in enumerate(marked):
        canvas.say(0, row, f"can {one.caught.can.number or '?'}")
        words = caught_words(job, result.audit, one.caught.amount)
        canvas.say_up_to(_BEFORE_BAR - 3, row, words, one.role)
        canvas.say(_BEFORE_BAR - 2, row, one.sign, one.role)
        canvas.bar(row, _BEFORE_BAR, _BEFORE_BAR + one.caught.amount * scale, one.role)
    if result.evenness is not None:
        column = _BEFORE_BAR + int(result.evenness.mean * scale)
        canvas.dotted(column, range(len(marked)))
        mean = f"mean {caught_words(job, result.audit, result.evenness.mean)}"
        canvas.say_up_to(min(column + len(mean), width), len(marked), mean)


def _below(job: LoadedJob, result: AuditResult, marked: Sequence[_Marked]) -> list[str]:
    """What the signs mean, which cans they are, and what the audit comes to."""
    lines = []
    for sign, word in ((DRY, "driest"), (WET, "wettest")):
        ordered = marked if sign == DRY else list(reversed(marked))
        cans = [_can_words(job, result, one) for one in ordered if one.sign == sign]
        if cans:
            lines.append(f"{sign} the {word}: {listed(cans, _NAMED)}")
    lines.append(result_words(job, result))
    return lines


def _can_words(job: LoadedJob, result: AuditResult, one: _Marked) -> str:
    """Such as "can 45 (2 mL, 12 ft along, 4 ft out)"."""
    parts, place = [caught_words(job, result.audit, one.caught.amount)], _place(one)
    if place is not None:
        parts.append(f"{quantity(job, place[0], LENGTH)} along")
        parts.append(f"{quantity(job, place[1], LENGTH)} out")
    return f"can {one.caught.can.number or '?'} ({', '.join(parts)})"
