"""Solve a network: the pressure, flow and state of every head, the flow and loss of every link.

A zone regulator either holds its set pressure, which cuts the network in two there, or stands
open. All count as holding first: their heads then draw the most that they can, so what comes in
is the least that it can be. A regulator that even so gets more than it is set to does hold; the
others are opened, and the pieces are solved again until every regulator agrees.

Water runs one way only through a device with a table, which stands for a backflow assembly. In a
loop, as of two assemblies side by side, water may try to run backwards through one: it is shut,
and opened again where more pressure stands before it than it takes to open.
"""

from __future__ import annotations

from fieldbook.water.losses import loss_and_slope, loss_of
from fieldbook.water.network import Link, Network
from fieldbook.water.network_plan import Plan, SolvedPiece, plan_of, solve_pieces
from fieldbook.water.solution import Solution

_SLACK_PSI = 1e-7


def solve(network: Network) -> Solution:
    """Solve a network for the flows and pressures of every head, link and node.

    Ask the solution whether it `converged`: one that has not says so, and its `residual_psi` says
    by how much it is off. Raises NetworkError, in one sentence, for a network that can't be
    solved as given: impossible figures, parts that are not connected, a loop through a regulator
    or a falling table.
    """
    plan = plan_of(network)
    return _solve_one_way(network, plan) if plan.shape.one_way else solve_plan(plan)


def _solve_one_way(network: Network, plan: Plan) -> Solution:
    """Solve with the devices of `one_way` open, and shut those that water runs back through."""
    one_way = [link for link in network.links if link.name in plan.shape.one_way]
    shut: dict[str, Link] = {}
    solution = solve_plan(plan)
    for _ in range(4 * len(one_way) + 4):
        wrong = [found for link in one_way if (found := _wrongness(network, solution, link, shut))]
        if not wrong or not solution.converged:
            break
        # The worst alone: another that water runs back through may be all that feeds a head.
        _, worst = max(wrong)
        if shut.pop(worst, None) is None:
            shut[worst] = next(link for link in one_way if link.name == worst)
        kept = tuple(link for link in network.links if link.name not in shut)
        solution = solve_plan(plan_of(network._replace(links=kept), backwards=True))
        solution.shut = tuple(shut.values())
    solution.converged = solution.converged and not wrong
    return solution


def _wrongness(
    network: Network, solution: Solution, link: Link, shut: dict[str, Link]
) -> tuple[float, str] | None:
    """By how many psi a device should not be open, or shut, and its name; None where it should."""
    if link.name in shut:
        opens_psi, _ = loss_and_slope(*loss_of(link, network), 0.0)
        off = solution.held_psi(link) - opens_psi
    else:
        # The table's curve has a slope of 1 psi per gpm for water that runs back.
        off = -solution.links[link.name].gpm
    return (off, link.name) if off > _SLACK_PSI else None


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
