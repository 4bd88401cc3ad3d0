"""What the solver takes: a supply, nodes with heads, and the links between them. All frozen.

Pressures in psi, flows in gpm, lengths and elevations in ft, bores in inches.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from fieldbook.water.friction import FLOW_EXPONENT

Law = Literal["hazen-williams", "darcy-weisbach"]
LAWS: tuple[Law, ...] = ("hazen-williams", "darcy-weisbach")


class NetworkError(ValueError):
    """A network that can't be solved as it is given; one sentence that names the link or head."""


class Supply(NamedTuple):
    """The pressure that feeds the network at its first node.

    P(q) = static - (static - residual) (q / test)^exponent; without a test the static pressure
    holds at any flow.
    """

    static_psi: float
    residual_psi: float | None = None
    test_gpm: float | None = None
    exponent: float = FLOW_EXPONENT


class Pipe(NamedTuple):
    """A pipe running full.

    Its fittings count as equivalent feet of the same pipe, as a sum of K (times velocity head), or
    as a part of the pipe's own loss (0.1 is 10 %); all that are given are added.
    """

    length_ft: float
    bore_in: float
    c: float = 150.0
    roughness_ft: float = 5e-6
    fittings_ft: float = 0.0
    fittings_k: float = 0.0
    fittings_part: float = 0.0


class Device(NamedTuple):
    """A thing whose loss is tabulated: (gpm, psi) points with rising flow, straight between them.

    Before the first point its loss counts as that of the first; beyond the last the last slope
    goes on, and the solution says that it left the table.
    """

    points: tuple[tuple[float, float], ...]


class Valve(NamedTuple):
    """A thing whose loss goes with the square of the flow: (q / cv)^2, cv in gpm at 1 psi."""

    cv: float

    @classmethod
    def rated(cls, loss_psi: float, at_gpm: float) -> Valve:
        """The valve (or displacement meter) that loses `loss_psi` at `at_gpm`."""
        if loss_psi <= 0 or at_gpm <= 0:
            raise NetworkError("A rated loss and its flow must be above zero.")
        return cls(float(at_gpm / loss_psi**0.5))


class Regulator(NamedTuple):
    """Holds the pressure behind it at `set_psi` while more than that comes in."""

    set_psi: float


Kind = Pipe | Device | Valve | Regulator


class Link(NamedTuple):
    """One thing that water passes, from node `start` to node `end`."""

    name: str
    start: str
    end: str
    kind: Kind


class Head(NamedTuple):
    """A nozzle to the open air: q = k p^0.5; `regulated_psi` is the most its body lets pass."""

    name: str
    k: float
    regulated_psi: float | None = None

    @classmethod
    def rated(
        cls, name: str, nozzle_gpm: float, rated_psi: float, regulated_psi: float | None = None
    ) -> Head:
        """The head whose nozzle gives `nozzle_gpm` at `rated_psi`."""
        if nozzle_gpm <= 0 or rated_psi <= 0:
            raise NetworkError(f"Head {name}: its flow and rated pressure must be above zero.")
        return cls(name, float(nozzle_gpm / rated_psi**0.5), regulated_psi)


class Node(NamedTuple):
    """A point where links meet, with the heads that stand there."""

    name: str
    elevation_ft: float = 0.0
    heads: tuple[Head, ...] = ()


@dataclass(frozen=True)
class Network:
    """All of it. Water enters at node `source`.

    `law` is how pipes lose pressure; `water_deg_f` sets the viscosity for Darcy-Weisbach.
    """

    supply: Supply
    source: str
    nodes: tuple[Node, ...]
    links: tuple[Link, ...]
    law: Law = "hazen-williams"
    water_deg_f: float = 60.0
    _node_at: dict[str, Node] = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Index the nodes by name."""
        self._node_at.update((node.name, node) for node in self.nodes)

    @property
    def node_at(self) -> Mapping[str, Node]:
        """The nodes by name."""
        return self._node_at
