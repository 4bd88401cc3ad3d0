"""From the job record to a network that `water` can solve, and from its names back to rows.

A zone's network is the street, the backflow assembly, the mainline to its valve, what stands at the
valve, and its lateral; zones that run together share the mainline. With a flow test the supply is
the curve of the reading with the largest flow and has the meter and service line in it. There is a
network only when every figure on the way is entered.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.water.heights import connection_ft, head_heights, heads_by_run
from fieldbook.checks.water.pipe_tree import lateral_of, mainline_to
from fieldbook.checks.water.zone_flow import bore_of, nozzle_pressure_psi, street_of
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.wires import Valve as ValveRow
from fieldbook.records.tables.zones import Head as HeadRow
from fieldbook.records.tables.zones import Zone
from fieldbook.records.values import read_curve
from fieldbook.trade.backflow import BACKFLOW_LOSS_PSI
from fieldbook.trade.rules.design_limits import FITTINGS_PART, VALVE_LOSS
from fieldbook.units import UnitError
from fieldbook.water import (
    Device,
    Head,
    Kind,
    Law,
    Link,
    Network,
    NetworkError,
    Node,
    Pipe,
    Regulator,
    Supply,
    Valve,
)

METER, SERVICE = "meter", "service line"


@dataclass(frozen=True)
class HeadOf:
    """The rows behind a head of a network."""

    head: HeadRow
    run: PipeRun
    zone: Zone


@dataclass
class JobNetwork:
    """A network of a job's zones, and the rows behind its names.

    `runs` are the pipe links that are runs; the service line is a pipe without a row.
    """

    zones: tuple[Zone, ...]
    network: Network
    heads: dict[str, HeadOf]
    runs: dict[str, PipeRun]

    def order(self, zone: Zone) -> list[str]:
        """A zone's heads by name, in the order of its runs."""
        return [name for name, one in self.heads.items() if one.zone is zone]


class MissingError(Exception):
    """A figure on the way is not entered yet; its words say which."""


@dataclass
class _Draft:
    """Nodes and links so far."""

    nodes: dict[str, Node] = field(default_factory=dict)
    links: list[Link] = field(default_factory=list)
    heads: dict[str, HeadOf] = field(default_factory=dict)
    runs: dict[str, PipeRun] = field(default_factory=dict)

    def node(self, name: str, elevation_ft: float) -> str:
        """Add a node, once."""
        self.nodes.setdefault(name, Node(name, elevation_ft))
        return name

    def go(self, start: str, name: str, kind: Kind, elevation_ft: float | None = None) -> str:
        """Add a link to a node of its own, at the same elevation unless one is given."""
        height = self.nodes[start].elevation_ft if elevation_ft is None else elevation_ft
        end = self.node(f"after {name}", height)
        self.links.append(Link(name, start, end, kind))
        return end


def running_together(job: LoadedJob) -> list[tuple[Zone, ...]]:
    """The zones in groups that run at the same time; most groups are one zone."""
    leader = {zone.id: zone.id for zone in job.zones}

    def find(one: str) -> str:
        while leader[one] != one:
            one = leader[one]
        return one

    for zone in job.zones:
        if zone.runs_with in leader:
            leader[find(zone.id)] = find(str(zone.runs_with))
    groups: dict[str, list[Zone]] = {}
    for zone in job.zones:
        groups.setdefault(find(zone.id), []).append(zone)
    return [tuple(group) for group in groups.values()]


def network_of(job: LoadedJob, zones: Sequence[Zone]) -> JobNetwork:
    """The network of zones that run together.

    Raises MissingError while a figure on the way is not entered, NetworkError when what is entered
    can't be a network.
    """
    draft = _Draft()
    supply, at = _street(job, draft)
    at = _shared_assembly(job, zones, draft, at)
    for zone in zones:
        _zone(job, zone, draft, at, shared=_assembly(job, zones) is not None)
    law: Law = "hazen-williams"
    water_deg_f = 60.0
    if job.supply is not None and job.supply.friction_law == "darcy-weisbach":
        law = "darcy-weisbach"
        water_deg_f = float(job.supply.water_deg_f or 60)
    network = Network(
        supply, "street", tuple(draft.nodes.values()), tuple(draft.links), law, water_deg_f
    )
    return JobNetwork(tuple(zones), network, draft.heads, draft.runs)


def _known(value: float | None, what: str) -> float:
    if value is None:
        raise MissingError(what)
    return value


def _street(job: LoadedJob, draft: _Draft) -> tuple[Supply, str]:
    """The supply, and the node at the point of connection."""
    street, row = street_of(job), job.supply
    at = draft.node("street", connection_ft(job))
    static_psi = _known(street.static_psi, "the static pressure")
    if street.test_residual_psi is not None and street.test_flow_gpm is not None:
        return Supply(static_psi, street.test_residual_psi, street.test_flow_gpm), at
    if street.meter_safe_gpm is None or street.meter_loss_at_safe_psi is None or row is None:
        raise MissingError("a flow test, or the meter and the service line,")
    meter = Valve.rated(street.meter_loss_at_safe_psi, street.meter_safe_gpm)
    at = draft.go(at, METER, meter)
    length_ft = _known(amount(row, "service_length_ft"), "the length of the service line")
    bore = bore_of(row.service_class, row.service_size)
    if bore is None:
        raise MissingError("the class and size of the service line")
    pipe = Pipe(
        length_ft,
        bore.bore_in,
        bore.pipe.c,
        bore.pipe.roughness_ft,
        fittings_part=FITTINGS_PART.value,
    )
    return Supply(static_psi), draft.go(at, SERVICE, pipe)


def _assembly(job: LoadedJob, zones: Sequence[Zone]) -> BackflowAssembly | None:
    """The one assembly that feeds all these zones, if one does."""
    found = [job.backflow_of(zone) for zone in zones]
    first = found[0]
    return first if first is not None and all(one is first for one in found) else None


def _shared_assembly(job: LoadedJob, zones: Sequence[Zone], draft: _Draft, at: str) -> str:
    assembly = _assembly(job, zones)
    return at if assembly is None else _through(assembly, "backflow assembly", draft, at)


def _through(assembly: BackflowAssembly, name: str, draft: _Draft, at: str) -> str:
    """Pass a backflow assembly: by its curve, its loss, or what is usual for its kind."""
    if assembly.loss_curve:
        return draft.go(at, name, _table(name, assembly.loss_curve))
    loss_psi = amount(assembly, "loss_psi")
    if loss_psi is None:
        loss_psi = BACKFLOW_LOSS_PSI.get(assembly.kind or "", 0.0)
    return draft.go(at, name, Device(((0.0, loss_psi),))) if loss_psi else at


def _table(name: str, kept: str) -> Device:
    """A typed curve; one point holds at any flow."""
    try:
        return Device(read_curve(kept))
    except UnitError as why:
        raise NetworkError(f"Link {name}: {why}") from why


def _zone(job: LoadedJob, zone: Zone, draft: _Draft, at: str, *, shared: bool) -> None:
    word = zone_word(zone)
    master = job.master_valve()
    if master is not None and "master valve" not in {link.name for link in draft.links}:
        _valve(master, "master valve", draft, at)
    at = "after master valve" if master is not None else at
    for run in mainline_to(job, zone):
        at = _run(run, f"mainline run {run.number}", draft, at)
    assembly = job.backflow_of(zone)
    if assembly is not None and not shared:
        at = _through(assembly, f"backflow of {word}", draft, at)
    at = _at_the_valve(job.valve_of(zone.id), word, draft, at)
    _lateral(job, zone, word, draft, at)


def _at_the_valve(valve: ValveRow | None, word: str, draft: _Draft, at: str) -> str:
    at = _valve(valve, f"valve of {word}", draft, at)
    if valve is None:
        return at
    if valve.filter_curve:
        name = f"filter of {word}"
        at = draft.go(at, name, _table(name, valve.filter_curve))
    set_psi = amount(valve, "regulator_psi")
    return at if set_psi is None else draft.go(at, f"regulator of {word}", Regulator(set_psi))


def _valve(valve: ValveRow | None, name: str, draft: _Draft, at: str) -> str:
    """A valve by its Cv, else by its loss at the zone's flow."""
    cv = amount(valve, "cv")
    if cv is not None:
        return draft.go(at, name, Valve(cv))
    loss_psi = amount(valve, "loss_psi")
    return draft.go(at, name, Device(((0.0, VALVE_LOSS.value if loss_psi is None else loss_psi),)))


def _run(run: PipeRun, name: str, draft: _Draft, at: str) -> str:
    """Pass a run; a mainline run that zones share is there once."""
    if name in draft.runs:
        return f"after {name}"
    draft.runs[name] = run
    length_ft = _known(amount(run, "length_ft"), f"the length of {name}")
    bore = bore_of(run.pipe_class, run.size)
    if bore is None:
        raise MissingError(f"the size and class of {name}")
    feet, k = amount(run, "fittings_ft"), amount(run, "fittings_k")
    usual = FITTINGS_PART.value if feet is None and k is None else 0.0
    pipe = Pipe(
        length_ft, bore.bore_in, bore.pipe.c, bore.pipe.roughness_ft, feet or 0.0, k or 0.0, usual
    )
    rise_ft = amount(run, "rise_ft") or 0.0
    return draft.go(at, name, pipe, draft.nodes[at].elevation_ft + rise_ft)


def _lateral(job: LoadedJob, zone: Zone, word: str, draft: _Draft, at: str) -> None:
    tree = lateral_of(job, zone)
    if not tree.sound or not tree.runs:
        raise MissingError(f"the lateral of {word}, run after run,")
    ends: dict[str, str] = {}
    for path in tree.paths():
        for before, run in _steps(path):
            if run.id not in ends:
                start = ends[before.id] if before is not None else at
                ends[run.id] = _run(run, f"run {run.number} of {word}", draft, start)
    heads = heads_by_run(job)
    heights = {one.run.id: one.elevation_ft for one in head_heights(job, zone)}
    for run in tree.runs:
        if run.id in heads:
            _head(HeadOf(heads[run.id], run, zone), heights[run.id], draft, ends[run.id])
    if not any(one.zone is zone for one in draft.heads.values()):
        raise MissingError(f"the heads of {word}")


def _steps(path: Sequence[PipeRun]) -> Iterator[tuple[PipeRun | None, PipeRun]]:
    """Each run of a path with the one before it."""
    before: PipeRun | None = None
    for run in path:
        yield before, run
        before = run


def _head(rows: HeadOf, elevation_ft: float, draft: _Draft, at: str) -> None:
    """Stand a head at the end of its run, on a riser of its own where it stands higher or lower."""
    name = f"head {rows.run.number} of {zone_word(rows.zone)}"
    nozzle_gpm = _known(amount(rows.head, "nozzle_gpm"), f"the nozzle flow of {name}")
    rated_psi = _known(
        nozzle_pressure_psi(rows.head, rows.zone), f"the pressure the nozzle of {name} is rated at"
    )
    if abs(draft.nodes[at].elevation_ft - elevation_ft) > 1e-9:
        at = draft.go(at, f"riser of {name}", Pipe(0.0, 1.0), elevation_ft)
    head = Head.rated(name, nozzle_gpm, rated_psi, amount(rows.head, "regulated_psi"))
    node = draft.nodes[at]
    draft.nodes[at] = node._replace(heads=(*node.heads, head))
    draft.heads[name] = rows


def pipes_of(found: JobNetwork) -> Mapping[str, PipeRun | None]:
    """Every pipe that was laid, by its link's name; None is the service line."""
    pipes: dict[str, PipeRun | None] = dict(found.runs)
    if any(link.name == SERVICE for link in found.network.links):
        pipes[SERVICE] = None
    return pipes
