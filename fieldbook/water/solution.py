"""What the solver answers: heads, links and nodes by name, and how well they are solved."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, partial
from typing import Literal, NamedTuple

from fieldbook.water.friction import velocity_ft_s
from fieldbook.water.head_laws import is_outside
from fieldbook.water.losses import loss_and_slope
from fieldbook.water.network import Device, Link, Pipe, Regulator
from fieldbook.water.network_plan import Plan, SolvedPiece

HeadState = Literal["normal", "regulated", "dry"]
LinkState = Literal["open", "holding", "shut"]


class HeadResult(NamedTuple):
    """A head: the gauge pressure in psi at its inlet, its flow in gpm, its state.

    dry: no water runs, the pressure there is not above zero. regulated: its body holds back what
    is over its regulated pressure. `outside`: the pressure is outside the range of its law.
    """

    name: str
    node: str
    psi: float
    gpm: float
    state: HeadState
    outside: bool = False


class LinkResult(NamedTuple):
    """A link: its flow from start to end in gpm, its loss in psi without the height it climbs.

    `ft_s` is the velocity, None for a link that is not a pipe. A holding regulator's loss is what
    it holds back, and so is that of a device that is shut because water would run back through
    it. `outside`: the flow is outside the link's table.
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
    the gauge pressure left at the source node. outside_pump_curve: whether the supply's pump
    gives more than the last point of its curve. shut: devices that water would run back through.
    """

    def __init__(
        self, plan: Plan, holding: set[int], pieces: Sequence[SolvedPiece], *, agreed: bool
    ) -> None:
        """Put the pieces together; `agreed`: every regulator's state fits what comes in."""
        self._plan, self._holding, self._pieces = plan, holding, pieces
        outcomes = [solved.outcome for solved in pieces]
        self.converged = agreed and all(outcome.converged for outcome in outcomes)
        self.residual_psi = max(outcome.residual_psi for outcome in outcomes)
        self.steps = sum(outcome.steps for outcome in outcomes)
        if len(pieces) == 1:
            state = outcomes[0].state
            self._grade, self._flow, self.head_gpm = state.grade, state.flow, outcomes[0].q
        else:
            self._grade, self._flow, self.head_gpm = _put_together(plan, pieces)
        self.supply_gpm = self._flow[0]
        self.source_psi = self._grade[0] - plan.height[0]
        self.outside_pump_curve = self.supply_gpm > plan.most_gpm
        self.shut: tuple[Link, ...] = ()

    @cached_property
    def heads(self) -> Mapping[str, HeadResult]:
        """Every head by its name, in the order of the network."""
        plan, grade = self._plan, self._grade
        nodes, height = plan.shape.nodes, plan.height
        # Each result is made as the tuple that it is: the class's own call takes twice as long.
        made: Callable[[tuple[object, ...]], HeadResult] = partial(tuple.__new__, HeadResult)
        found = {
            head.name: made(
                (
                    head.name,
                    nodes[branch].name,
                    grade[branch] - height[branch],
                    gpm,
                    # Newton's method leaves a head on a bound at exactly that bound.
                    "dry" if gpm <= 0.0 else "regulated" if gpm >= most else "normal",
                    False,
                )
            )
            for head, branch, gpm, most in zip(
                plan.heads, plan.head_branch, self.head_gpm, plan.figures.most, strict=True
            )
        }
        for number in plan.figures.ranged:
            head = plan.heads[number]
            result = found[head.name]
            found[head.name] = result._replace(outside=is_outside(head, result.psi))
        return found

    @cached_property
    def links(self) -> Mapping[str, LinkResult]:
        """Every link by its name."""
        plan, grade = self._plan, self._grade
        found = {}
        for number, (link, up) in enumerate(
            zip(plan.shape.links, plan.shape.parent[1:], strict=True), start=1
        ):
            gpm, loss = self._flow[number], grade[up] - grade[number]
            if number in plan.shape.against:
                # Added to 0, so that no flow at all is not shown as -0.
                gpm, loss = 0.0 - gpm, 0.0 - loss
            found[link.name] = _result(link, gpm, loss, holding=number in self._holding)
        for solved in self._pieces:
            for number, gpm in zip(solved.chords, solved.outcome.x, strict=True):
                link = plan.shape.chords[number].link
                loss = loss_and_slope(*plan.chord_losses[number], gpm)[0]
                found[link.name] = _result(link, gpm, loss, holding=False)
        for link in self.shut:
            found[link.name] = LinkResult(link.name, 0.0, self.held_psi(link), None, "shut")
        return found

    def held_psi(self, link: Link) -> float:
        """How much more pressure stands before a link than behind it, without the climb."""
        at = self._plan.shape.at
        return self._grade[at[link.start]] - self._grade[at[link.end]]

    @cached_property
    def node_psi(self) -> Mapping[str, float]:
        """The gauge pressure in psi at every node, by its name."""
        plan = self._plan
        return {
            node.name: grade - height
            for node, grade, height in zip(plan.shape.nodes, self._grade, plan.height, strict=False)
        }


def _put_together(
    plan: Plan, pieces: Sequence[SolvedPiece]
) -> tuple[list[float], list[float], list[float]]:
    """The grade and flow of every branch, and the flow of every head, of all pieces."""
    grade, flow = [0.0] * len(plan.height), [0.0] * len(plan.height)
    head_gpm = [0.0] * len(plan.heads)
    for branches, heads, _, outcome in pieces:
        # A state has one entry more than the piece has branches, for its root.
        for branch, psi, gpm in zip(
            branches, outcome.state.grade, outcome.state.flow, strict=False
        ):
            grade[branch], flow[branch] = psi, gpm
        for head, gpm in zip(heads, outcome.q, strict=True):
            head_gpm[head] = gpm
    return grade, flow, head_gpm


def _result(link: Link, gpm: float, loss: float, *, holding: bool) -> LinkResult:
    kind = link.kind
    if isinstance(kind, Pipe):
        return LinkResult(link.name, gpm, loss, velocity_ft_s(abs(gpm), kind.bore_in), "open")
    outside = isinstance(kind, Device) and _is_beyond(kind, gpm)
    state: LinkState = "holding" if holding and isinstance(kind, Regulator) else "open"
    return LinkResult(link.name, gpm, loss, None, state, outside)


def _is_beyond(device: Device, gpm: float) -> bool:
    """Whether a flow is outside a device's table; a table of one point holds at any flow."""
    first, last = device.points[0][0], device.points[-1][0]
    return len(device.points) > 1 and not first <= gpm <= last
