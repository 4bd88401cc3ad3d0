"""A piece of network for Newton's method, and its flows, grades and mismatches at given flows.

A grade is the hydraulic grade in psi: gauge pressure plus the elevation's 0.433 psi per foot. It
falls along a link by the link's loss alone, so elevations enter only where a head opens to the
air. A piece has one known grade, at its root.

The arrays are parallel lists, not lists of objects, because the loops over them are where a solve
spends its time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.head_laws import HeadLaw
from fieldbook.water.losses import Curve, Loss, loss_and_slope

# Below this flow in gpm the tangent of a head's curve overflows: the head counts as dry.
LEAST_GPM = 1e-200


class Piece(NamedTuple):
    """A tree of branches with heads on it, and chords that close loops.

    Branches: branch 0 leads from the root and every parent comes before its children. `parent`
    is -1 for branch 0, `power`, `square` and `curve` are the loss, `demand` is a fixed draw in gpm
    at the far end. Heads: `head_branch` is the branch at whose far end each head stands,
    `inverse` 1/k^2, `height` its elevation in psi, `most` the largest flow it lets pass in gpm,
    `laws` the laws of those that are no orifice, by their place in these lists.
    Chords lead from the far end of branch `chord_start` to that of `chord_end`.
    """

    root: float
    parent: list[int]
    power: list[float]
    square: list[float]
    curve: list[Curve | None]
    demand: list[float]
    head_branch: list[int]
    inverse: list[float]
    height: list[float]
    most: list[float]
    laws: dict[int, HeadLaw]
    chord_start: list[int]
    chord_end: list[int]
    chord_loss: list[Loss]


class Grades(NamedTuple):
    """What runs and is lost in a piece.

    Of each branch: `flow` in gpm, `grade` in psi at its far end, `slope` of its loss in psi per
    gpm. The lists have one entry more, the last, for the root; parent -1 is that entry.
    """

    flow: list[float]
    grade: list[float]
    slope: list[float]


class State(NamedTuple):
    """A piece at some flows of its heads and chords: `flow`, `grade`, `slope` as in Grades.

    `mismatch`: the grade that a head's flow needs less the grade there is, in psi (negative: the
    head could give more). `chord_mismatch`: a chord's loss less the fall of grade between its
    ends. All mismatches are zero at a solution, but for heads on a bound.
    """

    flow: list[float]
    grade: list[float]
    slope: list[float]
    mismatch: list[float]
    chord_mismatch: list[float]
    chord_slope: list[float]


def grades(piece: Piece, q: Sequence[float], x: Sequence[float]) -> Grades:
    """What runs and is lost at flows `q` of the heads and `x` of the chords, in gpm."""
    parent = piece.parent
    flow = [*piece.demand, 0.0]
    for branch, gpm in zip(piece.head_branch, q, strict=True):
        flow[branch] += gpm
    for start, end, gpm in zip(piece.chord_start, piece.chord_end, x, strict=True):
        flow[start] += gpm
        flow[end] -= gpm
    # Children come after their parents, so backwards every flow is whole before it is passed on.
    for branch in range(len(parent) - 1, -1, -1):
        flow[parent[branch]] += flow[branch]
    grade, slope = [piece.root] * len(flow), [0.0] * len(flow)
    # Counted by zip, which uses its tuple again; enumerate around it would make one each time.
    for branch, up, power, square, curve, gpm in zip(
        range(len(parent)), parent, piece.power, piece.square, piece.curve, flow, strict=False
    ):
        psi = 0.0
        if gpm > 0.0 and curve is None:
            # The plain pipe or valve, written out: a call for each would double the time.
            if power:
                psi = power * gpm**FLOW_EXPONENT
                slope[branch] = FLOW_EXPONENT * psi / gpm
            if square:
                psi += square * gpm * gpm
                slope[branch] += 2.0 * square * gpm
        elif gpm or curve:
            psi, slope[branch] = loss_and_slope(power, square, curve, gpm)
        grade[branch] = grade[up] - psi
    return Grades(flow, grade, slope)


def evaluate(piece: Piece, q: Sequence[float], x: Sequence[float]) -> State:
    """The state of a piece at flows `q` of its heads and `x` of its chords, in gpm."""
    found = grades(piece, q, x)
    grade = found.grade
    mismatch = [
        k * gpm * gpm + z - grade[branch]
        for branch, k, z, gpm in zip(piece.head_branch, piece.inverse, piece.height, q, strict=True)
    ]
    for head, law in piece.laws.items():
        branch = piece.head_branch[head]
        mismatch[head] = law.psi(q[head]) + piece.height[head] - grade[branch]
    return State(*found, mismatch, *_chords(piece, grade, x))


def _chords(
    piece: Piece, grade: list[float], x: Sequence[float]
) -> tuple[list[float], list[float]]:
    """The mismatch of each chord, and the slope of its loss."""
    mismatch: list[float] = []
    slope: list[float] = []
    for start, end, loss, gpm in zip(
        piece.chord_start, piece.chord_end, piece.chord_loss, x, strict=True
    ):
        psi, steep = loss_and_slope(loss.power, loss.square, loss.curve, gpm)
        mismatch.append(psi - grade[start] + grade[end])
        slope.append(steep)
    return mismatch, slope


def residual(piece: Piece, q: Sequence[float], state: State) -> float:
    """The largest mismatch in psi; infinite where a figure overflowed.

    A dry head (no flow) may lack pressure, and one at its regulator's flow may have more than it
    needs: on these bounds a mismatch of that sign is no error.
    """
    worst = 0.0
    for gpm, most, psi in zip(q, piece.most, state.mismatch, strict=True):
        if psi > worst:
            if gpm > 0.0:
                worst = psi
        elif -psi > worst and gpm < most:
            worst = -psi
    for psi in state.chord_mismatch:
        worst = max(worst, abs(psi))
    total = state.grade[0]
    return worst if math.isfinite(worst) and math.isfinite(total) else math.inf
