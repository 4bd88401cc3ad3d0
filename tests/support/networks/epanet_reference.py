"""The same network in EPANET, the outside reference for the solver (a test dependency only).

EPANET has its own constants (4.727 and 4.871 in Hazen-Williams, 0.4333 psi/ft), so every
resistance is handed over as the number it is: lengths, K and settings are chosen to give it.

EPANET has one emitter exponent for the whole network. Where some heads have another than 0.5, the
orifices beside them are pipes with a K into a reservoir at their height; none may run dry there.
"""

from __future__ import annotations

import os
import warnings
from dataclasses import dataclass

from epanet import toolkit as en

from fieldbook.units import PSI_PER_FT
from fieldbook.water import Device, Head, Network, Node, Pipe, Regulator, Supply, Valve
from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.losses import Loss, loss_of, supply_loss

_GPM_PER_CFS = 448.831
_PSI_PER_FT = 0.4333
_BORE_FT = 1.0 / 12.0
_C = 150.0
_LEAST_FT = 1e-6
_TRIALS = 400


@dataclass(frozen=True)
class Reference:
    """The pressure in psi and the flow in gpm of every head.

    `settled`: EPANET reached its accuracy; it may cycle where regulators or tables are on an edge.
    """

    psi: dict[str, float]
    gpm: dict[str, float]
    settled: bool


def epanet(network: Network, accuracy: float = 1e-8) -> Reference:
    """Build the network through EPANET's API and solve it."""
    project = en.createproject()
    en.init(project, os.devnull, "", en.GPM, en.HW)
    outlets = _build(project, network)
    en.setoption(project, en.TRIALS, _TRIALS)
    en.setoption(project, en.ACCURACY, accuracy)
    en.setoption(project, en.EMITEXPON, _other_exponent(network) or 0.5)
    en.setoption(project, en.EMITBACKFLOW, 0)
    en.openH(project)
    en.initH(project, en.NOSAVE)
    with warnings.catch_warnings():
        # It warns of every pressure below zero, where a head is dry or a pump lifts water.
        warnings.simplefilter("ignore")
        en.runH(project)
    settled = en.getstatistic(project, en.ITERATIONS) < _TRIALS
    psi, gpm = {}, {}
    for name, out in outlets.items():
        psi[name] = (en.getnodevalue(project, out.node, en.HEAD) - out.elevation_ft) * PSI_PER_FT
        if out.link:
            gpm[name] = en.getlinkvalue(project, out.link, en.FLOW)
        else:
            gpm[name] = en.getnodevalue(project, out.emitter, en.EMITTERFLOW)
    en.closeH(project)
    en.deleteproject(project)
    return Reference(psi, gpm, settled)


@dataclass(frozen=True)
class _Outlet:
    """Where a head stands, and the emitter or the link that its water leaves through."""

    node: int
    elevation_ft: float
    emitter: int = 0
    link: int = 0


def _other_exponent(network: Network) -> float:
    """The one exponent that heads have beside 0.5 and 0; 0 where there is none."""
    found = {head.exponent for node in network.nodes for head in node.heads} - {0.5, 0.0}
    assert len(found) <= 1, "EPANET has one emitter exponent"
    return found.pop() if found else 0.0


def _build(project: object, network: Network) -> dict[str, _Outlet]:
    """Every node and link; returns the outlet of each head."""
    node_no: dict[str, int] = {}
    outlets: dict[str, _Outlet] = {}
    mixed = bool(_other_exponent(network))
    source_ft = network.node_at[network.source].elevation_ft
    street = en.addnode(project, "street.", en.RESERVOIR)
    en.setnodevalue(
        project, street, en.ELEVATION, network.supply.static_psi / PSI_PER_FT + source_ft
    )
    for no, node in enumerate(network.nodes):
        node_no[node.name] = en.addnode(project, f"n{no}", en.JUNCTION)
        en.setjuncdata(project, node_no[node.name], node.elevation_ft, 0.0, "")
        for place, head in enumerate(node.heads):
            outlets[head.name] = _head(project, (f"n{no}", place), node, head, mixed=mixed)
    first = f"n{[node.name for node in network.nodes].index(network.source)}"
    _supply(project, network.supply, first)
    names = {node.name: f"n{no}" for no, node in enumerate(network.nodes)}
    for no, link in enumerate(network.links):
        start, end, name = names[link.start], names[link.end], f"l{no}"
        kind = link.kind
        if isinstance(kind, Pipe | Valve):
            _resistance(project, name, start, end, loss_of(link, network))
        elif isinstance(kind, Regulator):
            _regulator(project, name, start, end, kind.set_psi)
        else:
            # A device passes water one way. EPANET's valve does not, so a check valve follows it.
            _between(project, f"{name}m")
            _device(project, name, start, f"{name}m", kind)
            _resistance(project, f"{name}k", f"{name}m", end, Loss(), en.CVPIPE)
    return outlets


def _supply(project: object, supply: Supply, first: str) -> None:
    """From the reservoir to the source: the flow test's pipe, and the pump if there is one."""
    street = supply_loss(supply._replace(static_psi=max(supply.static_psi, 0.0), pump=()))
    if not supply.pump:
        _resistance(project, "supply.", "street.", first, street)
        return
    _between(project, "suction.")
    _resistance(project, "supply.", "street.", "suction.", street)
    # EPANET draws straight lines for any number of points but one and three.
    assert len(supply.pump) not in (1, 3)
    link = en.addlink(project, "pump.", en.PUMP, "suction.", first)
    en.setheadcurveindex(project, link, _curve(project, "pumpc", list(supply.pump)))


def _between(project: object, name: str) -> None:
    """A node between two links, so low that EPANET never warns of its pressure."""
    en.setjuncdata(project, en.addnode(project, name, en.JUNCTION), -1000.0, 0.0, "")


def _head(project: object, at: tuple[str, int], node: Node, head: Head, *, mixed: bool) -> _Outlet:
    """The outlet of a head; one of several, or a regulated one, has a node of its own."""
    k, regulated = head.k, head.regulated_psi
    if head.exponent == 0.0:
        # An orifice up to its least pressure, and regulated from there.
        assert head.least_psi is not None
        k, regulated = head.k / head.least_psi**0.5, head.least_psi
    own = node.heads[:1] == node.heads and regulated is None
    place = at[0] if own else f"{at[0]}h{at[1]}"
    here = en.getnodeindex(project, at[0])
    if not own:
        there = en.addnode(project, place, en.JUNCTION)
        en.setjuncdata(project, there, node.elevation_ft, 0.0, "")
        if regulated is None:
            _resistance(project, f"{place}p", at[0], place, Loss())
        else:
            _regulator(project, f"{place}p", at[0], place, regulated)
    if mixed and head.exponent in (0.0, 0.5):
        air = en.addnode(project, f"{place}a", en.RESERVOIR)
        en.setnodevalue(project, air, en.ELEVATION, node.elevation_ft)
        orifice = Loss(square=1.0 / k**2)
        link = _resistance(project, f"{place}o", place, f"{place}a", orifice)
        return _Outlet(here, node.elevation_ft, link=link)
    emitter = en.getnodeindex(project, place)
    exponent = head.exponent or 0.5
    en.setnodevalue(project, emitter, en.EMITTER, k * (PSI_PER_FT / _PSI_PER_FT) ** exponent)
    return _Outlet(here, node.elevation_ft, emitter=emitter)


def _resistance(
    project: object, name: str, start: str, end: str, loss: Loss, kind: int = en.PIPE
) -> int:
    """A pipe that loses r |q|^1.852 + k q |q|; its length is made to fit that."""
    link = en.addlink(project, name, kind, start, end)
    per_cfs = loss.power / PSI_PER_FT * _GPM_PER_CFS**FLOW_EXPONENT
    length_ft = max(per_cfs * _C**FLOW_EXPONENT * _BORE_FT**4.871 / 4.727, _LEAST_FT)
    k = loss.square / PSI_PER_FT * _GPM_PER_CFS**2 * _BORE_FT**4 / 0.02517
    en.setpipedata(project, link, length_ft, _BORE_FT * 12.0, _C, k)
    return int(link)


def _regulator(project: object, name: str, start: str, end: str, set_psi: float) -> None:
    link = en.addlink(project, name, en.PRV, start, end)
    en.setlinkvalue(project, link, en.DIAMETER, 12.0)
    en.setlinkvalue(project, link, en.INITSETTING, set_psi * _PSI_PER_FT / PSI_PER_FT)


def _device(project: object, name: str, start: str, end: str, device: Device) -> None:
    """A general-purpose valve on a curve in gpm and ft, level before its first point."""
    points = list(device.points)
    if points[0][0] > 0.0:
        points.insert(0, (0.0, points[0][1]))
    if len(points) == 1:
        points.append((10000.0, points[0][1]))
    curve = _curve(project, f"{name}c", points)
    link = en.addlink(project, name, en.GPV, start, end)
    en.setlinkvalue(project, link, en.DIAMETER, 12.0)
    en.setlinkvalue(project, link, en.GPV_CURVE, curve)


def _curve(project: object, name: str, points: list[tuple[float, float]]) -> int:
    """A curve of gpm and ft, of points in gpm and psi."""
    en.addcurve(project, name)
    curve = en.getcurveindex(project, name)
    flows, heads = en.doubleArray(len(points)), en.doubleArray(len(points))
    for at, (gpm, psi) in enumerate(points):
        flows[at], heads[at] = gpm, psi / PSI_PER_FT
    en.setcurve(project, curve, flows, heads, len(points))
    return int(curve)
