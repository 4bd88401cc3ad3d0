"""Backflow assemblies: their standards, and placeholder losses.

Local code decides which kind is allowed and how high it stands; a licensed tester tests and
certifies it. Losses are common practice, without a source: enter the assembly's own curve.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class BackflowKind:
    """One kind of assembly: its standard, and what to allow for its loss at irrigation flows.

    `loss_psi` is the high end of common practice. Least heights are local rules.
    """

    loss_psi: float
    standard: str


BACKFLOW_KINDS: Mapping[str, BackflowKind] = {
    "AVB": BackflowKind(5.0, "ASSE 1001"),
    "PVB": BackflowKind(6.0, "ASSE 1020"),
    "SVB": BackflowKind(8.0, "ASSE 1056"),
    "DC": BackflowKind(7.0, "ASSE 1015"),
    "RP": BackflowKind(15.0, "ASSE 1013"),
    "anti-siphon valves": BackflowKind(5.0, "ASSE 1001"),
}
"""Kinds by the word that is entered for them."""
