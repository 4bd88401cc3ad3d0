"""Measure the solver beside EPANET in the same run: how near, how fast, how often it converges.

Run it: python tests/measure_solver.py [seeds]

Prints, for zones of growing size, the largest difference of a head's pressure from EPANET's and
the ratio of times (build and solve through EPANET's API, at its accuracy 1e-5); then seeded
realistic and brutal zones by the thousand (3,000 unless told) with how many converge; then what
a hundred what-if solves and the import take. Nothing here asserts.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent / "support" / "networks"))

from epanet_reference import epanet
from laying import Laying, imbalance
from random_zones import brutal, large, realistic

from fieldbook.water import Network, NetworkError, Pipe, solve

NO_BYTECODE = "PYTHONDONTWRITEBYTECODE"
IMPORT = (
    "import time; began = time.perf_counter(); from fieldbook.water import solve; "
    "print(1000 * (time.perf_counter() - began))"
)


def row(heads: int) -> Network:
    """Heads of 2 gpm at 12 ft on a lateral that narrows, behind a meter's worth of main."""
    laid = Laying(70.0, 55.0, 20.0).go("main", Pipe(60.0, 2.067))
    for no in range(heads):
        bore_in = (1.610, 1.380, 1.049)[3 * no // heads]
        laid.go(f"run {no}", Pipe(12.0, bore_in), 0.2).head(24.0 / heads)
    return laid.network()


def best_ms(act: Callable[[], object], runs: int) -> float:
    """The shortest of some runs, in milliseconds."""
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        act()
        times.append(time.perf_counter() - began)
    return 1000 * min(times)


def beside_epanet(name: str, network: Network, runs: int) -> None:
    """One line: how near and how fast."""
    ours, reference = solve(network), epanet(network)
    apart = max(abs(ours.heads[head].psi - psi) for head, psi in reference.psi.items())
    mine = best_ms(lambda: solve(network).heads, runs)
    theirs = best_ms(lambda: epanet(network, 1e-5), runs)
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


def import_ms() -> float:
    """What a fresh interpreter takes to import the solver, once it is compiled."""
    environment = {key: value for key, value in os.environ.items() if key != NO_BYTECODE}
    with tempfile.TemporaryDirectory() as compiled:
        environment["PYTHONPYCACHEPREFIX"] = compiled
        command = [sys.executable, "-c", IMPORT]
        times = [float(subprocess.check_output(command, env=environment)) for _ in range(6)]
    return min(times)


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 3000
    for heads in (6, 14, 30, 48):
        beside_epanet(f"row of {heads} heads", row(heads), 30)
    for nodes in (500, 5000):
        beside_epanet("mainline and laterals", large(nodes), 3)
    seeded("realistic zones", realistic, count)
    seeded("brutal zones", brutal, count)
    zone = row(14)
    what_ifs = best_ms(lambda: [solve(zone) for _ in range(100)], 5)
    print(f"{'100 what-if solves':22} {what_ifs:.1f} ms for 14 heads (aim 50)")
    each = []
    for nodes in (1000, 2000, 4000):
        network = large(nodes)
        each.append(f"{1000 * best_ms(partial(solve, network), 3) / nodes:.1f} us at {nodes}")
    print(f"{'solve':22} {', '.join(each)}, a node")
    print(f"{'import of the solver':22} {import_ms():.1f} ms (aim 25)")


if __name__ == "__main__":
    main()
