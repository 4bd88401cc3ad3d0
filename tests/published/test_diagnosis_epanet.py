"""Faults as EPANET 2.3 simulates them, and what the diagnosis makes of its pressures and flows.

The faulty network is built by `support/faults` and solved by EPANET, so neither the solver nor the
simulation of the code under test has a part in the truth.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from epanet_reference import epanet
from field_faults import Fault, broken, group_of
from laid_zones import laid

from fieldbook.diagnosis.fault_axes import Change, Kind, axes_of
from fieldbook.diagnosis.fault_bench import FIRST_HEAD, FLOW, FaultBench
from fieldbook.diagnosis.ranking import diagnose
from fieldbook.diagnosis.zone_parts import Measured, ZoneParts, ZoneReadings
from fieldbook.water import Device, Valve

# Faults that the gauges of all heads and a well-timed flow tell from any other.
TOLD_BY_GAUGES = (
    Fault("missing", "head 3", 1.6),
    Fault("blocked", "head 2", 1.0),
    Fault("kink", "run 4", 30.0),
    Fault("leak", "head 5", 1.0),
    Fault("valve_part_closed", "", 25.0),
    Fault("supply_fallen", "", 0.3),
)


def zone(seed: int = 0, heads: int = 6) -> ZoneParts:
    """A zone without a regulator, its assembly a plain valve: EPANET may cycle about a table."""
    zones = (laid(Random(f"epanet {seed} {no}"), heads) for no in range(50))
    found = next(one for one in zones if one.regulator is None)
    links = tuple(
        link._replace(kind=Valve.rated(4.0, 12.0)) if isinstance(link.kind, Device) else link
        for link in found.network.links
    )
    return replace(found, network=found.network._replace(links=links))


def readings_by_epanet(parts: ZoneParts, fault: Fault) -> ZoneReadings:
    """What gauges at every head and the meter would show by EPANET alone."""
    network = broken(parts, (fault,))
    found = epanet(network)
    assert found.settled
    psi = {head: found.psi[head] for head in parts.heads if head in found.psi}
    flow = sum(found.gpm.values())
    return ZoneReadings(
        static=Measured.within(network.supply.static_psi, 1.0),
        flow=Measured.within(flow, 0.02 * flow),
        heads={head: Measured.within(value, 1.0) for head, value in psi.items()},
        others="weak" if fault.kind == "supply_fallen" else "fine",
    )


@pytest.mark.parametrize("fault", TOLD_BY_GAUGES, ids=lambda fault: fault.kind)
def test_what_epanet_simulates_is_found(fault: Fault) -> None:
    parts = zone()
    readings = readings_by_epanet(parts, fault)
    if fault.kind == "blocked":
        # The gauges at the heads hardly move, and which nozzle it is only a look tells.
        readings = replace(readings, signs={fault.place: "dry"})
    found = diagnose(parts, readings)
    assert group_of(parts, fault) in found.ranked[0].axes


@pytest.mark.parametrize("seed", range(6))
def test_single_faults_on_the_bench_are_epanets(seed: int) -> None:
    parts = zone(seed, 5)
    bench = FaultBench(parts, None)
    pick = Random(seed)
    kinds: dict[Change, Kind] = {
        "less at a head": "blocked",
        "lateral loses": "kink",
        "shared part loses": "isolation",
    }
    for change, kind in kinds.items():
        axis = pick.choice([one for one in axes_of(parts) if one.change == change])
        severity = 0.55 if kind == "blocked" else 15.0
        found = bench.solve(bench.change(axis, severity))
        assert found is not None
        truth = epanet(broken(parts, (Fault(kind, axis.place, severity),)))
        assert truth.settled
        assert found[FLOW] == pytest.approx(sum(truth.gpm.values()), rel=2e-3)
        for number, head in enumerate(parts.heads):
            assert found[FIRST_HEAD + number] == pytest.approx(truth.psi[head], abs=0.05)
