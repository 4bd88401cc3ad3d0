"""A zone worked out as it was when it was measured: by itself, at the static that was read then.

Each figure comes with how far it may be off: the gauge at static, the flow test, the friction law,
the bore, the nozzles, and the losses that nobody entered. The doubts are independent and add as
squares.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from fieldbook.audit import Figure
from fieldbook.checks.water.networks import JobNetwork, network_of
from fieldbook.checks.water.zone_certainty import other_networks
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import (
    GAUGE_ERROR,
    NOZZLE_ERROR,
    TESTED_FLOW_ERROR,
    USUAL_LOSS_ERROR,
)
from fieldbook.water import Head, Network, NetworkError, Solution, Supply, WhatIf, solve
from fieldbook.water.advice import shifted

_LEAST_DROP_PSI = 0.01


@dataclass(frozen=True)
class WorkedOut:
    """What a zone should do: its flow in gpm, and the pressure in psi at each head by its run."""

    flow: Figure
    heads: Mapping[str, Figure]


def worked_out(job: LoadedJob, zone: Zone, static_psi: float, gauge_psi: float) -> WorkedOut:
    """What a zone should do at a static pressure that was read within `gauge_psi`.

    The supply keeps the drop of the flow test. Raises MissingError while a figure on the way is not
    entered, NetworkError where what is entered can't be solved.
    """
    found = network_of(job, (zone,))
    others = tuple(other for _, other in other_networks(job, found))
    usual_psi = USUAL_LOSS_ERROR.value * _usual_losses(job, zone) ** 0.5
    flow, heads = _figures(found.network, others, (static_psi, gauge_psi, usual_psi))
    return WorkedOut(flow, {_run_id(found, name): figure for name, figure in heads.items()})


def _run_id(found: JobNetwork, head: str) -> str:
    return found.heads[head].run.id


def _usual_losses(job: LoadedJob, zone: Zone) -> int:
    """How many losses on the way are placeholders, since nobody entered them."""
    valve, assembly = job.valve_of(zone.id), job.backflow_of(zone)
    count = int(amount(valve, "cv") is None and amount(valve, "loss_psi") is None)
    if assembly is not None and not assembly.loss_curve:
        count += int(amount(assembly, "loss_psi") is None)
    return count


_Offs = tuple[float, float, float]
"""The static read, how far it may be off, and how far losses not entered may be, all in psi."""


# The check runs at every entry, and most entries change no zone's network.
@lru_cache(maxsize=128)
def _figures(
    network: Network, others: tuple[Network, ...], offs: _Offs
) -> tuple[Figure, dict[str, Figure]]:
    """The flow, and the pressure at each head by its name, with their bands."""
    by_psi = offs[0] - network.supply.static_psi
    then = shifted(network.supply, by_psi)
    what_if = WhatIf(network._replace(supply=then))
    now = what_if.now
    if not now.converged:
        raise NetworkError("No flows and pressures were found that agree.")
    doubts = [
        [what_if.solve(supply=low), what_if.solve(supply=high)]
        for low, high in _supplies(network.supply, by_psi, *offs[1:])
    ]
    doubts += [[solve(other._replace(supply=then))] for other in others]
    off = NOZZLE_ERROR.value
    doubts.append([what_if.solve(heads=_nozzles(network, 1.0 + by)) for by in (-off, off)])
    heads = {name: _banded(now, doubts, _psi_of(name)) for name in now.heads}
    return _banded(now, doubts, lambda solution: solution.supply_gpm), heads


def _nozzles(network: Network, part: float) -> dict[str, Head | None]:
    """Every head with so many times its flow."""
    heads = (head for node in network.nodes for head in node.heads)
    return {head.name: head._replace(k=head.k * part) for head in heads}


def _psi_of(name: str) -> Callable[[Solution], float]:
    return lambda solution: solution.heads[name].psi


def _banded(
    now: Solution, doubts: list[list[Solution]], value_of: Callable[[Solution], float]
) -> Figure:
    """A value with the squares of what each doubt takes off it and adds to it."""
    value = value_of(now)
    found = [[value_of(one) - value for one in doubt] for doubt in doubts]
    down = sum(min(0.0, *offs) ** 2 for offs in found)
    up = sum(max(0.0, *offs) ** 2 for offs in found)
    return Figure(value, float(down**0.5), float(up**0.5))


def _supplies(
    tested: Supply, by_psi: float, gauge_psi: float, usual_psi: float
) -> Iterator[tuple[Supply, Supply]]:
    """The supply as tested, `by_psi` higher, with each doubt down and up."""
    yield shifted(tested, by_psi - gauge_psi), shifted(tested, by_psi + gauge_psi)
    if usual_psi:
        # A loss that is off by so much on the way does the same as a street that is.
        yield shifted(tested, by_psi - usual_psi), shifted(tested, by_psi + usual_psi)
    if tested.residual_psi is None or tested.test_gpm is None:
        return
    # The flow test itself may be off; its whole curve is shifted afterwards.
    most, off = tested.static_psi - _LEAST_DROP_PSI, TESTED_FLOW_ERROR.value
    low_psi = max(tested.residual_psi - GAUGE_ERROR.value, 0.0)
    high_psi = min(tested.residual_psi + GAUGE_ERROR.value, most)
    yield (
        shifted(tested._replace(residual_psi=low_psi), by_psi),
        shifted(tested._replace(residual_psi=high_psi), by_psi),
    )
    yield (
        shifted(tested._replace(test_gpm=tested.test_gpm * (1.0 - off)), by_psi),
        shifted(tested._replace(test_gpm=tested.test_gpm * (1.0 + off)), by_psi),
    )
