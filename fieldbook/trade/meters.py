"""Displacement water meters: the safe maximum flow, and the loss at that flow.

Safe maximum flow: COMAR 20.70.06.03 B (Maryland Public Service Commission), which calls it the
maximum normal flow of a test rule and no safe limit; 5/8 x 3/4 is not listed there and has the
figure of 5/8 (common practice, no source). Loss at that flow: an
undated one-page sheet, "AWWA standard pressure loss (psi)", author unknown; a placeholder until
the utility's own figures are entered. Other kinds of meter differ.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

SAFE_FLOW_SOURCE = "COMAR 20.70.06.03 B, maximum normal flow of displacement meters."


@dataclass(frozen=True)
class Meter:
    """Safe maximum flow in gpm, and the loss in psi at that flow."""

    safe_gpm: float
    loss_at_safe_psi: float


METERS: Mapping[str, Meter] = {
    "5/8": Meter(20.0, 15.0),
    "5/8 x 3/4": Meter(20.0, 15.0),
    "3/4": Meter(30.0, 15.0),
    "1": Meter(50.0, 15.0),
    "1-1/2": Meter(100.0, 20.0),
    "2": Meter(160.0, 20.0),
}
"""By the nominal size stamped on the body."""
