"""From the job record to a network that `fieldbook.water` can solve, and from its names to rows.

A zone's network is the street, the backflow assembly, the mainline to its valve, what stands at
the valve, and its lateral; zones that run together share what lies before their valves. With a
flow test the supply is the curve through the reading with the largest flow, which was taken behind
the meter and the service line and so includes them. There is a network only when every figure on
the way is entered.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.common.water_source import flow_test_cell, has_meter, supply_cell
from fieldbook.checks.finding import CellRef
from fieldbook.checks.water.heights import connection_ft, head_heights
from fieldbook.checks.water.network_draft import Draft, HeadRows, MissingError, entered
from fieldbook.checks.water.pipe_tree import lateral_of, mainline_to
from fieldbook.checks.water.zone_flow import bore_of, bores_of, street_of
from fieldbook.records.column_values import amount
from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.wires import Valve as ValveRow
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import FITTINGS_PART
from fieldbook.water import (
    Law,
    Link,
    Network,
    NetworkError,
    Pipe,
    Regulator,
    Supply,
    Valve,
    Way,
    way_of,
)

METER, SERVICE = "meter", "service line"
"""Names of the two links of the street."""
_REGULATOR = "regulator of "
_MASTER = "master valve"


@dataclass
class JobNetwork:
    """The network of zones that run together, and the rows behind its names.

    `runs` are the links that are pipe runs; the service line is a pipe without a row.
    """

    zones: tuple[Zone, ...]
    network: Network
    heads: Mapping[str, HeadRows]
    runs: Mapping[str, PipeRun]

    def order(self, zone: Zone) -> list[str]:
        """The names of a zone's heads, in the order of its runs."""
        return [name for name, rows in self.heads.items() if rows.zone is zone]

    def pipes(self) -> Mapping[str, PipeRun | None]:
        """The row of every pipe by its link's name; None is the service line."""
        pipes: dict[str, PipeRun | None] = dict(self.runs)
        if any(link.name == SERVICE for link in self.network.links):
            pipes[SERVICE] = None
        return pipes


def network_of(job: LoadedJob, zones: Sequence[Zone]) -> JobNetwork:
    """The network of zones that run together.

    Raises MissingError while a figure on the way is not entered, NetworkError when what is entered
    makes no network that can be solved.
    """
    draft = Draft(bores_of(job))
    supply, at = _street(job, draft)
    assembly = _shared_assembly(job, zones)
    if assembly is not None:
        at = draft.assembly(assembly, "backflow assembly", at)
    for zone in zones:
        _zone(job, zone, draft, at, shared=assembly is not None)
    law: Law = "hazen-williams"
    water_deg_f = 60.0
    if job.supply is not None and job.supply.friction_law == "darcy-weisbach":
        law = "darcy-weisbach"
        water_deg_f = float(job.supply.water_deg_f or 60)
    network = Network(
        supply, "street", tuple(draft.nodes.values()), tuple(draft.links), law, water_deg_f
    )
    return JobNetwork(tuple(zones), network, draft.heads, draft.runs)


def _street(job: LoadedJob, draft: Draft) -> tuple[Supply, str]:
    """The supply, and the node at the point of connection."""
    street, row = street_of(job), job.supply
    at = draft.node("street", connection_ft(job))
    static_psi = entered(street.static_psi, "the static pressure", supply_cell(job, "static_psi"))
    if street.test_residual_psi is not None and street.test_flow_gpm is not None:
        return Supply(static_psi, street.test_residual_psi, street.test_flow_gpm), at
    if not has_meter(job):
        # Only a test tells how the pressure of a well, pump or tank falls with the flow.
        raise MissingError("a flow test", flow_test_cell(job))
    if street.meter_safe_gpm is None or street.meter_loss_at_safe_psi is None or row is None:
        at_meter = supply_cell(job, "meter_size")
        raise MissingError("a flow test, or the meter and the service line,", at_meter)
    at = draft.add(METER, Valve.rated(street.meter_loss_at_safe_psi, street.meter_safe_gpm), at)
    length_ft = entered(
        amount(row, "service_length_ft"),
        "the length of the service line",
        supply_cell(job, "service_length_ft"),
    )
    bore = bore_of(row.service_class, row.service_size, draft.bores)
    if bore is None:
        column = "service_class" if row.service_class is None else "service_size"
        at_cell = supply_cell(job, column)
        raise MissingError("the class and size of the service line", at_cell)
    pipe = Pipe(
        length_ft,
        bore.bore_in,
        bore.pipe.c,
        bore.pipe.roughness_ft,
        fittings_part=FITTINGS_PART.value,
    )
    return Supply(static_psi), draft.add(SERVICE, pipe, at)


def _shared_assembly(job: LoadedJob, zones: Sequence[Zone]) -> BackflowAssembly | None:
    """The assembly that feeds all these zones; None where each has its own, or there is none."""
    found = [job.backflow_of(zone) for zone in zones]
    first = found[0]
    return first if first is not None and all(one is first for one in found) else None


def regulator_of(job_network: JobNetwork | None, zone: Zone) -> tuple[Link, float] | None:
    """The regulator at a zone's valve, with the pressure in psi that it is set to."""
    name = f"{_REGULATOR}{zone_word(zone)}"
    for link in job_network.network.links if job_network is not None else ():
        if link.name == name and isinstance(link.kind, Regulator):
            return link, link.kind.set_psi
    return None


def way_to(job: LoadedJob, zone: Zone) -> Way:
    """The losses from the connection to a zone's lateral, and the rise to its highest head.

    It serves a zone that can't be solved yet: mainline runs count as far as they are entered.
    """
    draft = Draft(bores_of(job))
    start = connection_ft(job)
    at = draft.node("street", start)
    for run in mainline_to(job, zone):
        try:
            at = draft.run(run, f"mainline run {run.number}", at)
        except MissingError:
            continue
    assembly, word = job.backflow_of(zone), zone_word(zone)
    try:
        if assembly is not None:
            at = draft.assembly(assembly, f"backflow of {word}", at)
        _at_the_valve(job.valve_of(zone.id), word, draft, at)
        laid = Network(Supply(0.0), "street", tuple(draft.nodes.values()), tuple(draft.links))
        rises = [one.elevation_ft - start for one in head_heights(job, zone)]
        return way_of(laid, [(link, 1.0) for link in draft.links], max(rises, default=0.0))
    except NetworkError:
        return Way()


def _zone(job: LoadedJob, zone: Zone, draft: Draft, at: str, *, shared: bool) -> None:
    """Lay a zone from the connection to its heads; `shared`: its assembly is laid already."""
    word = zone_word(zone)
    master = job.master_valve()
    if master is not None:
        if _MASTER not in {link.name for link in draft.links}:
            draft.valve(master, _MASTER, at)
        at = f"after {_MASTER}"
    for run in mainline_to(job, zone):
        at = draft.run(run, f"mainline run {run.number}", at)
    assembly = job.backflow_of(zone)
    if assembly is not None and not shared:
        at = draft.assembly(assembly, f"backflow of {word}", at)
    at = _at_the_valve(job.valve_of(zone.id), word, draft, at)
    _lateral(job, zone, draft, at)


def _at_the_valve(valve: ValveRow | None, word: str, draft: Draft, at: str) -> str:
    """The zone's valve, then its filter and regulator where it has them."""
    at = draft.valve(valve, f"valve of {word}", at)
    if valve is None:
        return at
    if valve.filter_curve:
        at = draft.table(f"filter of {word}", valve.filter_curve, at)
    set_psi = amount(valve, "regulator_psi")
    return at if set_psi is None else draft.add(f"{_REGULATOR}{word}", Regulator(set_psi), at)


def _lateral(job: LoadedJob, zone: Zone, draft: Draft, at: str) -> None:
    """The runs behind a zone's valve, and the heads at their ends."""
    word = zone_word(zone)
    lateral = lateral_of(job, zone)
    if not lateral.sound or not lateral.runs:
        raise MissingError(
            f"the lateral of {word}, run after run,", CellRef("pipe_run", zone.id, "add run")
        )
    ends: dict[str, str] = {}
    for path in lateral.paths():
        start = at
        for run in path:
            if run.id not in ends:
                ends[run.id] = draft.run(run, f"run {run.number} of {word}", start)
            start = ends[run.id]
    heights = {one.run.id: one.elevation_ft for one in head_heights(job, zone)}
    for run in lateral.runs:
        head = job.head_at(run.id)
        if head is not None:
            draft.head(HeadRows(head, run, zone), heights[run.id], ends[run.id])
    if not any(rows.zone is zone for rows in draft.heads.values()):
        last = lateral.runs[-1]
        raise MissingError(f"the heads of {word}", CellRef("head", head_id(last.id), "nozzle_gpm"))
