"""Newton's method on a piece of network: a tree with chords and one known grade, at its root.

The flows are the minimum of a convex energy: the sum over links of the integral of loss over
flow, and over heads of the integral of (q/k)^2 plus elevation, with each head's flow between zero
(dry) and the most that its regulator lets pass. So a head that runs dry or is regulated is a
variable on a bound, not a case to guess: a projected Newton step with a line search on the
energy's slope can't cycle, as switching on the sign of the pressure does.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import sqrt
from typing import NamedTuple

from fieldbook.water.newton_step import newton_step
from fieldbook.water.piece import LEAST_GPM, Piece, State, evaluate, grades, residual
from fieldbook.water.plain_steps import plain_steps

MOST_STEPS = 120
EXACT_PSI, ENOUGH_PSI = 1e-8, 1e-7
"""Steps stop at the first residual; at the second too, once a step no longer halves it."""
# Powers of the flow, one over a head's exponent; the last changes no law.
_GENTLER = (2.0, 3.0, 4.0, 6.0, 8.0, 11.0, 15.0, 20.0, 27.0, 36.0, 50.0, 70.0, math.inf)
_MOST_BOUND_ROUNDS, _MOST_SHORTENINGS = 12, 40

_Flows = tuple[list[float], list[float]]
"""Of heads and of chords in gpm, or their steps."""


class Outcome(NamedTuple):
    """Where Newton's method stopped: flows `q` of the heads and `x` of the chords, in gpm.

    `converged` only if the residual in psi, worked out anew from the flows, says so.
    """

    q: list[float]
    x: list[float]
    state: State
    steps: int
    residual_psi: float
    converged: bool


def solve_piece(piece: Piece, q: list[float] | None = None) -> Outcome:
    """Find the flows of a piece, from flows `q` of its heads if any are known to be near."""
    found = _solve(piece, q)
    if found.converged or not piece.laws:
        return found
    # A head whose law is nearly a step, as of an emitter that all but compensates, is often not
    # found at once. It is approached through gentler laws, each solved from the one before.
    near, steps = None, found.steps
    for power in _GENTLER:
        laws = {head: law.gentler(power) for head, law in piece.laws.items()}
        found = _solve(piece._replace(laws=laws), near)
        near, steps = found.q, steps + found.steps
    return found._replace(steps=steps)


def _solve(piece: Piece, q: list[float] | None) -> Outcome:
    # No float is nearer to a large grade than this, so the tolerance grows with it.
    scale = max(1.0, abs(piece.root), max(map(abs, piece.height), default=0.0))
    exact, enough = EXACT_PSI + 1e-13 * scale, ENOUGH_PSI + 1e-12 * scale
    q, steps = plain_steps(piece, _begin(piece) if q is None else q, exact)
    x = [0.0] * len(piece.chord_loss)
    state = evaluate(piece, q, x)
    off = residual(piece, q, state)
    while off > exact and steps < MOST_STEPS:
        taken = _step(piece, _At(q, x, state))
        if taken is None:
            break
        new_off = residual(piece, taken.q, taken.state)
        if off <= enough and new_off > 0.5 * off:
            # A long row of all but dry heads comes no nearer than this.
            break
        q, x, state = taken
        off = new_off
        steps += 1
    return Outcome(q, x, state, steps, off, off <= enough)


class _At(NamedTuple):
    """A place on the way: flows of heads and chords in gpm, and the state there."""

    q: list[float]
    x: list[float]
    state: State


def _begin(piece: Piece) -> list[float]:
    """Flows to begin with: each head's flow alone, shrunk by what all of them lose together."""
    root, q = piece.root, []
    for k, z, most in zip(piece.inverse, piece.height, piece.most, strict=True):
        gpm = sqrt((root - z) / k) if root > z else 0.0
        q.append(gpm if gpm < most else most)
    for head, law in piece.laws.items():
        q[head] = min(piece.most[head], law.gpm(max(root - piece.height[head], 0.0)))
    grade = grades(piece, q, [0.0] * len(piece.chord_loss)).grade
    for head, branch, z in zip(range(len(q)), piece.head_branch, piece.height, strict=True):
        lost = root - grade[branch]
        if lost > 0.0 and root > z:
            q[head] *= sqrt((root - z) / (root - z + lost))
    return q


def _step(piece: Piece, at: _At) -> _At | None:
    """The place after a step that lowers the energy; None when neither kind of step does.

    A falling table makes the energy not convex there, and Newton's step may then lead uphill.
    """
    for direction in (_newton_direction, _gentle_direction):
        flows = direction(piece, at)
        before = _energy_slope(at.state, *flows)
        if before < 0.0:
            taken = _search(piece, at, flows, before)
            if taken is not None:
                return taken
    return None


def _search(piece: Piece, at: _At, steps: _Flows, before: float) -> _At | None:
    """Shorten a step until the energy no longer rises steeply at its end."""
    part = 1.0
    dq, dx = steps
    for _ in range(_MOST_SHORTENINGS):
        new_q = [
            0.0 if (new := gpm + part * step) < 0.0 else most if new > most else new
            for gpm, step, most in zip(at.q, dq, piece.most, strict=True)
        ]
        new_x = [gpm + part * step for gpm, step in zip(at.x, dx, strict=True)]
        state = evaluate(piece, new_q, new_x)
        after = _energy_slope(state, dq, dx)
        if after <= -0.1 * before:
            return _At(new_q, new_x, state)
        # Where the slope would be zero if it were a straight line, but never too bold or timid.
        part *= min(max(before / (before - after), 0.1), 0.5) if math.isfinite(after) else 0.1
    return None


def _energy_slope(state: State, dq: Sequence[float], dx: Sequence[float]) -> float:
    """The slope of the energy along a step: its gradient is the mismatches."""
    total = 0.0
    for psi, step in zip(state.mismatch, dq, strict=True):
        total += psi * step
    for psi, step in zip(state.chord_mismatch, dx, strict=True):
        total += psi * step
    return total


class _Bounds(NamedTuple):
    """Which heads a Newton step moves, and which it sets on a bound.

    softness: of every head, as if none were held. moving: the same, but 0 for a held head. fixed:
    the step in gpm that takes a held head onto its bound.
    """

    softness: list[float]
    moving: list[float]
    fixed: list[float]


def _newton_direction(piece: Piece, at: _At) -> _Flows:
    """Newton's step for every head and chord, none of them past its bounds.

    A head that the step would take past a bound is held on it, and the step is solved again for
    the others; a held head that would then come off its bound is let go.
    """
    softness = _softness(piece, at)
    bounds = _Bounds(softness, softness[:], [0.0] * len(softness))
    for _ in range(_MOST_BOUND_ROUNDS):
        dq, dx, change = newton_step(piece, at.state, bounds.moving, bounds.fixed)
        if not _rebound(piece, at, bounds, dq, change):
            break
    return dq, dx


def _rebound(piece: Piece, at: _At, bounds: _Bounds, dq: list[float], change: list[float]) -> bool:
    """Hold heads that went past a bound and let go those that would come off; whether any."""
    softness, moving, fixed = bounds.softness, bounds.moving, bounds.fixed
    changed = False
    for head, (gpm, step, most) in enumerate(zip(at.q, dq, piece.most, strict=True)):
        if moving[head]:
            if gpm + step < 0.0:
                moving[head], fixed[head], changed = 0.0, -gpm, True
            elif gpm + step > most:
                moving[head], fixed[head], changed = 0.0, most - gpm, True
        elif softness[head]:
            # What pulls the held head off its bound, in psi: inwards for a dry one is upwards.
            pull = change[piece.head_branch[head]] - at.state.mismatch[head]
            pull -= fixed[head] / softness[head]
            if pull > 1e-9 if fixed[head] <= 0.0 else pull < -1e-9:
                moving[head], fixed[head], changed = softness[head], 0.0, True
    return changed


def _softness(piece: Piece, at: _At) -> list[float]:
    """How much more each head gives for a psi more, in gpm per psi; 0 for one on its bound.

    A head that could give more is taken along the secant to the flow that the pressure there
    would give: near a dry head the tangent is flat and would throw the step out of sight.
    """
    found = []
    for k, most, gpm, psi in zip(piece.inverse, piece.most, at.q, at.state.mismatch, strict=True):
        if psi >= 0.0:
            found.append(0.5 / (k * gpm) if gpm > LEAST_GPM else 0.0)
        elif gpm >= most:
            found.append(0.0)
        else:
            gives = sqrt(gpm * gpm - psi / k)
            found.append(1.0 / (k * (gpm + (gives if gives < most else most))))
    for head, law in piece.laws.items():
        found[head] = law.softness(at.q[head], at.state.mismatch[head], piece.most[head])
    return found


def _gentle_direction(piece: Piece, at: _At) -> _Flows:
    """A step that always lowers the energy: each head and chord as if it moved alone."""
    state = at.state
    path = [0.0] * (len(piece.parent) + 1)
    for branch, up in enumerate(piece.parent):
        path[branch] = path[up] + max(state.slope[branch], 0.0)
    dq = [
        min(max(-psi * soft / (1.0 + path[branch] * soft), -gpm), most - gpm)
        for branch, psi, soft, gpm, most in zip(
            piece.head_branch,
            state.mismatch,
            _softness(piece, at),
            at.q,
            piece.most,
            strict=True,
        )
    ]
    dx = [
        -psi / (slope + path[start] + path[end] + 1e-14)
        for psi, slope, start, end in zip(
            state.chord_mismatch, state.chord_slope, piece.chord_start, piece.chord_end, strict=True
        )
    ]
    return dq, dx
