"""A loss curve as it is typed: flows and losses in pairs, "5 3.5, 10 4, 20 6.1".

Kept as text in gpm and psi; typed and shown in the job's units, or with units of its own
("20 L/min 30 kPa, 40 L/min 45 kPa").
"""

from __future__ import annotations

import re
from itertools import pairwise

from fieldbook.units import FLOW, PRESSURE, System, UnitError, parse, show

MOST_POINTS = 40
_EXAMPLE = "5 3.5, 10 4, 20 6.1"
_PAIR = re.compile(r"([\d.]+\s*[^\d\s,:;.]*(?:\d/h)?)[\s:]+([\d.]+\s*[^\d,;]*)")

Points = tuple[tuple[float, float], ...]


def read_curve(text: str, system: System = "us") -> Points:
    """The (gpm, psi) points of a typed curve. Raises UnitError with one sentence."""
    points = [_pair(part, system) for part in re.split(r"[,;]", text) if part.strip()]
    if not 1 <= len(points) <= MOST_POINTS:
        raise UnitError(f"Type flow and loss in pairs, at most {MOST_POINTS}: {_EXAMPLE}.")
    for (before, _), (after, _) in pairwise(points):
        if after <= before:
            raise UnitError(f"The flows must rise from pair to pair, as in {_EXAMPLE}.")
    return tuple(points)


def write_curve(points: Points) -> str:
    """The curve as it is kept, in gpm and psi."""
    return ", ".join(f"{gpm:.6g} {psi:.6g}" for gpm, psi in points)


def show_curve(kept: str, system: System = "us") -> str:
    """A kept curve in the job's units, as it could be typed again."""
    if system == "us" or not kept:
        return kept
    pairs = (
        (show(gpm, FLOW, system, unit=False), show(psi, PRESSURE, system, unit=False))
        for gpm, psi in read_curve(kept)
    )
    return ", ".join(f"{flow} {loss}" for flow, loss in pairs)


def _pair(part: str, system: System) -> tuple[float, float]:
    match = _PAIR.fullmatch(part.strip())
    if match is None:
        raise UnitError(f"“{part.strip()[:30]}” is no flow and loss: type pairs, {_EXAMPLE}.")
    gpm, psi = parse(match[1], FLOW, system), parse(match[2], PRESSURE, system)
    if gpm > 1000 or psi > 300:
        raise UnitError("A flow goes up to 1000 gpm and a loss up to 300 psi.")
    return gpm, psi
