"""What the solver takes: a supply, nodes with sprinkler heads, and the links between them.

Everything is frozen. Pressures are in psi, flows in gpm, lengths and elevations in ft, bores in
inches. Nothing is checked here but rated figures; `solve` refuses what can't be solved.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Literal, NamedTuple

from fieldbook.water.friction import FLOW_EXPONENT

Law = Literal["hazen-williams", "darcy-weisbach"]
LAWS: tuple[Law, ...] = ("hazen-williams", "darcy-weisbach")


class NetworkError(ValueError):
    """A network that can't be solved as given: one sentence that names the link, node or head."""


class Supply(NamedTuple):
    """The pressure at the source, by flow.

    With a flow test: P(q) = static - (static - residual) (q / test)^exponent (NFPA 291, chapter
    4). Without one the static pressure holds at any flow, as that of a tank does. A `pump` adds
    to it what its curve says: (gpm, psi) points from no flow on, straight between them; beyond
    the last the last slope goes on, and the solution says that it is outside the curve.
    """

    static_psi: float
    residual_psi: float | None = None
    test_gpm: float | None = None
    exponent: float = FLOW_EXPONENT
    pump: tuple[tuple[float, float], ...] = ()


class Pipe(NamedTuple):
    """A pipe running full.

    Its fittings count as equivalent feet of the same pipe (`fittings_ft`), as a sum of K, the
    factor on velocity head (`fittings_k`), and as a part of the pipe's own loss (`fittings_part`,
    0.1 is 10 %). All that are given are added. `c` is for Hazen-Williams, `roughness_ft` for
    Darcy-Weisbach.
    """

    length_ft: float
    bore_in: float
    c: float = 150.0
    roughness_ft: float = 5e-6
    fittings_ft: float = 0.0
    fittings_k: float = 0.0
    fittings_part: float = 0.0


class Device(NamedTuple):
    """A part whose loss is tabulated: (gpm, psi) points with rising flow, straight between them.

    Below the first point the loss is that of the first. Beyond the last point the last slope goes
    on, and the solution marks the link as outside its table.
    """

    points: tuple[tuple[float, float], ...]


class Valve(NamedTuple):
    """A part whose loss in psi is (q / cv)^2; `cv` is the flow in gpm that loses 1 psi."""

    cv: float

    @classmethod
    def rated(cls, loss_psi: float, at_gpm: float) -> Valve:
        """The valve, or displacement meter, that loses `loss_psi` at `at_gpm`.

        Raises NetworkError unless both are above zero.
        """
        if loss_psi <= 0 or at_gpm <= 0:
            raise NetworkError("A rated loss and its flow must be above zero.")
        return cls(float(at_gpm / loss_psi**0.5))


class Regulator(NamedTuple):
    """Holds the pressure behind it at `set_psi` while more than that comes in."""

    set_psi: float


Kind = Pipe | Device | Valve | Regulator


class Link(NamedTuple):
    """One part that water passes through, from node `start` to node `end`."""

    name: str
    start: str
    end: str
    kind: Kind


class Head(NamedTuple):
    """A sprinkler head or emitter: q = k p^exponent, with p no more than `regulated_psi` if given.

    An orifice has the exponent 0.5. A pressure compensating emitter has 0: it gives k gpm from
    `least_psi` on, and below it as much as an orifice that gives k gpm at `least_psi`. The law
    holds from `least_psi` to `most_psi`; the solution marks a head outside that range.
    """

    name: str
    k: float
    regulated_psi: float | None = None
    exponent: float = 0.5
    least_psi: float | None = None
    most_psi: float | None = None

    @classmethod
    def rated(
        cls,
        name: str,
        nozzle_gpm: float,
        rated_psi: float,
        regulated_psi: float | None = None,
        exponent: float = 0.5,
    ) -> Head:
        """The head whose nozzle gives `nozzle_gpm` at `rated_psi`.

        Raises NetworkError unless both are above zero, and the exponent is from 0 to 1.
        """
        if nozzle_gpm <= 0 or rated_psi <= 0:
            raise NetworkError(f"Head {name}: its flow and rated pressure must be above zero.")
        if not 0.0 <= exponent <= 1.0:
            raise NetworkError(f"Head {name}: its exponent must be from 0 to 1.")
        return cls(name, float(nozzle_gpm / rated_psi**exponent), regulated_psi, exponent)


class Node(NamedTuple):
    """A point where links meet, with the heads that stand there."""

    name: str
    elevation_ft: float = 0.0
    heads: tuple[Head, ...] = ()


class _Fields(NamedTuple):
    supply: Supply
    source: str
    nodes: tuple[Node, ...]
    links: tuple[Link, ...]
    law: Law = "hazen-williams"
    water_deg_f: float = 60.0


class Network(_Fields):
    """The whole network. Water enters at the node named `source`.

    `law` is how pipes lose pressure; `water_deg_f` sets the viscosity for Darcy-Weisbach.
    `network._replace(...)` makes another network with some fields changed.
    """

    # Kept beside the fields, so that `_replace` makes an index of its own for the new nodes.
    @cached_property
    def node_at(self) -> Mapping[str, Node]:
        """The nodes by name, read-only."""
        return MappingProxyType({node.name: node for node in self.nodes})
