"""What a crew reads and notes on a round of a zone, with the errors of gauges, meter and eyes.

The errors of gauge and meter are those of `fieldbook.audit`, with their sources; how crews see is
common practice, no source, and differs from the tables of the code under test.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

from field_faults import Fault, broken
from laid_zones import as_dug

from fieldbook.audit import gauge_error_psi, timed_gpm
from fieldbook.diagnosis.zone_parts import Measured, ZoneParts, ZoneReadings
from fieldbook.trade.water_faults import SIGNS, Sign
from fieldbook.water import Network, solve


@dataclass(frozen=True)
class Round:
    """What a crew takes on its round of a zone."""

    running: bool
    gauged: tuple[str, ...]
    walked: bool
    ground: bool
    others: bool
    meter: bool
    gallons: float

    @classmethod
    def usual(cls, pick: Random, parts: ZoneParts) -> Round:
        """Static and flow always, the rest as often as a crew has time for it."""
        gauged = pick.sample(parts.heads, min(pick.randint(2, 4), len(parts.heads)))
        return cls(
            pick.random() < 0.7,
            tuple(sorted(gauged)),
            pick.random() < 0.85,
            pick.random() < 0.6,
            pick.random() < 0.6,
            pick.random() < 0.5,
            pick.choice((7.48, 14.96, 20.0)),
        )


def true_values(parts: ZoneParts, network: Network) -> dict[str, float]:
    """What perfect instruments would show: "static", "running", "flow" and every head."""
    found = solve(network)
    assert found.converged
    standing = {head.name: node.name for node in parts.network.nodes for head in node.heads}
    values = {
        "static": network.supply.static_psi,
        "running": found.node_psi[parts.gauge],
        "flow": found.supply_gpm,
    }
    return {**values, **{head: found.node_psi[standing[head]] for head in parts.heads}}


def read(pick: Random, parts: ZoneParts, faults: tuple[Fault, ...], what: Round) -> ZoneReadings:
    """A crew's readings of a zone with faults, on one day."""
    true = true_values(parts, as_dug(pick, broken(parts, faults)))

    def gauge(psi: float) -> Measured:
        error = gauge_error_psi(psi)
        shown = round(max(psi + pick.gauss(0.0, error / 1.96), 0.0))
        return Measured.within(float(shown), math.hypot(error, 0.5))

    seconds = 60.0 * what.gallons / max(true["flow"], 0.2)
    watched = max(seconds * (1.0 + pick.gauss(0.0, 0.0075)) + pick.gauss(0.0, 0.5), 1.0)
    timed = timed_gpm(what.gallons, watched, _DIAL_GAL)
    signs = seen_signs(pick, parts, faults, true) if what.walked else {}
    wet = {one.place for one in faults if one.kind in ("leak", "missing") and pick.random() < 0.55}
    shared = any(one.kind in SHARED for one in faults)
    runs_on = any(one.kind in RUNS_ON for one in faults)
    return ZoneReadings(
        gauge(true["static"]),
        gauge(true["running"]) if what.running else None,
        Measured.within(timed.value, timed.up),
        {head: gauge(true[head]) for head in what.gauged},
        signs,
        frozenset(wet) if what.ground else frozenset(),
        what.ground,
        ("weak" if pick.random() < (0.85 if shared else 0.03) else "fine") if what.others else None,
        ("moves" if pick.random() < (0.85 if runs_on else 0.01) else "still")
        if what.meter
        else None,
        "never stops"
        if what.walked and any(one.kind == "seat" for one in faults) and pick.random() < 0.8
        else None,
    )


SHARED = ("isolation", "assembly", "street_valve", "supply_fallen", "main_leak")
_DIAL_GAL = 0.1
RUNS_ON = ("main_leak", "seat")
_MISSEEN: Mapping[Sign, float] = {
    "misting": 0.003,
    "weak": 0.005,
    "low": 0.005,
    "short": 0.005,
    "dry": 0.0005,
    "gush": 0.0005,
    "fine": 0.01,
}
"""How often each is noted of a head where something else is there."""


def seen_signs(
    pick: Random, parts: ZoneParts, faults: tuple[Fault, ...], true: Mapping[str, float]
) -> dict[str, Sign]:
    """What a crew notes of each head on its walk."""
    usual = true_values(parts, parts.network)
    found = {}
    for head in parts.heads:
        chances = sign_chances(head, parts, faults, true[head], usual[head])
        found[head] = pick.choices(SIGNS, [chances[sign] for sign in SIGNS])[0]
    return found


def sign_chances(
    head: str, parts: ZoneParts, faults: tuple[Fault, ...], psi: float, usual: float
) -> dict[Sign, float]:
    """What a crew notes of a head: mostly what is there, now and then something else."""
    there = next((one for one in faults if one.place == head), None)
    seen = _at_fault(there) if there is not None else None
    if seen is None:
        seen = _by_pressure(psi / max(usual, 1.0), psi / parts.rated_psi[head])
    chances = dict(_MISSEEN)
    for sign, part in seen.items():
        chances[sign] += (1.0 - sum(_MISSEEN.values())) * part
    total = sum(chances.values())
    return {sign: chance / total for sign, chance in chances.items()}


def _by_pressure(part: float, of_rated: float) -> dict[Sign, float]:
    if part < 0.05:
        return {"dry": 1.0}
    if part < 0.35:
        return {"low": 0.5, "weak": 0.35, "dry": 0.15}
    if part < 0.75:
        return {"weak": 0.75, "low": 0.1, "fine": 0.15}
    if of_rated > 1.6:
        return {"misting": 0.7, "fine": 0.3}
    return {"fine": 1.0}


def _at_fault(fault: Fault) -> dict[Sign, float] | None:
    match fault.kind:
        case "blocked" | "too_small":
            if fault.severity > 0.9:
                return {"dry": 0.95, "short": 0.05}
            return {"short": 0.55, "weak": 0.25, "fine": 0.2}
        case "too_large":
            return {"fine": 0.6, "short": 0.25, "gush": 0.15}
        case "missing":
            return {"gush": 0.97, "weak": 0.03}
        case "obstructed":
            return {"short": 0.6, "low": 0.3, "fine": 0.1}
        case _:
            return None
