"""Solve a network: the pressure, flow and state of every head, the flow and loss of every link.

A zone regulator either holds its set pressure, which cuts the network in two there, or stands
open. All count as holding first: their heads then draw the most that they can, so what comes in
is the least that it can be. A regulator that even so gets more than it is set to does hold; the
others are opened, and the pieces are solved again until every regulator agrees.
"""

from __future__ import annotations

from fieldbook.water.network import Network
from fieldbook.water.network_plan import Plan, SolvedPiece, plan_of, solve_pieces
from fieldbook.water.solution import Solution

_SLACK_PSI = 1e-7


def solve(network: Network) -> Solution:
    """Solve a network for the flows and pressures of every head, link and node.

    Ask the solution whether it `converged`: one that has not says so, and its `residual_psi` says
    by how much it is off. Raises NetworkError, in one sentence, for a network that can't be
    solved as given: impossible figures, parts that are not connected, a loop through a device or
    regulator.
    """
    return solve_plan(plan_of(network))


def solve_plan(plan: Plan, near: list[float] | None = None) -> Solution:
    """Solve a network that is made ready, from flows of its heads in gpm if some are near."""
    holding = set(plan.set_psi)
    most_rounds = 4 * len(holding) + 4
    for number in range(most_rounds):
        pieces = solve_pieces(plan, holding, near)
        wrong = _wrong_regulators(plan, holding, pieces)
        if not wrong:
            return Solution(plan, holding, pieces, agreed=True)
        if number:
            # All at once could flip back and forth; the worst alone settles it.
            wrong = [max(wrong)]
        holding ^= {branch for _, branch in wrong}
    return Solution(plan, holding, solve_pieces(plan, holding), agreed=False)


def _wrong_regulators(
    plan: Plan, holding: set[int], pieces: list[SolvedPiece]
) -> list[tuple[float, int]]:
    """Regulators that hold with too little coming in, or stand open to too much.

    Returns (by how many psi, branch) of each.
    """
    if not plan.set_psi:
        return []
    grade: dict[int, float] = {}
    for solved in pieces:
        grade.update(zip(solved.branches, solved.outcome.state.grade, strict=False))
    wrong = []
    for branch, set_psi in plan.set_psi.items():
        wanted = set_psi + plan.height[branch]
        short = wanted - grade[plan.shape.parent[branch]]
        off = short if branch in holding else grade[branch] - wanted
        if off > _SLACK_PSI:
            wrong.append((off, branch))
    return wrong
