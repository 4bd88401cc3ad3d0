"""Newton's steps on a tree as long as nothing is in their way, which is all that most zones need.

A step is plain when every head is an orifice and none meets a bound, no table falls steeply and
no loop is closed. Then one
pass from the leaves to the root and one back give the step and, as losses are worked out on the
way back, the state after it too. Steps go on while each at least halves the largest mismatch;
`newton` works out the state anew, and takes the careful steps where these stop short.
"""

from __future__ import annotations

import math
from math import sqrt
from operator import le
from typing import NamedTuple

from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.losses import loss_and_slope
from fieldbook.water.newton_step import LEAST_GROWTH
from fieldbook.water.piece import LEAST_GPM, Grades, Piece, grades

_MOST_STEPS = 30


class _Pull(NamedTuple):
    """What the heads ask for: `worst` is the largest mismatch in psi.

    Of each head: `mismatch` in psi, `softness` in gpm per psi (0 for one on its bound). Of each
    branch: the extra demand at its far end, as `a` gpm + `b` gpm per psi of change there.
    """

    worst: float
    mismatch: list[float]
    softness: list[float]
    a: list[float]
    b: list[float]


def plain_steps(piece: Piece, q: list[float], exact_psi: float) -> tuple[list[float], int]:
    """Better flows of a piece than `q`, in gpm, and how many steps they took.

    Stops at a largest mismatch of `exact_psi`, or where the next step would not be plain.
    """
    if piece.chord_loss or piece.laws:
        return q, 0
    state, worst, kept, steps = grades(piece, q, ()), math.inf, q, 0
    while steps < _MOST_STEPS:
        pull = _pull(piece, q, state.grade)
        if not pull.worst <= 0.5 * worst:
            return kept, max(steps - 1, 0)
        # A step leaves about the square of what was off before it, times the same factor as the
        # step before: where that is enough, the state after it is left to `newton` to work out.
        last = steps > 0 and pull.worst * (pull.worst / worst) ** 2 < 0.5 * exact_psi
        worst, kept = pull.worst, q
        if worst <= exact_psi or not _pass_to_root(piece, state.slope, pull):
            break
        try:
            if last:
                change = _changes(piece, state.slope, pull)
            else:
                state, change = _pass_to_leaves(piece, state, pull)
        except OverflowError:
            break
        q = [
            gpm + (change[branch] - psi) * soft
            for branch, gpm, psi, soft in zip(
                piece.head_branch, q, pull.mismatch, pull.softness, strict=True
            )
        ]
        if not _inside(piece, q):
            break
        steps += 1
        if last:
            return q, steps
    return kept, steps


def _inside(piece: Piece, q: list[float]) -> bool:
    """Whether every flow is between its bounds; False too where a figure is not a number."""
    return all(map(le, q, piece.most)) and min(q, default=0.0) >= 0.0


def _pull(piece: Piece, q: list[float], grade: list[float]) -> _Pull:
    worst = 0.0
    mismatch, softness = [], []
    a, b = [0.0] * len(grade), [0.0] * len(grade)
    for branch, k, z, most, gpm in zip(
        piece.head_branch, piece.inverse, piece.height, piece.most, q, strict=True
    ):
        psi = k * gpm * gpm + z - grade[branch]
        soft = 0.0
        if psi >= 0.0:
            if gpm > LEAST_GPM:
                soft = 0.5 / (k * gpm)
                if psi > worst:  # noqa: PLR1730 - a call of max for every head would cost more
                    worst = psi
        elif gpm < most:
            gives = sqrt(gpm * gpm - psi / k)
            soft = 1.0 / (k * (gpm + (gives if gives < most else most)))
            if -psi > worst:  # noqa: PLR1730
                worst = -psi
        mismatch.append(psi)
        softness.append(soft)
        a[branch] -= psi * soft
        b[branch] += soft
    return _Pull(worst, mismatch, softness, a, b)


def _pass_to_root(piece: Piece, slope: list[float], pull: _Pull) -> bool:
    """Pass every extra demand to the root; False where a table falls too steeply for that."""
    parent, a, b = piece.parent, pull.a, pull.b
    for branch in range(len(parent) - 1, -1, -1):
        soft = b[branch]
        growth = 1.0 + soft * slope[branch]
        if growth < LEAST_GROWTH:
            return False
        b[branch] = soft = soft / growth
        a[branch] = own = a[branch] / growth
        up = parent[branch]
        a[up] += own
        b[up] += soft
    return True


def _changes(piece: Piece, slope: list[float], pull: _Pull) -> list[float]:
    """The change of grade behind each branch in psi, without the state after the step."""
    change = [0.0] * len(slope)
    for branch, up, steep, a, b in zip(
        range(len(piece.parent)), piece.parent, slope, pull.a, pull.b, strict=False
    ):
        before = change[up]
        change[branch] = before - steep * (a + b * before)
    return change


def _pass_to_leaves(piece: Piece, state: Grades, pull: _Pull) -> tuple[Grades, list[float]]:
    """The state after the step, and the change of grade behind each branch in psi."""
    count = len(state.flow)
    flow, slope, change, grade = [0.0] * count, [0.0] * count, [0.0] * count, [piece.root] * count
    for branch, up, power, square, curve, old, steep, a, b in zip(
        range(len(piece.parent)),
        piece.parent,
        piece.power,
        piece.square,
        piece.curve,
        state.flow,
        state.slope,
        pull.a,
        pull.b,
        strict=False,
    ):
        before = change[up]
        more = a + b * before
        change[branch] = before - steep * more
        flow[branch] = gpm = old + more
        psi = 0.0
        if gpm > 0.0 and curve is None:
            # As in `grades`.
            if power:
                psi = power * gpm**FLOW_EXPONENT
                slope[branch] = FLOW_EXPONENT * psi / gpm
            if square:
                psi += square * gpm * gpm
                slope[branch] += 2.0 * square * gpm
        elif gpm or curve:
            psi, slope[branch] = loss_and_slope(power, square, curve, gpm)
        grade[branch] = grade[up] - psi
    return Grades(flow, grade, slope), change
