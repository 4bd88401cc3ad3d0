"""What the solver answers: heads, links and nodes by name, and how well they are solved."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Literal, NamedTuple

from fieldbook.water.friction import velocity_ft_s
from fieldbook.water.losses import loss_and_slope
from fieldbook.water.network import Device, Link, Pipe, Regulator
from fieldbook.water.network_plan import Plan, SolvedPiece

HeadState = Literal["normal", "regulated", "dry"]
LinkState = Literal["open", "holding"]


class HeadResult(NamedTuple):
    """A head: the gauge pressure in psi at its inlet, its flow in gpm, its state.

    dry: no water runs, the pressure there is not above zero. regulated: its body holds back what
    is over its regulated pressure.
    """

    name: str
    node: str
    psi: float
    gpm: float
    state: HeadState


class LinkResult(NamedTuple):
    """A link: its flow from start to end in gpm, its loss in psi without the height it climbs.

    `ft_s` is the velocity, None for a link that is not a pipe. A holding regulator's loss is what
    it holds back. `outside`: the flow is outside the link's table.
    """

    name: str
    gpm: float
    loss_psi: float
    ft_s: float | None
    state: LinkState
    outside: bool = False


class Solution:
    """The whole answer; heads, links and nodes are laid out when they are asked for.

    converged: whether it may be trusted. residual_psi: the largest error of any head's or loop's
    pressure. steps: of Newton's method, in all. supply_gpm: what the street gives. source_psi:
    the gauge pressure left at the source node.
    """

    def __init__(self, plan: Plan, pieces: list[SolvedPiece], steps: int, *, agreed: bool) -> None:
        """Put the pieces together; `agreed`: every regulator's state fits what comes in."""
        self._plan, self._pieces = plan, pieces
        self._grade = [0.0] * len(plan.parent)
        self._flow = [0.0] * len(plan.parent)
        for solved in pieces:
            state = solved.outcome.state
            # A state has one entry more than the piece has branches, for its root.
            for branch, grade, gpm in zip(solved.branches, state.grade, state.flow, strict=False):
                self._grade[branch], self._flow[branch] = grade, gpm
        self.converged = agreed and all(solved.outcome.converged for solved in pieces)
        self.residual_psi = max(solved.outcome.residual_psi for solved in pieces)
        self.steps = steps
        self.supply_gpm = self._flow[0]
        self.source_psi = self._grade[0] - plan.height[0]

    @cached_property
    def heads(self) -> Mapping[str, HeadResult]:
        """Every head by its name, in the order of the network."""
        return _heads(self._plan, self._pieces, self._grade)

    @cached_property
    def links(self) -> Mapping[str, LinkResult]:
        """Every link by its name."""
        branches = _branches(self._plan, self._grade, self._flow)
        return {**branches, **_chords(self._plan, self._pieces)}

    @cached_property
    def node_psi(self) -> Mapping[str, float]:
        """The gauge pressure in psi at every node, by its name."""
        plan = self._plan
        return {
            name: grade - height
            for name, grade, height in zip(plan.nodes, self._grade, plan.height, strict=True)
        }


def _heads(plan: Plan, pieces: list[SolvedPiece], grade: list[float]) -> dict[str, HeadResult]:
    found: dict[str, HeadResult] = {}
    for solved in pieces:
        piece = solved.piece
        for (branch, place), gpm, most in zip(solved.heads, piece.q, piece.most, strict=True):
            head = plan.heads[branch][place]
            psi = grade[branch] - plan.height[branch]
            # Newton's method leaves a head on a bound at exactly that bound.
            state: HeadState = "dry" if gpm <= 0.0 else "regulated" if gpm >= most else "normal"
            found[head.name] = HeadResult(head.name, plan.nodes[branch], psi, gpm, state)
    return {head.name: found[head.name] for node in plan.network.nodes for head in node.heads}


def _branches(plan: Plan, grade: list[float], flow: list[float]) -> dict[str, LinkResult]:
    found = {}
    for number, branch in enumerate(plan.shape.branches, start=1):
        gpm = -flow[number] if branch.against else flow[number]
        loss = grade[plan.parent[number]] - grade[number]
        found[branch.link.name] = _result(
            branch.link, gpm, -loss if branch.against else loss, holding=number in plan.cut
        )
    return found


def _chords(plan: Plan, pieces: list[SolvedPiece]) -> dict[str, LinkResult]:
    found = {}
    for solved in pieces:
        for number, gpm in zip(solved.chords, solved.piece.x, strict=True):
            loss = loss_and_slope(*plan.chord_losses[number], gpm)[0]
            link = plan.shape.chords[number].link
            found[link.name] = _result(link, gpm, loss, holding=False)
    return found


def _result(link: Link, gpm: float, loss: float, *, holding: bool) -> LinkResult:
    kind = link.kind
    if isinstance(kind, Pipe):
        return LinkResult(link.name, gpm, loss, velocity_ft_s(abs(gpm), kind.bore_in), "open")
    outside = isinstance(kind, Device) and _is_outside(kind, gpm)
    state: LinkState = "holding" if holding and isinstance(kind, Regulator) else "open"
    return LinkResult(link.name, gpm, loss, None, state, outside)


def _is_outside(device: Device, gpm: float) -> bool:
    """Whether a flow is outside a device's table; a table of one point holds at any flow."""
    first, last = device.points[0][0], device.points[-1][0]
    return len(device.points) > 1 and not first <= gpm <= last
