"""The same network in EPANET, the outside reference for the solver (a test dependency only).

EPANET has its own constants (4.727 and 4.871 in Hazen-Williams, 0.4333 psi/ft), so every
resistance is handed over as the number it is: lengths, K and settings are chosen to give it.
"""

from __future__ import annotations

import os
from dataclasses import dataclass

from epanet import toolkit as en

from fieldbook.units import PSI_PER_FT
from fieldbook.water import Device, Head, Network, Node, Pipe, Regulator, Valve
from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.losses import Loss, loss_of, supply_loss

_GPM_PER_CFS = 448.831
_PSI_PER_FT = 0.4333
_BORE_FT = 1.0 / 12.0
_C = 150.0
_LEAST_FT = 1e-6


@dataclass(frozen=True)
class Reference:
    """The pressure in psi and the flow in gpm of every head."""

    psi: dict[str, float]
    gpm: dict[str, float]


def epanet(network: Network, accuracy: float = 1e-8) -> Reference:
    """Build the network through EPANET's API and solve it."""
    project = en.createproject()
    en.init(project, os.devnull, "", en.GPM, en.HW)
    outlets = _build(project, network)
    en.setoption(project, en.TRIALS, 400)
    en.setoption(project, en.ACCURACY, accuracy)
    en.setoption(project, en.EMITEXPON, 0.5)
    en.setoption(project, en.EMITBACKFLOW, 0)
    en.openH(project)
    en.initH(project, en.NOSAVE)
    en.runH(project)
    psi, gpm = {}, {}
    for name, (node, outlet, elevation_ft) in outlets.items():
        psi[name] = (en.getnodevalue(project, node, en.HEAD) - elevation_ft) * PSI_PER_FT
        gpm[name] = en.getnodevalue(project, outlet, en.EMITTERFLOW)
    en.closeH(project)
    en.deleteproject(project)
    return Reference(psi, gpm)


def _build(project: object, network: Network) -> dict[str, tuple[int, int, float]]:
    """Every node and link; returns each head's node, outlet node and elevation."""
    node_no: dict[str, int] = {}
    outlets: dict[str, tuple[int, int, float]] = {}
    source_ft = network.node_at[network.source].elevation_ft
    street = en.addnode(project, "street.", en.RESERVOIR)
    en.setnodevalue(
        project, street, en.ELEVATION, network.supply.static_psi / PSI_PER_FT + source_ft
    )
    for no, node in enumerate(network.nodes):
        node_no[node.name] = en.addnode(project, f"n{no}", en.JUNCTION)
        en.setjuncdata(project, node_no[node.name], node.elevation_ft, 0.0, "")
        for place, head in enumerate(node.heads):
            outlet = _head(project, f"n{no}", place, node, head)
            outlets[head.name] = (node_no[node.name], outlet, node.elevation_ft)
    first = f"n{[node.name for node in network.nodes].index(network.source)}"
    _resistance(project, "supply.", "street.", first, supply_loss(network.supply))
    names = {node.name: f"n{no}" for no, node in enumerate(network.nodes)}
    for no, link in enumerate(network.links):
        start, end, name = names[link.start], names[link.end], f"l{no}"
        kind = link.kind
        if isinstance(kind, Pipe | Valve):
            _resistance(project, name, start, end, loss_of(link, network))
        elif isinstance(kind, Regulator):
            _regulator(project, name, start, end, kind.set_psi)
        else:
            _device(project, name, start, end, kind)
    return outlets


def _head(project: object, at: str, place: int, node: Node, head: Head) -> int:
    """An emitter at the node itself, or at one of its own behind the head's regulator."""
    k = head.k * (PSI_PER_FT / _PSI_PER_FT) ** 0.5
    if head.regulated_psi is None and len(node.heads) == 1:
        here = en.getnodeindex(project, at)
        en.setnodevalue(project, here, en.EMITTER, k)
        return int(here)
    name = f"{at}h{place}"
    outlet = en.addnode(project, name, en.JUNCTION)
    en.setjuncdata(project, outlet, node.elevation_ft, 0.0, "")
    en.setnodevalue(project, outlet, en.EMITTER, k)
    if head.regulated_psi is None:
        _resistance(project, f"{name}p", at, name, Loss())
    else:
        _regulator(project, f"{name}p", at, name, head.regulated_psi)
    return int(outlet)


def _resistance(project: object, name: str, start: str, end: str, loss: Loss) -> None:
    """A pipe that loses r |q|^1.852 + k q |q|; its length is made to fit that."""
    link = en.addlink(project, name, en.PIPE, start, end)
    per_cfs = loss.power / PSI_PER_FT * _GPM_PER_CFS**FLOW_EXPONENT
    length_ft = max(per_cfs * _C**FLOW_EXPONENT * _BORE_FT**4.871 / 4.727, _LEAST_FT)
    k = loss.square / PSI_PER_FT * _GPM_PER_CFS**2 * _BORE_FT**4 / 0.02517
    en.setpipedata(project, link, length_ft, _BORE_FT * 12.0, _C, k)


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
    en.addcurve(project, f"{name}c")
    curve = en.getcurveindex(project, f"{name}c")
    flows, losses = en.doubleArray(len(points)), en.doubleArray(len(points))
    for at, (gpm, psi) in enumerate(points):
        flows[at], losses[at] = gpm, psi / PSI_PER_FT
    en.setcurve(project, curve, flows, losses, len(points))
    link = en.addlink(project, name, en.GPV, start, end)
    en.setlinkvalue(project, link, en.DIAMETER, 12.0)
    en.setlinkvalue(project, link, en.GPV_CURVE, curve)
