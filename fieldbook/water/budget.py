"""The pressure budget along one path: what is left of the start at the head."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldbook.trade.local_rules import FITTINGS_PART
from fieldbook.water.friction import FLOW_EXPONENT, PSI_PER_FT, hazen_williams_psi


@dataclass(frozen=True)
class Stretch:
    """A stretch of pipe of one bore (inches) and Hazen-Williams C, and the flow in it."""

    length_ft: float
    bore_in: float
    c: float
    flow_gpm: float


@dataclass(frozen=True)
class Budget:
    """What each thing on the path takes, and what is left at the head, all in psi."""

    pipe_psi: float
    fittings_psi: float
    device_psi: float
    elevation_psi: float
    head_psi: float


def pressure_budget(
    start_psi: float, device_psi: float, pipes: Sequence[Stretch], rise_ft: float
) -> Budget:
    """From `start_psi` through `pipes` to a head `rise_ft` above the start.

    Fittings count as 10 % of the pipe's loss (common practice, no source); elevation as
    0.433 psi a foot.
    """
    pipe = sum(stretch_loss_psi(one) for one in pipes)
    fittings, rise = FITTINGS_PART.value * pipe, PSI_PER_FT * rise_ft
    return Budget(pipe, fittings, device_psi, rise, start_psi - pipe - fittings - device_psi - rise)


def stretch_loss_psi(one: Stretch) -> float:
    """Hazen-Williams loss in psi of a stretch."""
    return hazen_williams_psi(one.flow_gpm, one.bore_in, one.c, one.length_ft)


def outlet_factor(
    outlets: int, exponent: float = FLOW_EXPONENT, *, half_first: bool = False
) -> float:
    """Loss of a lateral with equal outlets, as part of the loss at full flow over its length.

    Exact sum of k^m / N^(m+1); with `half_first` the first outlet stands half a spacing in:
    (2 N F - 1) / (2 N - 1) (Jensen and Fratini 1957). Raises ValueError for no outlet.
    """
    if outlets < 1:
        raise ValueError("A lateral has at least one outlet.")
    total = sum(k**exponent for k in range(1, outlets + 1))
    factor = float(total / outlets ** (exponent + 1))
    return (2 * outlets * factor - 1) / (2 * outlets - 1) if half_first else factor
