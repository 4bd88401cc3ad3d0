"""What the solver answers: heads, links, nodes, and how well it is solved."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from fieldbook.water.friction import velocity_ft_s
from fieldbook.water.network import Device, Link, Pipe, Regulator
from fieldbook.water.newton import drop

if TYPE_CHECKING:
    from fieldbook.water.solve import Plan, Solved

HeadState = Literal["normal", "regulated", "dry"]
LinkState = Literal["open", "holding"]


class HeadResult(NamedTuple):
    """A head: the pressure in psi at its inlet, its flow in gpm, its state.

    dry: nothing runs, the pressure there is not above zero. regulated: its body holds back.
    """

    name: str
    node: str
    psi: float
    gpm: float
    state: HeadState


class LinkResult(NamedTuple):
    """A link: its flow from start to end in gpm, what it takes in psi (height not counted).

    `ft_s` is None for what is no pipe. A regulator's loss is what it holds back. `outside`: its
    flow is beyond its table.
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
    pressure. steps: of Newton's method. supply_gpm: what the street gives. source_psi: the pressure
    left at the first node.
    """

    def __init__(self, plan: Plan, solved: list[Solved], steps: int, *, agreed: bool) -> None:
        """Put the pieces together; `agreed`: every regulator's state fits what comes in."""
        self._plan, self._solved = plan, solved
        self._behind = [0.0] * len(plan.parent)
        self._flow = [0.0] * len(plan.parent)
        for one in solved:
            state = one.outcome.state
            for no, behind, flow in zip(one.branches, state.behind, state.flow, strict=False):
                self._behind[no], self._flow[no] = behind, flow
        self.converged = agreed and all(one.outcome.converged for one in solved)
        self.residual_psi = max(one.outcome.residual_psi for one in solved)
        self.steps = steps
        self.supply_gpm = self._flow[0]
        self.source_psi = self._behind[0] - plan.height[0]

    @cached_property
    def heads(self) -> Mapping[str, HeadResult]:
        """Every head by its name, in the order of the network."""
        return _heads(self._plan, self._solved, self._behind)

    @cached_property
    def links(self) -> Mapping[str, LinkResult]:
        """Every link by its name."""
        branches = _branches(self._plan, self._behind, self._flow)
        return {**branches, **_chords(self._plan, self._solved)}

    @cached_property
    def node_psi(self) -> Mapping[str, float]:
        """The gauge pressure in psi at every node."""
        names = [self._plan.network.source, *(one.node for one in self._plan.shape.branches)]
        return {
            name: behind - height
            for name, behind, height in zip(names, self._behind, self._plan.height, strict=True)
        }

    @property
    def worst(self) -> HeadResult:
        """The head with the least pressure."""
        return min(self.heads.values(), key=lambda head: head.psi)


def _heads(plan: Plan, solved: list[Solved], behind: list[float]) -> dict[str, HeadResult]:
    found: dict[str, HeadResult] = {}
    names = [plan.network.source, *(one.node for one in plan.shape.branches)]
    for one in solved:
        for (no, place), gpm, most in zip(one.heads, one.piece.q, one.piece.most, strict=True):
            head = plan.heads[no][place]
            psi = behind[no] - plan.height[no]
            state: HeadState = "dry" if gpm <= 0.0 else "regulated" if gpm >= most else "normal"
            found[head.name] = HeadResult(head.name, names[no], psi, gpm, state)
    return {head.name: found[head.name] for node in plan.network.nodes for head in node.heads}


def _branches(plan: Plan, behind: list[float], flow: list[float]) -> dict[str, LinkResult]:
    found = {}
    for no, branch in enumerate(plan.shape.branches, start=1):
        gpm = -flow[no] if branch.against else flow[no]
        loss = behind[plan.parent[no]] - behind[no]
        found[branch.link.name] = _link(
            branch.link, gpm, -loss if branch.against else loss, holding=no in plan.cut
        )
    return found


def _chords(plan: Plan, solved: list[Solved]) -> dict[str, LinkResult]:
    found = {}
    for one in solved:
        for no, gpm in zip(one.chords, one.piece.x, strict=True):
            loss = drop(*plan.chord_losses[no], gpm)[0]
            link = plan.shape.chords[no].link
            found[link.name] = _link(link, gpm, loss, holding=False)
    return found


def _link(link: Link, gpm: float, loss: float, *, holding: bool) -> LinkResult:
    kind = link.kind
    if isinstance(kind, Pipe):
        return LinkResult(link.name, gpm, loss, velocity_ft_s(abs(gpm), kind.bore_in), "open")
    outside = isinstance(kind, Device) and _left(kind, gpm)
    state: LinkState = "holding" if holding and isinstance(kind, Regulator) else "open"
    return LinkResult(link.name, gpm, loss, None, state, outside)


def _left(device: Device, gpm: float) -> bool:
    """Whether a flow is outside a device's table; a table of one point holds at any flow."""
    first, last = device.points[0][0], device.points[-1][0]
    return len(device.points) > 1 and not first <= gpm <= last
