"""Measure the solver beside EPANET in the same run: how near, how fast, how often it converges.

Run it: python tests/measure_solver.py [seeds]

Prints, for zones of growing size, the largest difference of a head's pressure from EPANET's and
the ratio of processor times: medians, the two taking turns, each building its network from the
same rows of figures, solving it (EPANET at its accuracy 1e-5) and reading every head. Then seeded
realistic and brutal zones by the thousand (3,000 unless told) with how many converge; then what a
hundred what-if solves, the import and `fieldbook solve` take. Nothing here asserts.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parent / "support" / "networks"))

from epanet import toolkit as en
from epanet_reference import epanet
from laying import Laying, imbalance
from random_zones import brutal, large, realistic

from fieldbook.units import PSI_PER_FT
from fieldbook.water import Head, Link, Network, NetworkError, Node, Pipe, Supply, WhatIf, solve

NO_BYTECODE = "PYTHONDONTWRITEBYTECODE"
WORKED = Path(__file__).parent / "published" / "worked_zone.json"


class Rows(NamedTuple):
    """A network of pipes and orifices as plain figures, for both solvers to build from.

    nodes: name, elevation in ft, k of its head or 0. links: name, start, end, length in ft, bore
    in inches, C.
    """

    supply: tuple[float, float | None, float | None]
    nodes: list[tuple[str, float, float]]
    links: list[tuple[str, str, str, float, float, float]]


def row(heads: int) -> Network:
    """Heads of 2 gpm at 12 ft on a lateral that narrows, behind a meter's worth of main."""
    laid = Laying(70.0, 55.0, 20.0).go("main", Pipe(60.0, 2.067))
    for no in range(heads):
        bore_in = (1.610, 1.380, 1.049)[3 * no // heads]
        laid.go(f"run-{no}", Pipe(12.0, bore_in), 0.2).head(24.0 / heads)
    return laid.network()


def rows_of(network: Network) -> Rows:
    """The figures of a network that has pipes and orifices alone."""
    links = []
    for link in network.links:
        assert isinstance(link.kind, Pipe)
        links.append((*link[:3], link.kind.length_ft, link.kind.bore_in, link.kind.c))
    nodes = [
        (node.name, node.elevation_ft, node.heads[0].k if node.heads else 0.0)
        for node in network.nodes
    ]
    return Rows(network.supply[:3], nodes, links)


def by_us(rows: Rows) -> list[tuple[float, float]]:
    """Build, solve, and read the pressure and flow of every head."""
    network = Network(
        Supply(*rows.supply),
        rows.nodes[0][0],
        tuple(Node(name, z, (Head(name, k),) if k else ()) for name, z, k in rows.nodes),
        tuple(
            Link(name, start, end, Pipe(length_ft, bore_in, c))
            for name, start, end, length_ft, bore_in, c in rows.links
        ),
    )
    return [(head.psi, head.gpm) for head in solve(network).heads.values()]


def by_epanet(rows: Rows) -> list[tuple[float, float]]:
    """The same through EPANET's API; a flow test is a pipe of about its loss."""
    project = en.createproject()
    en.init(project, os.devnull, "", en.GPM, en.HW)
    street = en.addnode(project, "street.", en.RESERVOIR)
    en.setnodevalue(project, street, en.ELEVATION, rows.supply[0] / PSI_PER_FT)
    heads = []
    for name, z, k in rows.nodes:
        node = en.addnode(project, name, en.JUNCTION)
        en.setjuncdata(project, node, z, 0.0, "")
        if k:
            en.setnodevalue(project, node, en.EMITTER, k)
            heads.append(node)
    first = en.addlink(project, "supply.", en.PIPE, "street.", rows.nodes[0][0])
    en.setpipedata(project, first, 30.0 if rows.supply[1] else 1e-3, 1.5, 150.0, 0.0)
    for name, start, end, length_ft, bore_in, c in rows.links:
        link = en.addlink(project, name, en.PIPE, start, end)
        en.setpipedata(project, link, length_ft, bore_in, c, 0.0)
    en.setoption(project, en.TRIALS, 400)
    en.setoption(project, en.ACCURACY, 1e-5)
    en.openH(project)
    en.initH(project, en.NOSAVE)
    en.runH(project)
    found = [
        (
            en.getnodevalue(project, node, en.PRESSURE),
            en.getnodevalue(project, node, en.EMITTERFLOW),
        )
        for node in heads
    ]
    en.closeH(project)
    en.deleteproject(project)
    return found


def cpu_ms(act: Callable[[], object]) -> float:
    """The processor's time in milliseconds."""
    began = time.process_time()
    act()
    return 1000 * (time.process_time() - began)


def beside_epanet(name: str, network: Network, runs: int) -> None:
    """One line: how near and how fast."""
    ours, reference = solve(network), epanet(network)
    apart = max(abs(ours.heads[head].psi - psi) for head, psi in reference.psi.items())
    rows = rows_of(network)
    taken = [(cpu_ms(lambda: by_us(rows)), cpu_ms(lambda: by_epanet(rows))) for _ in range(runs)]
    mine, theirs = median(one for one, _ in taken), median(other for _, other in taken)
    print(
        f"{name:22} {len(network.nodes):5} nodes  {apart:9.1e} psi apart  "
        f"{mine:9.3f} ms  EPANET {theirs:9.3f} ms  ratio {mine / theirs:5.2f}  "
        f"{ours.steps} steps{'' if ours.converged else '  NOT CONVERGED'}"
    )


def seeded(name: str, make: Callable[[int], Network], count: int) -> None:
    """How many of so many seeds converge, and the worst imbalance of those that do."""
    converged, worst, broken, negative = 0, 0.0, 0, 0
    for seed in range(count):
        network = make(seed)
        try:
            found = solve(network)
        except (ArithmeticError, NetworkError):
            broken += 1
            continue
        negative += any(head.gpm < 0.0 for head in found.heads.values())
        if found.converged:
            converged += 1
            scale = max(network.supply.static_psi, 1.0)
            worst = max(worst, imbalance(network, found)[0] / scale)
    print(
        f"{name:22} {converged} of {count} converge ({100 * converged / count:.2f} %), "
        f"{broken} exceptions, {negative} with a negative flow, "
        f"worst imbalance {worst:.1e} of static"
    )


def what_ifs() -> None:
    """A hundred changes of a zone of 14 heads, each with every head read."""
    zone = row(14)

    def pipes() -> None:
        what_if = WhatIf(zone)
        for no in range(100):
            assert what_if.solve({f"run-{no % 14}": Pipe(12.0, 1.38 + no / 1000)}).heads

    def streets() -> None:
        what_if = WhatIf(zone)
        for no in range(100):
            assert what_if.solve(supply=Supply(40.0 + no / 3)).heads

    for name, act in (("pipes", pipes), ("streets", streets)):
        taken = median(cpu_ms(act) for _ in range(15))
        print(f"{f'100 other {name}':22} {taken:.1f} ms of what-ifs for 14 heads (aim 20)")


def program_ms(arguments: Sequence[str], runs: int = 9) -> float:
    """The processor's time of a Python program whose modules are compiled."""
    environment = {key: value for key, value in os.environ.items() if key != NO_BYTECODE}
    times = []
    with tempfile.TemporaryDirectory() as compiled:
        environment["PYTHONPYCACHEPREFIX"] = compiled
        for _ in range(runs + 1):
            before = resource.getrusage(resource.RUSAGE_CHILDREN)
            command = [sys.executable, *arguments]
            subprocess.run(command, env=environment, check=True, stdout=subprocess.DEVNULL)
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
            times.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return 1000 * median(times[1:])


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 3000
    for heads in (6, 14, 30, 48):
        beside_epanet(f"row of {heads} heads", row(heads), 100)
    for nodes, runs in ((500, 15), (5000, 7)):
        beside_epanet("mainline and laterals", large(nodes), runs)
    seeded("realistic zones", realistic, count)
    seeded("brutal zones", brutal, count)
    what_ifs()
    empty = program_ms(["-c", "pass"])
    imported = program_ms(["-c", "from fieldbook.water import solve"]) - empty
    print(f"{'import of the solver':22} {imported:.0f} ms over an empty program (aim 25)")
    solved = program_ms(["-m", "fieldbook", "solve", str(WORKED)])
    print(f"{'fieldbook solve':22} {solved:.0f} ms, an empty program {empty:.0f} ms (aim 300)")


if __name__ == "__main__":
    main()
