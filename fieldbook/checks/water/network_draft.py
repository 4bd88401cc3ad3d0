"""The parts of a job's network as they are laid: pipe runs, valves, assemblies, heads.

Each method passes one part from a node on and returns the node behind it. A figure that is not
entered raises MissingError; impossible figures are left for the solver to refuse.
"""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.finding import CellRef
from fieldbook.checks.water.zone_flow import Bores, bore_of, nozzle_pressure_psi
from fieldbook.records.column_values import amount
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.wires import Valve as ValveRow
from fieldbook.records.tables.zones import Head as HeadRow
from fieldbook.records.tables.zones import Zone
from fieldbook.records.values import read_curve
from fieldbook.trade.backflow import BACKFLOW_LOSS_PSI
from fieldbook.trade.rules.design_limits import FITTINGS_PART, VALVE_LOSS
from fieldbook.units import UnitError
from fieldbook.water import Device, Head, Kind, Link, NetworkError, Node, Pipe, Valve


class MissingError(Exception):
    """A figure on the way is not entered yet: the text names it, `at` is its cell."""

    def __init__(self, words: str, at: CellRef) -> None:
        """Such as "the length of run 3 of zone 1"."""
        super().__init__(words)
        self.at = at


@dataclass(frozen=True)
class HeadRows:
    """The rows behind a head of a network."""

    head: HeadRow
    run: PipeRun
    zone: Zone


def entered(value: float | None, what: str, at: CellRef) -> float:
    """A figure that a network needs. Raises MissingError, naming it, while it is not entered."""
    if value is None:
        raise MissingError(what, at)
    return value


class Draft:
    """Nodes and links laid so far, and the rows behind the names of heads and runs."""

    def __init__(self, bores: Bores) -> None:
        """Nothing is laid yet; pipe will have these bores."""
        self.bores = bores
        self.nodes: dict[str, Node] = {}
        self.links: list[Link] = []
        self.heads: dict[str, HeadRows] = {}
        self.runs: dict[str, PipeRun] = {}

    def node(self, name: str, elevation_ft: float) -> str:
        """Add a node, once."""
        self.nodes.setdefault(name, Node(name, elevation_ft))
        return name

    def add(self, name: str, kind: Kind, start: str, elevation_ft: float | None = None) -> str:
        """Add a link to a node of its own, at the same elevation unless one is given."""
        height = self.nodes[start].elevation_ft if elevation_ft is None else elevation_ft
        end = self.node(f"after {name}", height)
        self.links.append(Link(name, start, end, kind))
        return end

    def table(self, name: str, curve: str, start: str) -> str:
        """Add a part whose loss curve was typed; a curve of one point holds at any flow."""
        try:
            device = Device(read_curve(curve))
        except UnitError as error:
            raise NetworkError(f"Link {name}: {error}") from error
        return self.add(name, device, start)

    def assembly(self, assembly: BackflowAssembly, name: str, start: str) -> str:
        """Add a backflow assembly: by its curve, else its loss, else what is usual for its kind."""
        if assembly.loss_curve:
            return self.table(name, assembly.loss_curve, start)
        loss_psi = amount(assembly, "loss_psi")
        if loss_psi is None:
            loss_psi = BACKFLOW_LOSS_PSI.get(assembly.kind or "", 0.0)
        return self.add(name, Device(((0.0, loss_psi),)), start) if loss_psi else start

    def valve(self, valve: ValveRow | None, name: str, start: str) -> str:
        """Add a valve: by its Cv, else by its loss at the zone's flow, else by the usual loss."""
        cv = amount(valve, "cv")
        if cv is not None:
            return self.add(name, Valve(cv), start)
        loss_psi = amount(valve, "loss_psi")
        usual = VALVE_LOSS.value if loss_psi is None else loss_psi
        return self.add(name, Device(((0.0, usual),)), start)

    def run(self, run: PipeRun, name: str, start: str) -> str:
        """Add a pipe run; a mainline run that zones share is added once."""
        if name in self.runs:
            return f"after {name}"
        self.runs[name] = run
        length_ft = entered(
            amount(run, "length_ft"),
            f"the length of {name}",
            CellRef("pipe_run", run.id, "length_ft"),
        )
        bore = bore_of(run.pipe_class, run.size, self.bores)
        if bore is None:
            at = CellRef("pipe_run", run.id, "size" if run.size is None else "pipe_class")
            raise MissingError(f"the size and class of {name}", at)
        feet, k = amount(run, "fittings_ft"), amount(run, "fittings_k")
        usual = FITTINGS_PART.value if feet is None and k is None else 0.0
        pipe = Pipe(
            length_ft,
            bore.bore_in,
            bore.pipe.c,
            bore.pipe.roughness_ft,
            feet or 0.0,
            k or 0.0,
            usual,
        )
        rise_ft = amount(run, "rise_ft") or 0.0
        return self.add(name, pipe, start, self.nodes[start].elevation_ft + rise_ft)

    def head(self, rows: HeadRows, elevation_ft: float, at: str) -> None:
        """Stand a head at the end of its run, on a riser where it stands higher or lower."""
        name = f"head {rows.run.number} of {zone_word(rows.zone)}"
        nozzle_gpm = entered(
            amount(rows.head, "nozzle_gpm"),
            f"the nozzle flow of {name}",
            CellRef("head", rows.head.id, "nozzle_gpm"),
        )
        rated_psi = entered(
            nozzle_pressure_psi(rows.head, rows.zone),
            f"the pressure the nozzle of {name} is rated at",
            CellRef("head", rows.head.id, "rated_psi"),
        )
        if abs(self.nodes[at].elevation_ft - elevation_ft) > 1e-9:
            # A pipe of no length loses nothing: only the riser's height counts.
            at = self.add(f"riser of {name}", Pipe(0.0, 1.0), at, elevation_ft)
        head = Head.rated(name, nozzle_gpm, rated_psi, amount(rows.head, "regulated_psi"))
        node = self.nodes[at]
        self.nodes[at] = node._replace(heads=(*node.heads, head))
        self.heads[name] = rows
