"""Hydraulics of a zone: networks of pipe and heads, solved exactly, and what can be read off them.

The package is pure: standard library, `fieldbook.units` and `fieldbook.trade` only. It has frozen
inputs of its own and knows no job record; `fieldbook.checks.water` maps a job onto them.

Start at `network` (what the solver takes), then `solver` (`solve`) and `solution` (what it
answers). Below `solver` are `network_plan` (a network cut in pieces), `plain_steps` and `newton`
with `newton_step` (the method), `piece` (its arrays), `topology`, `losses`, `head_laws` and
`friction`. Above it are `what_if`, `document` (a network as JSON), `balance` (curves and pressure
ledger), `supply_way` (the losses to one head) and the room `advice` (what would mend a zone).
`supply_curve` needs no solver: it says what the street can give.

Many solves of one network with small changes go through `WhatIf`, which lays it out once:

    what_if = WhatIf(network)
    what_if.now                                           the solution as it is
    what_if.solve({"run 3": Pipe(30.0, 1.189)})           other pipes, valves or devices, by link
    what_if.solve(heads={"h1": None, "h2": smaller})      a head that does not run, another head
    what_if.solve(supply=Supply(45.0))                    another street; all three go together

Import from the package: `from fieldbook.water import Network, solve`. Names load their module
when they are first used, so that nobody waits for more than he uses.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fieldbook.water.balance import HEIGHT, SUPPLY, Ledger, ledger, operating_curves
    from fieldbook.water.document import solve_case
    from fieldbook.water.document_schema import network_schema
    from fieldbook.water.friction import (
        surge_psi,
        velocity_ft_s,
    )
    from fieldbook.water.network import (
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
    from fieldbook.water.solution import HeadResult, LinkResult, Solution
    from fieldbook.water.solver import solve
    from fieldbook.water.supply_curve import (
        Limit,
        Street,
        available_flow,
        bucket_gpm,
        drops_enough,
    )
    from fieldbook.water.supply_way import Way, flow_leaving_gpm, way_of, way_to_head
    from fieldbook.water.what_if import WhatIf

# fmt: off
__all__ = [
    "HEIGHT", "SUPPLY", "Device", "Head", "HeadResult", "Kind", "Law", "Ledger", "Limit", "Link",
    "LinkResult", "Network", "NetworkError", "Node", "Pipe", "Regulator", "Solution", "Street",
    "Supply", "Valve", "Way", "WhatIf", "available_flow", "bucket_gpm", "drops_enough",
    "flow_leaving_gpm", "ledger", "network_schema", "operating_curves", "solve", "solve_case",
    "surge_psi", "velocity_ft_s", "way_of", "way_to_head",
]
# fmt: on

if not TYPE_CHECKING:
    _MODULES = (
        "network",
        "solver",
        "solution",
        "friction",
        "supply_curve",
        "supply_way",
        "what_if",
        "balance",
        "document",
        "document_schema",
    )

    def __getattr__(name: str) -> object:
        if name in __all__:
            for module in _MODULES:
                loaded = import_module(f"{__name__}.{module}")
                if hasattr(loaded, name):
                    return getattr(loaded, name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
