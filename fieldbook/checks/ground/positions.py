"""Where tied things are: the position from two or three tapes, its error, and bad ties.

From points A and B a tape each: x = (dA^2 - dB^2 + D^2) / 2D along AB, y = sqrt(dA^2 - x^2) to one
side of it or the other (plane geometry). One tape off by s moves the point by s sqrt(2) / sin g, g
being the angle of the tapes at the thing; 30 to 150 degrees are good. Three tapes give the point
of least squared error.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from fieldbook.checks.common.naming import quantity, short
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.ground.fixed_points import spot_of, spot_words
from fieldbook.checks.ground.record_drawing import drawing_lacks
from fieldbook.checks.looked import Looked
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.units import LENGTH

_LEAST_TAPES = 2
TAPE_ERROR_FT = 0.1
"""The error of one tape reading on the ground (common practice, no source)."""
_GOOD_DEG = (30.0, 150.0)
"""Angles between two tapes that place a thing well; outside them its error more than doubles."""
_MISFIT_FT = 0.5
"""If three tapes miss their point by more than this, one of them was misread."""


class Taped(NamedTuple):
    """A fixed point on the axes of the plan, and the distance of the thing from it, in ft."""

    east_ft: float
    north_ft: float
    tape_ft: float


@dataclass(frozen=True)
class Position:
    """Where a thing is, in ft on the axes of the plan (`fixed_points`).

    `error_ft` is how far it moves if each tape is off by TAPE_ERROR_FT, `angle_deg` the angle
    between the two tapes, `misfit_ft` how far three tapes miss it on average.
    """

    east_ft: float
    north_ft: float
    error_ft: float
    angle_deg: float
    misfit_ft: float = 0.0


class TieError(ValueError):
    """One sentence that says why tapes can't be right."""


def by_two(first: Taped, second: Taped, *, left: bool) -> Position:
    """The point where two tapes meet, left or right of the line from the first to the second.

    Raises TieError where they can't meet.
    """
    de, dn = second.east_ft - first.east_ft, second.north_ft - first.north_ft
    apart = math.hypot(de, dn)
    if apart == 0.0:
        raise TieError("Both tapes start at the same point.")
    if first.tape_ft + second.tape_ft < apart:
        raise TieError(f"The tapes do not meet: the points are {apart:.1f} ft apart.")
    if abs(first.tape_ft - second.tape_ft) > apart:
        raise TieError(f"One tape is too long for the other: the points are {apart:.1f} ft apart.")
    along = (first.tape_ft**2 - second.tape_ft**2 + apart**2) / (2.0 * apart)
    off = math.sqrt(max(first.tape_ft**2 - along**2, 0.0)) * (1.0 if left else -1.0)
    ue, un = de / apart, dn / apart
    east = first.east_ft + along * ue - off * un
    north = first.north_ft + along * un + off * ue
    angle = _angle(first, second, apart)
    # Two tapes that lie in one line place nothing: the error is without bound.
    sine = math.sin(math.radians(angle))
    error = TAPE_ERROR_FT * math.sqrt(2.0) / sine if sine > 1e-9 else math.inf
    return Position(east, north, error, angle)


def _angle(first: Taped, second: Taped, apart: float) -> float:
    """The angle between the tapes at the thing, in degrees."""
    if first.tape_ft == 0.0 or second.tape_ft == 0.0:
        return 0.0
    cosine = (first.tape_ft**2 + second.tape_ft**2 - apart**2) / (
        2.0 * first.tape_ft * second.tape_ft
    )
    return math.degrees(math.acos(min(max(cosine, -1.0), 1.0)))


def by_three(tapes: Sequence[Taped]) -> Position:
    """The point of least squared error of three tapes.

    Raises TieError where the first two can't meet.
    """
    starts = [by_two(tapes[0], tapes[1], left=left) for left in (True, False)]
    found = [_settled(tapes, start.east_ft, start.north_ft) for start in starts]
    east, north = min(found, key=lambda at: _squares(tapes, *at))
    misfit = math.sqrt(_squares(tapes, east, north) / len(tapes))
    best = max(
        (by_two(a, b, left=True) for a, b in ((tapes[0], tapes[1]), *_other_pairs(tapes))),
        key=lambda pair: math.sin(math.radians(pair.angle_deg)),
    )
    return Position(east, north, best.error_ft, best.angle_deg, misfit)


def _other_pairs(tapes: Sequence[Taped]) -> list[tuple[Taped, Taped]]:
    """The pairs with the third tape that meet; a pair with a misread tape may not."""
    found = []
    for pair in ((tapes[0], tapes[2]), (tapes[1], tapes[2])):
        try:
            by_two(*pair, left=True)
        except TieError:
            continue
        found.append(pair)
    return found


def _squares(tapes: Sequence[Taped], east: float, north: float) -> float:
    return sum((math.hypot(east - t.east_ft, north - t.north_ft) - t.tape_ft) ** 2 for t in tapes)


def _settled(tapes: Sequence[Taped], east: float, north: float) -> tuple[float, float]:
    """The point of least squares near a starting point, by Gauss-Newton steps."""
    for _ in range(50):
        a = b = c = p = q = 0.0
        for tape in tapes:
            far = math.hypot(east - tape.east_ft, north - tape.north_ft) or 1e-9
            ue, un = (east - tape.east_ft) / far, (north - tape.north_ft) / far
            off = far - tape.tape_ft
            a, b, c = a + ue * ue, b + ue * un, c + un * un
            p, q = p + ue * off, q + un * off
        area = a * c - b * b
        if abs(area) < 1e-12:
            break
        de, dn = (c * p - b * q) / area, (a * q - b * p) / area
        east, north = east - de, north - dn
        if math.hypot(de, dn) < 1e-10:
            break
    return east, north


def tapes_of(job: LoadedJob, tie: Tie) -> list[Taped]:
    """The tapes of a tie of which fixed point and distance are entered."""
    found = []
    for number in (1, 2, 3):
        point = job.find(FixedPoint, getattr(tie, f"point_{number}_id"))
        tape = amount(tie, f"tape_{number}_ft")
        spot = spot_of(job, point)
        if spot is not None and tape is not None:
            found.append(Taped(*spot, tape))
    return found


def position_of(job: LoadedJob, tie: Tie) -> Position | None:
    """Where a tied thing is; None while too little is entered.

    Raises TieError where the tapes can't be right.
    """
    tapes = tapes_of(job, tie)
    if len(tapes) == 3:
        return by_three(tapes)
    if len(tapes) == 2 and tie.side is not None:
        return by_two(tapes[0], tapes[1], left=tie.side == "left")
    if len(tapes) == 2:
        by_two(tapes[0], tapes[1], left=True)
    return None


def position_words(job: LoadedJob, tie: Tie) -> str:
    """A tie's position in the job's units, or in short what is wrong or still asked for."""
    try:
        found = position_of(job, tie)
    except TieError as error:
        return str(error)
    if found is None:
        return "which side?" if len(tapes_of(job, tie)) == 2 else ""
    return spot_words(job, found.east_ft, found.north_ft)


def check_positions(job: LoadedJob) -> Iterator[Finding | Looked]:
    """What the record drawing shows; then each tie: ties that can't be right, or place it badly."""
    yield drawing_lacks(job)
    for tie in job.ties:
        yield Looked(f"position of {_thing(tie)}", frozenset({tie.id}), tuple(_lacks(job, tie)))
        try:
            found = position_of(job, tie)
        except TieError as error:
            yield Finding(
                "tie can't be",
                "fix",
                f"The tapes to {_thing(tie)} can't be right: {error}",
                "Measure both again and enter them at the valve boxes.",
                CellRef("tie", tie.id, "tape_1_ft"),
            )
            continue
        if found is not None:
            yield from _inexact(job, tie, found)
        elif len(tapes_of(job, tie)) == 2:
            yield Finding(
                "tie has two sides",
                "fix",
                f"Two tapes to {_thing(tie)} fit on either side of the line between the points.",
                "Enter the side, or a third tape, at the valve boxes.",
                CellRef("tie", tie.id, "side"),
            )


def _lacks(job: LoadedJob, tie: Tie) -> Iterator[Missing]:
    """The tapes that a position takes at least."""
    if len(tapes_of(job, tie)) < _LEAST_TAPES:
        yield Missing(f"two tapes from measured points to {_thing(tie)}", _tape_cell(job, tie))


def _tape_cell(job: LoadedJob, tie: Tie) -> CellRef:
    """The first cell that a position lacks: of the tape, its fixed point, or that point's place."""
    nameless = next((point for point in job.fixed_points if not point.name.strip()), None)
    if nameless is not None:
        return CellRef("fixed_point", nameless.id, "name")
    for number in (1, 2):
        if amount(tie, f"tape_{number}_ft") is None:
            return CellRef("tie", tie.id, f"tape_{number}_ft")
        point = job.find(FixedPoint, getattr(tie, f"point_{number}_id"))
        if point is None and len(job.fixed_points) < number:
            return CellRef("fixed_point", "", "add fixed point")
        if point is None:
            return CellRef("tie", tie.id, f"point_{number}_id")
        if point is not None and spot_of(job, point) is None:
            return CellRef("fixed_point", point.id, "along_ft")
    return CellRef("tie", tie.id, "point_1_id")


def _inexact(job: LoadedJob, tie: Tie, found: Position) -> Iterator[Finding]:
    """A flag if three tapes miss one another, or if two meet at a bad angle."""
    at = CellRef("tie", tie.id, "tape_1_ft")
    if found.misfit_ft > _MISFIT_FT:
        off = quantity(job, round(found.misfit_ft, 1), LENGTH)
        yield Finding(
            "tapes do not agree",
            "fix",
            f"The three tapes to {_thing(tie)} miss one point by {off}.",
            "Measure all three again and enter them at the valve boxes.",
            at,
            numbers=(Number("misfit", found.misfit_ft, "ft"),),
        )
    elif not _GOOD_DEG[0] <= found.angle_deg <= _GOOD_DEG[1]:
        off = quantity(job, round(found.error_ft, 2), LENGTH)
        yield Finding(
            "bad tie angle",
            "note",
            f"The tapes to {_thing(tie)} meet at {found.angle_deg:.0f} degrees: a tape off by a "
            f"tenth of a foot moves it by {off}.",
            "Tape it from another fixed point as well and enter that at the valve boxes.",
            at,
            numbers=(Number("angle", found.angle_deg, "deg"),),
        )


def _thing(tie: Tie) -> str:
    """Such as "valve box A"."""
    return f"{short(tie.thing or 'thing')} {short(tie.name)}".strip()
