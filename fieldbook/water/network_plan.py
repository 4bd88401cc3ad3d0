"""A network made ready to solve, and cut in pieces at the regulators that hold their pressure.

A regulator that holds makes the pressure behind it known, so what lies behind it is a piece of
its own; the piece before it sees only the flow that it draws.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from typing import NamedTuple, TypeVar

from fieldbook.units import PSI_PER_FT
from fieldbook.water.head_laws import HeadFigures, head_figures
from fieldbook.water.losses import (
    Curve,
    Loss,
    branch_losses,
    loss_of,
    pump_most_gpm,
    supply_psi,
    turned,
)
from fieldbook.water.network import Head, Network, NetworkError
from fieldbook.water.newton import Outcome, solve_piece
from fieldbook.water.piece import Piece
from fieldbook.water.topology import Topology, lay_out, refuse_doubles

T = TypeVar("T")


class Plan(NamedTuple):
    """A network as parallel lists.

    Of each branch of the `shape`: the loss as `power`, `square` and `curve`, and the elevation at
    its far end as `height` in psi. `chord_losses` are those of the chords. Of each head, in the
    order of the network: `head_branch` at whose far end it stands, and its `figures`. `static` is
    the grade of the supply without flow, `most_gpm` the last flow of its pump's curve; `set_psi`
    has every regulator's branch.
    """

    shape: Topology
    static: float
    most_gpm: float
    power: list[float]
    square: list[float]
    curve: list[Curve | None]
    height: list[float]
    chord_losses: list[Loss]
    heads: list[Head]
    head_branch: list[int]
    figures: HeadFigures
    set_psi: dict[int, float]


class SolvedPiece(NamedTuple):
    """One piece solved: the numbers of the plan's branches, heads and chords that it has."""

    branches: Collection[int]
    heads: Collection[int]
    chords: Collection[int]
    outcome: Outcome


def plan_of(network: Network, *, backwards: bool = False) -> Plan:
    """Make a network ready. Raises NetworkError for one that can't be solved.

    `backwards` is that of `lay_out`.
    """
    shape = lay_out(network, backwards=backwards)
    losses = branch_losses(network, shape.links)
    for number in shape.against:
        curve = losses.curve[number]
        if curve is not None:
            losses.curve[number] = turned(curve)
    height = [PSI_PER_FT * node.elevation_ft for node in shape.nodes]
    if not math.isfinite(sum(height)):
        for node in shape.nodes:
            if not math.isfinite(node.elevation_ft):
                raise NetworkError(f"Node {node.name}: its elevation must be a number.")
    return Plan(
        shape,
        height[0] + supply_psi(network.supply),
        pump_most_gpm(network.supply),
        losses.power,
        losses.square,
        losses.curve,
        height,
        [loss_of(chord.link, network) for chord in shape.chords],
        *_heads(network, shape),
        losses.set_psi,
    )


def _heads(network: Network, shape: Topology) -> tuple[list[Head], list[int], HeadFigures]:
    """The heads in the order of the network, the branch of each, and their figures."""
    heads: list[Head] = []
    head_branch: list[int] = []
    for name, _, here in network.nodes:
        if here:
            heads += here
            head_branch += [shape.at[name]] * len(here)
    if not heads:
        raise NetworkError("The network has no head, so no water would run.")
    refuse_doubles("head", heads)
    return heads, head_branch, head_figures(heads)


def solve_pieces(
    plan: Plan, holding: set[int], near: list[float] | None = None
) -> list[SolvedPiece]:
    """Solve what lies behind each holding regulator, then what feeds it, up to the supply.

    `near` are flows of the heads in gpm to begin with, where some are known to be near.
    """
    if not holding:
        return [_solve_whole(plan, near)]
    parent = plan.shape.parent
    demand = [0.0] * len(parent)
    branches: dict[int, list[int]] = {root: [] for root in sorted({*holding, 0}, reverse=True)}
    root_of: list[int] = []
    for number, up in enumerate(parent):
        root_of.append(number if number in branches else root_of[up])
        branches[root_of[number]].append(number)
    found = []
    # Parents have lower numbers, so this order is deepest first.
    for root, own in branches.items():
        solved = _solve_behind(plan, root, own, demand, near)
        if root:
            # What the piece draws is a fixed demand where its regulator is fed.
            demand[parent[root]] += solved.outcome.state.flow[0]
        found.append(solved)
    return found


def _solve_whole(plan: Plan, near: list[float] | None) -> SolvedPiece:
    """Solve a network in which no regulator holds: it is one piece, with the plan's own lists."""
    shape = plan.shape
    piece = Piece(
        plan.static,
        shape.parent,
        plan.power,
        plan.square,
        plan.curve,
        [0.0] * len(shape.parent),
        plan.head_branch,
        plan.figures.inverse,
        _these(plan.height, plan.head_branch),
        plan.figures.most,
        plan.figures.laws,
        [chord.start for chord in shape.chords],
        [chord.end for chord in shape.chords],
        plan.chord_losses,
    )
    every = (range(len(shape.parent)), range(len(plan.heads)), range(len(shape.chords)))
    return SolvedPiece(*every, solve_piece(piece, near))


def _solve_behind(
    plan: Plan, root: int, branches: list[int], demand: list[float], near: list[float] | None
) -> SolvedPiece:
    """Solve the piece of these branches; a holding regulator's own branch loses nothing in it."""
    shape, figures = plan.shape, plan.figures
    local = {number: at for at, number in enumerate(branches)}
    heads = [head for head, branch in enumerate(plan.head_branch) if branch in local]
    head_branch = _these(plan.head_branch, heads)
    # No loop runs through a regulator, so both ends of a chord are in one piece.
    chords = [no for no, chord in enumerate(shape.chords) if chord.start in local]
    piece = Piece(
        plan.height[root] + plan.set_psi[root] if root else plan.static,
        [-1, *_these(local, _these(shape.parent, branches[1:]))],
        _these(plan.power, branches),
        _these(plan.square, branches),
        _these(plan.curve, branches),
        _these(demand, branches),
        _these(local, head_branch),
        _these(figures.inverse, heads),
        _these(plan.height, head_branch),
        _these(figures.most, heads),
        {at: figures.laws[head] for at, head in enumerate(heads) if head in figures.laws},
        _these(local, [shape.chords[number].start for number in chords]),
        _these(local, [shape.chords[number].end for number in chords]),
        _these(plan.chord_losses, chords),
    )
    own = None if near is None else _these(near, heads)
    return SolvedPiece(branches, heads, chords, solve_piece(piece, own))


def _these(values: list[T] | dict[int, T], numbers: list[int]) -> list[T]:
    """The values of these numbers."""
    return [values[number] for number in numbers]
