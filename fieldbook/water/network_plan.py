"""A network made ready to solve, and cut in pieces at the regulators that hold their pressure.

A regulator that holds makes the pressure behind it known, so what lies behind it is a piece of
its own; the piece before it sees only the flow that it draws.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fieldbook.units import PSI_PER_FT
from fieldbook.water.losses import Loss, loss_of, supply_loss
from fieldbook.water.network import Head, Network, NetworkError, Regulator
from fieldbook.water.newton import Outcome, solve_piece
from fieldbook.water.piece import Piece
from fieldbook.water.topology import Topology, lay_out

_LEAST_K, _MOST_K = 1e-9, 1e6


@dataclass
class Plan:
    """A network as numbered branches. Branch 0 is the supply, branch n the tree's branch n - 1.

    Of each branch: its `parent` (-1 for branch 0), its loss, and at its far end the elevation as
    `height` in psi, the heads and the node's name. `set_psi` has every regulator's branch; `cut`
    are those that count as holding.
    """

    network: Network
    shape: Topology
    parent: list[int]
    losses: list[Loss]
    chord_losses: list[Loss]
    height: list[float]
    heads: list[tuple[Head, ...]]
    nodes: list[str]
    set_psi: dict[int, float]
    cut: set[int]


@dataclass
class SolvedPiece:
    """One piece solved: the plan's branches, heads (branch, place there) and chords it has."""

    branches: list[int]
    heads: list[tuple[int, int]]
    chords: list[int]
    piece: Piece
    outcome: Outcome


def plan_of(network: Network) -> Plan:
    """Make a network ready. Raises NetworkError for one that can't be solved.

    Every regulator counts as holding at first.
    """
    shape = lay_out(network)
    if not any(node.heads for node in network.nodes):
        raise NetworkError("The network has no head, so no water would run.")
    set_psi = {
        number: branch.link.kind.set_psi
        for number, branch in enumerate(shape.branches, start=1)
        if isinstance(branch.link.kind, Regulator)
    }
    node_at = network.node_at
    nodes = [node_at[network.source], *(node_at[branch.node] for branch in shape.branches)]
    for node in nodes:
        if not math.isfinite(node.elevation_ft):
            raise NetworkError(f"Node {node.name}: its elevation must be a number.")
    return Plan(
        network,
        shape,
        [-1, *(branch.parent + 1 for branch in shape.branches)],
        [
            supply_loss(network.supply),
            *(loss_of(branch.link, network) for branch in shape.branches),
        ],
        [loss_of(chord.link, network) for chord in shape.chords],
        [PSI_PER_FT * node.elevation_ft for node in nodes],
        [node.heads for node in nodes],
        [node.name for node in nodes],
        set_psi,
        set(set_psi),
    )


def solve_pieces(plan: Plan) -> list[SolvedPiece]:
    """Solve what lies behind each holding regulator, then what feeds it, up to the supply."""
    branches: dict[int, list[int]] = {root: [] for root in sorted({*plan.cut, 0}, reverse=True)}
    root_of: list[int] = []
    for number, up in enumerate(plan.parent):
        root_of.append(number if number in branches else root_of[up])
        branches[root_of[number]].append(number)
    demand = [0.0] * len(plan.parent)
    found = []
    # Parents have lower numbers, so this order is deepest first.
    for root, own in branches.items():
        solved = _solve_behind(plan, root, own, demand)
        if root:
            # What the piece draws is a fixed demand where its regulator is fed.
            demand[plan.parent[root]] += solved.outcome.state.flow[0]
        found.append(solved)
    return found


def _solve_behind(plan: Plan, root: int, branches: list[int], demand: list[float]) -> SolvedPiece:
    """Solve the piece of these branches; a holding regulator's own branch loses nothing in it."""
    local = {number: at for at, number in enumerate(branches)}
    losses = [plan.losses[number] for number in branches]
    if root:
        losses[0] = Loss()
    piece = Piece(
        plan.height[root] + (plan.set_psi[root] if root else plan.network.supply.static_psi),
        [-1, *(local[plan.parent[number]] for number in branches[1:])],
        [loss.power for loss in losses],
        [loss.square for loss in losses],
        [loss.curve for loss in losses],
        [demand[number] for number in branches],
    )
    heads = _add_heads(plan, branches, piece)
    chords = _add_chords(plan, local, piece)
    return SolvedPiece(branches, heads, chords, piece, solve_piece(piece))


def _add_chords(plan: Plan, local: dict[int, int], piece: Piece) -> list[int]:
    """Put the chords between these branches into the piece; returns the plan's number of each."""
    found = []
    for number, chord in enumerate(plan.shape.chords):
        # No loop runs through a regulator, so both ends are in one piece.
        if chord.start + 1 in local:
            piece.chord_start.append(local[chord.start + 1])
            piece.chord_end.append(local[chord.end + 1])
            piece.chord_loss.append(plan.chord_losses[number])
            found.append(number)
    return found


def _add_heads(plan: Plan, branches: list[int], piece: Piece) -> list[tuple[int, int]]:
    """Put the heads of these branches into the piece; returns (branch, place there) of each."""
    found = []
    for at, number in enumerate(branches):
        for place, head in enumerate(plan.heads[number]):
            _, k, regulated = head
            whole = regulated is None or 0.0 < regulated <= _MOST_K
            if not (whole and _LEAST_K <= k <= _MOST_K):
                raise _bad_head(head)
            piece.head_branch.append(at)
            piece.inverse.append(1.0 / (k * k))
            piece.height.append(plan.height[number])
            piece.most.append(math.inf if regulated is None else k * math.sqrt(regulated))
            found.append((number, place))
    return found


def _bad_head(head: Head) -> NetworkError:
    if not _LEAST_K <= head.k <= _MOST_K:
        return NetworkError(f"Head {head.name}: its k must be above zero, and below a million.")
    return NetworkError(f"Head {head.name}: its regulated pressure must be above zero.")
