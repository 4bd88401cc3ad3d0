"""Solve a network: the pressure, flow and state of every head, the flow and loss of every link.

A zone regulator either holds its set pressure, which cuts the network in two there, or stands
open. All are taken as holding first: that is the most their heads can draw, so what comes in is the
least it can be. Those that get less than they are set to are open; then the pieces are solved again
until all agree.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fieldbook.water.friction import PSI_PER_FT
from fieldbook.water.losses import Loss, loss_of, supply_loss
from fieldbook.water.network import Head, Network, NetworkError, Regulator
from fieldbook.water.newton import Outcome, Piece, solve_piece
from fieldbook.water.solution import Solution
from fieldbook.water.topology import Topology, topology

_SLACK_PSI = 1e-7
_LEAST_K, _MOST_K = 1e-9, 1e6


@dataclass
class Plan:
    """A network made ready: its tree, and for each branch its loss and what stands at its end.

    Branch 0 is the supply itself. `cut` are the regulator branches that hold their set pressure.
    """

    network: Network
    shape: Topology
    parent: list[int]
    losses: list[Loss]
    chord_losses: list[Loss]
    height: list[float]
    heads: list[tuple[Head, ...]]
    set_psi: dict[int, float]
    cut: set[int]


@dataclass
class Solved:
    """One piece solved: which branches, heads and chords of the plan it has, in order."""

    branches: list[int]
    heads: list[tuple[int, int]]
    chords: list[int]
    piece: Piece
    outcome: Outcome


def solve(network: Network) -> Solution:
    """Solve a network. Raises NetworkError, in one sentence, for one that can't be.

    Look at `converged`: a solution that is not says so, and its residual says by how much.
    """
    plan = _plan(network)
    steps = 0
    most = 4 * len(plan.set_psi) + 4
    for turn in range(most):
        solved = solve_pieces(plan)
        steps += sum(one.outcome.steps for one in solved)
        wrong = _wrong_regulators(plan, solved)
        if not wrong:
            return Solution(plan, solved, steps, agreed=True)
        if turn:
            wrong = [max(wrong)]
        plan.cut ^= {branch for _, branch in wrong}
    return Solution(plan, solve_pieces(plan), steps, agreed=False)


def _plan(network: Network) -> Plan:
    shape = topology(network)
    if not any(node.heads for node in network.nodes):
        raise NetworkError("The network has no head: nothing would run.")
    set_psi = {
        no: one.link.kind.set_psi
        for no, one in enumerate(shape.branches, start=1)
        if isinstance(one.link.kind, Regulator)
    }
    node_at = network.node_at
    nodes = [node_at[network.source], *(node_at[one.node] for one in shape.branches)]
    for node in nodes:
        if not math.isfinite(node.elevation_ft):
            raise NetworkError(f"Node {node.name}: its elevation is no number.")
    return Plan(
        network,
        shape,
        [-1, *(one.parent + 1 for one in shape.branches)],
        [supply_loss(network.supply), *(loss_of(one.link, network) for one in shape.branches)],
        [loss_of(one.link, network) for one in shape.chords],
        [PSI_PER_FT * node.elevation_ft for node in nodes],
        [node.heads for node in nodes],
        set_psi,
        set(set_psi),
    )


def solve_pieces(plan: Plan) -> list[Solved]:
    """Solve what lies behind each holding regulator, deepest first, then what feeds it."""
    owner = _owners(plan)
    demand = [0.0] * len(plan.parent)
    found = []
    for root in sorted({*plan.cut, 0}, reverse=True):
        solved = _solve_behind(plan, owner, root, demand)
        if root:
            # What the piece draws is a fixed demand where its regulator is fed.
            demand[plan.parent[root]] += solved.outcome.state.flow[0]
        found.append(solved)
    return found


def _owners(plan: Plan) -> list[int]:
    """For each branch the regulator that it lies behind, or 0."""
    owner: list[int] = []
    for no, up in enumerate(plan.parent):
        owner.append(no if no in plan.cut else owner[up] if no else 0)
    return owner


def _solve_behind(plan: Plan, owner: list[int], root: int, demand: list[float]) -> Solved:
    branches = [no for no, one in enumerate(owner) if one == root]
    local = {no: at for at, no in enumerate(branches)}
    source = plan.height[root] + (plan.set_psi[root] if root else plan.network.supply.static_psi)
    losses = [Loss() if no == root and root else plan.losses[no] for no in branches]
    piece = Piece(
        source,
        [-1 if no == root else local[plan.parent[no]] for no in branches],
        [one.power for one in losses],
        [one.square for one in losses],
        [one.curve for one in losses],
        [demand[no] for no in branches],
    )
    heads = _add_heads(plan, branches, piece)
    chords = [no for no, one in enumerate(plan.shape.chords) if one.start + 1 in local]
    for no in chords:
        piece.chord_start.append(local[plan.shape.chords[no].start + 1])
        piece.chord_end.append(local[plan.shape.chords[no].end + 1])
        piece.chord_loss.append(plan.chord_losses[no])
    return Solved(branches, heads, chords, piece, solve_piece(piece))


def _add_heads(plan: Plan, branches: list[int], piece: Piece) -> list[tuple[int, int]]:
    """Put the heads of these branches' nodes into the piece; returns (branch, place) of each."""
    found = []
    for at, no in enumerate(branches):
        for place, head in enumerate(plan.heads[no]):
            _, k, regulated = head
            whole = regulated is None or 0.0 < regulated <= _MOST_K
            if not (whole and _LEAST_K <= k <= _MOST_K):
                raise _bad_head(head)
            piece.at.append(at)
            piece.inverse.append(1.0 / (k * k))
            piece.height.append(plan.height[no])
            piece.most.append(math.inf if regulated is None else k * math.sqrt(regulated))
            found.append((no, place))
    return found


def _bad_head(head: Head) -> NetworkError:
    if not _LEAST_K <= head.k <= _MOST_K:
        return NetworkError(f"Head {head.name}: its k must be above zero, and below a million.")
    return NetworkError(f"Head {head.name}: its regulated pressure must be above zero.")


def _wrong_regulators(plan: Plan, solved: list[Solved]) -> list[tuple[float, int]]:
    """Regulators that hold though too little comes in, or stand open to too much; by how much."""
    if not plan.set_psi:
        return []
    head_behind: dict[int, float] = {}
    for one in solved:
        head_behind.update(zip(one.branches, one.outcome.state.behind, strict=False))
    wrong = []
    for no, set_psi in plan.set_psi.items():
        wanted = set_psi + plan.height[no]
        short = wanted - head_behind[plan.parent[no]]
        off = short if no in plan.cut else head_behind[no] - wanted
        if off > _SLACK_PSI:
            wrong.append((off, no))
    return wrong
