"""One linear solve of Newton's method on a tree, in time linear in its branches.

With each loss linearised as h + R dq, the extra demand of a subtree depends on the change of
grade H before it as a + b H. Passing such a pair over a branch of slope R gives a / (1 + b R) and
b / (1 + b R). That form never divides by R, so a pipe without length, or one without flow, needs
no special case. Chords, of which there are few, are solved as a small dense system on top.
"""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.water.piece import Piece, State

LEAST_GROWTH = 0.3
"""A branch of which less than this part is left, 1 + b R, falls too steeply to step along."""
# Keeps the system of the chords regular where a loop has no loss at all.
_LEAST_SLOPE = 1e-14


def newton_step(
    piece: Piece, state: State, softness: Sequence[float], fixed: Sequence[float]
) -> tuple[list[float], list[float], list[float]]:
    """The step of each head and chord in gpm, and the change of grade behind each branch in psi.

    `softness` is each head's change of flow per psi; a head whose softness is 0 takes its `fixed`
    step in gpm. Branches that fall too steeply lose their slope in `state`.
    """
    count = len(piece.parent) + 1
    a, b = [0.0] * count, [0.0] * count
    for branch, psi, soft, own in zip(
        piece.head_branch, state.mismatch, softness, fixed, strict=True
    ):
        a[branch] += own - psi * soft
        b[branch] += soft
    part = _pass_softness_to_root(piece, state, b)
    change = _change_of_grade(piece, state.slope, part, b, a)
    dx: list[float] = []
    if piece.chord_loss:
        # What one gpm more through each chord changes, each a solve of the tree as it stands.
        units = [
            _change_of_grade(piece, state.slope, part, b, _unit_demand(count, start, end))
            for start, end in zip(piece.chord_start, piece.chord_end, strict=True)
        ]
        dx = _chord_steps(piece, state, change, units)
        for step, unit in zip(dx, units, strict=True):
            change = [old + step * new for old, new in zip(change, unit, strict=True)]
    dq = [
        own + (change[branch] - psi) * soft
        for branch, psi, soft, own in zip(
            piece.head_branch, state.mismatch, softness, fixed, strict=True
        )
    ]
    return dq, dx, change


def _pass_softness_to_root(piece: Piece, state: State, b: list[float]) -> list[float]:
    """Turn the heads' softness in `b` into b / (1 + b R) of each branch, leaf to root.

    Returns 1 / (1 + b R) of each branch.
    """
    parent, slope = piece.parent, state.slope
    part = [1.0] * len(slope)
    for branch in range(len(parent) - 1, -1, -1):
        growth = 1.0 + b[branch] * slope[branch]
        if growth < LEAST_GROWTH:
            # A table that falls so steeply has no minimum to step to: take it as level.
            slope[branch], growth = 0.0, 1.0
        part[branch] = 1.0 / growth
        b[branch] *= part[branch]
        b[parent[branch]] += b[branch]
    return part


def _change_of_grade(
    piece: Piece, slope: list[float], part: list[float], b: list[float], a: list[float]
) -> list[float]:
    """The change of grade behind each branch, root to leaf, for changes `a` of demand there."""
    parent = piece.parent
    for branch in range(len(parent) - 1, -1, -1):
        a[branch] *= part[branch]
        a[parent[branch]] += a[branch]
    change = [0.0] * len(a)
    for branch in range(len(parent)):
        before = change[parent[branch]]
        change[branch] = before - slope[branch] * (a[branch] + b[branch] * before)
    return change


def _unit_demand(count: int, start: int, end: int) -> list[float]:
    """One gpm more through a chord, as changes of demand at the branches' far ends."""
    found = [0.0] * count
    found[start] += 1.0
    found[end] -= 1.0
    return found


def _chord_steps(
    piece: Piece, state: State, change: list[float], units: list[list[float]]
) -> list[float]:
    """The step of each chord in gpm, from the small dense system that they form."""
    rows = []
    for chord, (start, end) in enumerate(zip(piece.chord_start, piece.chord_end, strict=True)):
        row = [unit[end] - unit[start] for unit in units]
        row[chord] += state.chord_slope[chord] + _LEAST_SLOPE
        rows.append([*row, change[start] - change[end] - state.chord_mismatch[chord]])
    return _eliminate(rows)


def _eliminate(rows: list[list[float]]) -> list[float]:
    """Solve [matrix | right side] by Gauss with partial pivoting; a singular column gives 0."""
    size = len(rows)
    for col in range(size):
        pivot = max(range(col, size), key=lambda row: abs(rows[row][col]))
        rows[col], rows[pivot] = rows[pivot], rows[col]
        if not rows[col][col]:
            continue
        for row in range(col + 1, size):
            part = rows[row][col] / rows[col][col]
            if part:
                rows[row] = [a - part * b for a, b in zip(rows[row], rows[col], strict=True)]
    found = [0.0] * size
    for col in range(size - 1, -1, -1):
        rest = rows[col][size] - sum(rows[col][k] * found[k] for k in range(col + 1, size))
        found[col] = rest / rows[col][col] if rows[col][col] else 0.0
    return found
