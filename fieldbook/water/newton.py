"""Newton's method on a tree of links with loops closed by chords, one fixed head at its root.

The flows of a piece of network are the minimum of a convex energy: the sum over links of the
integral of loss over flow, over heads of the integral of (q/k)^2 plus elevation, with each head's
flow between zero (dry) and the most its regulator lets pass. So heads that run dry or are capped
are variables on a bound, not cases to guess: a projected Newton step with a line search on that
energy's slope can't cycle. Each step is linear in the number of links: the demand of a subtree is
passed leaf to root as a + b H, combined over a link of slope R as a / (1 + b R), b / (1 + b R),
which a link without loss leaves as it is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from math import sqrt
from typing import NamedTuple

from fieldbook.water.dense import eliminate
from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.losses import Curve, Loss

MOST_STEPS = 120
EXACT_PSI, ENOUGH_PSI = 1e-9, 1e-7
"""Where Newton stops; and what it may stop at where a step no longer halves what is amiss."""
_FALLING = 0.3
_ROUNDS = 12
_LEAST = 1e-200


@dataclass
class Piece:
    """A piece of network. Branch 0 leads from the root, which has a fixed head; heads in psi.

    parent: of each branch, -1 for branch 0. power, square, curve: its loss. demand: the fixed
    demand at its far end in gpm. Heads stand at the far end of branch `at`; `inverse` is 1/k^2,
    `height` the elevation in psi, `most` the largest flow. Chords lead from the far end of branch
    `chord_start` to that of `chord_end`. `q` and `x` are the flows of heads and chords.
    """

    root: float
    parent: list[int]
    power: list[float]
    square: list[float]
    curve: list[Curve | None]
    demand: list[float]
    at: list[int] = field(default_factory=list)
    inverse: list[float] = field(default_factory=list)
    height: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    chord_start: list[int] = field(default_factory=list)
    chord_end: list[int] = field(default_factory=list)
    chord_loss: list[Loss] = field(default_factory=list)
    q: list[float] = field(default_factory=list)
    x: list[float] = field(default_factory=list)


class State(NamedTuple):
    """A piece at some flows: of branches, the heads behind them, and what is amiss.

    `flow`, `behind` and `slope` have one more entry, the last, for the root. `amiss` is by how
    much the pressure at each head falls short of what its flow needs (negative: it could give
    more); `chord_amiss` by how much a chord loses more than its loop.
    """

    flow: list[float]
    behind: list[float]
    slope: list[float]
    amiss: list[float]
    chord_amiss: list[float]
    chord_slope: list[float]


class Outcome(NamedTuple):
    """Where Newton stopped."""

    state: State
    steps: int
    residual_psi: float
    converged: bool


def solve_piece(piece: Piece) -> Outcome:
    """Find the flows of a piece; they are left in its `q` and `x`."""
    _begin(piece)
    state = evaluate(piece, piece.q, piece.x)
    scale = max(1.0, abs(piece.root), max(map(abs, piece.height), default=0.0))
    exact, enough = EXACT_PSI + 1e-13 * scale, ENOUGH_PSI + 1e-12 * scale
    off = residual(piece, piece.q, state)
    step = 0
    while off > exact and step < MOST_STEPS:
        taken = _step(piece, state)
        if taken is None:
            break
        new_off = residual(piece, taken[0], taken[2])
        if off <= enough and new_off > 0.5 * off:
            # Endless rows of all but dry heads come no nearer than this.
            break
        piece.q, piece.x, state = taken
        off = new_off
        step += 1
    return Outcome(state, step, off, off <= enough)


def residual(piece: Piece, q: Sequence[float], state: State) -> float:
    """The largest pressure in psi by which any head or chord is amiss."""
    worst = 0.0
    for flow, most, g in zip(q, piece.most, state.amiss, strict=True):
        if g > worst:
            if flow > 0.0:
                worst = g
        elif -g > worst and flow < most:
            worst = -g
    for g in state.chord_amiss:
        worst = max(worst, abs(g))
    total = state.behind[0]
    return worst if math.isfinite(worst) and math.isfinite(total) else math.inf


def evaluate(piece: Piece, q: Sequence[float], x: Sequence[float]) -> State:
    """Flows, heads and what is amiss, at these flows of heads and chords."""
    parent, power, square, curve = piece.parent, piece.power, piece.square, piece.curve
    count = len(parent)
    flow = [*piece.demand, 0.0]
    for at, one in zip(piece.at, q, strict=True):
        flow[at] += one
    for start, end, one in zip(piece.chord_start, piece.chord_end, x, strict=True):
        flow[start] += one
        flow[end] -= one
    for j in range(count - 1, -1, -1):
        flow[parent[j]] += flow[j]
    behind, slope = [piece.root] * (count + 1), [0.0] * (count + 1)
    for j in range(count):
        f = flow[j]
        psi = 0.0
        if f > 0.0 and curve[j] is None:
            if k := power[j]:
                psi = k * f**FLOW_EXPONENT
                slope[j] = FLOW_EXPONENT * psi / f
            if k := square[j] * f:
                psi += k * f
                slope[j] += k + k
        elif f or curve[j]:
            psi, slope[j] = drop(power[j], square[j], curve[j], f)
        behind[j] = behind[parent[j]] - psi
    amiss = [
        k * one * one + z - behind[at]
        for at, k, z, one in zip(piece.at, piece.inverse, piece.height, q, strict=True)
    ]
    chord_amiss, chord_slope = _chords(piece, behind, x)
    return State(flow, behind, slope, amiss, chord_amiss, chord_slope)


def drop(power: float, square: float, curve: Curve | None, flow: float) -> tuple[float, float]:
    """Loss in psi and slope in psi per gpm of a link at a flow of either sign."""
    size = abs(flow)
    psi = power * float(size**FLOW_EXPONENT)
    slope = FLOW_EXPONENT * psi / size if size else 0.0
    psi += square * size * size
    slope += 2.0 * square * size
    if flow < 0.0:
        psi = -psi
    if curve is not None:
        more, steeper = curve(flow)
        psi, slope = psi + more, slope + steeper
    return psi, slope


def _chords(
    piece: Piece, behind: list[float], x: Sequence[float]
) -> tuple[list[float], list[float]]:
    """By how much each chord loses more than its loop, and its slope."""
    amiss, slope = [], []
    for start, end, loss, one in zip(
        piece.chord_start, piece.chord_end, piece.chord_loss, x, strict=True
    ):
        psi, steep = drop(loss.power, loss.square, loss.curve, one)
        amiss.append(psi - behind[start] + behind[end])
        slope.append(steep)
    return amiss, slope


def _begin(piece: Piece) -> None:
    """Flows to begin with: what each head would draw alone, shrunk by what all take together."""
    root = piece.root
    alone = [
        min(most, sqrt((root - z) / k)) if root > z else 0.0
        for k, z, most in zip(piece.inverse, piece.height, piece.most, strict=True)
    ]
    piece.x = [0.0] * len(piece.chord_loss)
    behind = evaluate(piece, alone, piece.x).behind
    piece.q = [
        min(most, one * sqrt((root - z) / (root - z + max(root - behind[at], 0.0)))) if one else 0.0
        for at, z, most, one in zip(piece.at, piece.height, piece.most, alone, strict=True)
    ]


def _step(piece: Piece, state: State) -> tuple[list[float], list[float], State] | None:
    """The flows after one step that goes down: Newton's, else a gentle one; None when none does."""
    for direction in (_direction, _gentle):
        dq, dx = direction(piece, state)
        before = _along(state, dq, dx)
        if before < 0.0:
            taken = _search(piece, dq, dx, before)
            if taken is not None:
                return taken
    return None


def _search(
    piece: Piece, dq: list[float], dx: list[float], before: float
) -> tuple[list[float], list[float], State] | None:
    """Shorten a step until the energy no longer rises steeply at its end."""
    part = 1.0
    for _ in range(40):
        new_q = [
            0.0 if (new := one + part * d) < 0.0 else limit if new > limit else new
            for one, d, limit in zip(piece.q, dq, piece.most, strict=True)
        ]
        new_x = [one + part * d for one, d in zip(piece.x, dx, strict=True)]
        state = evaluate(piece, new_q, new_x)
        after = _along(state, dq, dx)
        if after <= -0.1 * before:
            return new_q, new_x, state
        part *= min(max(before / (before - after), 0.1), 0.5) if math.isfinite(after) else 0.1
    return None


def _along(state: State, dq: Sequence[float], dx: Sequence[float]) -> float:
    """The slope of the energy along a step."""
    total = 0.0
    for g, d in zip(state.amiss, dq, strict=True):
        total += g * d
    for g, d in zip(state.chord_amiss, dx, strict=True):
        total += g * d
    return total


def _direction(piece: Piece, state: State) -> tuple[list[float], list[float]]:
    """Newton's step for every head and chord, none of them past its bounds.

    Heads that the step would take past a bound stop there and the step is made again for the
    others; one that would then rather come off its bound is let go.
    """
    soft = _softness(piece, state)
    held, fixed = soft[:], [0.0] * len(soft)
    for _ in range(_ROUNDS):
        dq, dx, pull = _newton(piece, state, held, fixed)
        if not _hold(piece, state, soft, held, fixed, dq, pull):
            break
    return dq, dx


def _hold(
    piece: Piece,
    state: State,
    soft: list[float],
    held: list[float],
    fixed: list[float],
    dq: list[float],
    pull: list[float],
) -> bool:
    """Fix heads that went past a bound and let go those that would come back; whether any."""
    changed = False
    for no, (one, d, limit) in enumerate(zip(piece.q, dq, piece.most, strict=True)):
        if held[no]:
            if one + d < 0.0:
                held[no], fixed[no], changed = 0.0, -one, True
            elif one + d > limit:
                held[no], fixed[no], changed = 0.0, limit - one, True
        elif soft[no]:
            back = pull[piece.at[no]] - state.amiss[no] - fixed[no] / soft[no]
            if back > 1e-9 if fixed[no] <= 0.0 else back < -1e-9:
                held[no], fixed[no], changed = soft[no], 0.0, True
    return changed


def _newton(
    piece: Piece, state: State, soft: Sequence[float], fixed: Sequence[float]
) -> tuple[list[float], list[float], list[float]]:
    """One linear solve; heads of no softness take their fixed step.

    Returns the steps of heads and chords, and the change of head behind each branch.
    """
    count = len(piece.parent) + 1
    a, b = [0.0] * count, [0.0] * count
    for at, g, s, own in zip(piece.at, state.amiss, soft, fixed, strict=True):
        a[at] += own - g * s
        b[at] += s
    slope, part = _gather(piece, state, b)
    change = _spread(piece, slope, part, b, a)
    dx: list[float] = []
    if piece.chord_loss:
        units = [
            _spread(piece, slope, part, b, _unit(count, start, end))
            for start, end in zip(piece.chord_start, piece.chord_end, strict=True)
        ]
        dx = _chord_steps(piece, state, change, units)
        for one, unit in zip(dx, units, strict=True):
            change = [old + one * new for old, new in zip(change, unit, strict=True)]
    dq = [
        own + (change[at] - g) * s
        for at, g, s, own in zip(piece.at, state.amiss, soft, fixed, strict=True)
    ]
    return dq, dx, change


def _gentle(piece: Piece, state: State) -> tuple[list[float], list[float]]:
    """A step that always goes down: each head and chord as if it moved alone."""
    path = [0.0] * (len(piece.parent) + 1)
    for j, up in enumerate(piece.parent):
        path[j] = path[up] + max(state.slope[j], 0.0)
    dq = [
        min(max(-g * s / (1.0 + path[at] * s), -one), limit - one)
        for at, g, s, one, limit in zip(
            piece.at, state.amiss, _softness(piece, state), piece.q, piece.most, strict=True
        )
    ]
    dx = [
        -g / (slope + path[start] + path[end] + 1e-14)
        for g, slope, start, end in zip(
            state.chord_amiss, state.chord_slope, piece.chord_start, piece.chord_end, strict=True
        )
    ]
    return dq, dx


def _softness(piece: Piece, state: State) -> list[float]:
    """How much more each head gives for a psi more; 0 for one that stays on its bound.

    A head that could give more is taken along the secant to the flow that the pressure there would
    give: near a dry head the tangent is flat and would throw the step out of sight.
    """
    found = []
    for k, most, one, g in zip(piece.inverse, piece.most, piece.q, state.amiss, strict=True):
        if g >= 0.0:
            found.append(0.5 / (k * one) if one > _LEAST else 0.0)
        elif one >= most:
            found.append(0.0)
        else:
            gives = sqrt(one * one - g / k)
            found.append(1.0 / (k * (one + (gives if gives < most else most))))
    return found


def _gather(piece: Piece, state: State, b: list[float]) -> tuple[list[float], list[float]]:
    """Pass the softness of demand leaf to root, into `b`: b / (1 + b R) of each branch.

    Returns each branch's slope as reckoned with, and 1 / (1 + b R).
    """
    parent, slope = piece.parent, state.slope
    part = [1.0] * len(slope)
    for j in range(len(parent) - 1, -1, -1):
        grown = 1.0 + b[j] * slope[j]
        if grown < _FALLING:
            # A table that falls too steeply to step along counts as level.
            slope[j], grown = 0.0, 1.0
        part[j] = 1.0 / grown
        b[j] *= part[j]
        b[parent[j]] += b[j]
    return slope, part


def _spread(
    piece: Piece, slope: list[float], part: list[float], b: list[float], a: list[float]
) -> list[float]:
    """The change of head behind each branch, for changes `a` of demand at their far ends."""
    parent = piece.parent
    for j in range(len(parent) - 1, -1, -1):
        a[j] *= part[j]
        a[parent[j]] += a[j]
    change = [0.0] * len(a)
    for j in range(len(parent)):
        above = change[parent[j]]
        change[j] = above - slope[j] * (a[j] + b[j] * above)
    return change


def _unit(count: int, start: int, end: int) -> list[float]:
    """One gpm more through a chord, as changes of demand."""
    found = [0.0] * count
    found[start] += 1.0
    found[end] -= 1.0
    return found


def _chord_steps(
    piece: Piece, state: State, change: list[float], units: list[list[float]]
) -> list[float]:
    """Solve the small dense system of the chords."""
    rows = []
    for no, (start, end) in enumerate(zip(piece.chord_start, piece.chord_end, strict=True)):
        row = [unit[end] - unit[start] for unit in units]
        row[no] += state.chord_slope[no] + 1e-14
        rows.append([*row, change[start] - change[end] - state.chord_amiss[no]])
    return eliminate(rows)
