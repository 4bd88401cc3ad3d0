"""Backflow assemblies: their standards, placeholder losses, and pass values of field tests.

Local code decides which kind is allowed and how high it stands; a licensed tester tests and
certifies it. Losses are common practice, without a source: enter the assembly's own curve.
Field-test readings are in psid.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple


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


SOURCE = "Iowa City, Backflow Prevention Assembly Test Data and Maintenance Report, 9/02."
RP_BUFFER_PSI = 3.0
"""Least difference of check 1 and relief opening of an RP; advice more than a limit."""


class PassValue(NamedTuple):
    """A reading by its column, in words, and the least it must be."""

    column: str
    words: str
    least_psi: float


PASS_VALUES: Mapping[str, tuple[PassValue, ...]] = {
    "RP": (
        PassValue("check_1_psi", "check 1", 5.0),
        PassValue("relief_psi", "the relief valve's opening", 2.0),
        PassValue("check_2_psi", "check 2", 1.0),
    ),
    "DC": (
        PassValue("check_1_psi", "check 1", 1.0),
        PassValue("check_2_psi", "check 2", 1.0),
    ),
    "PVB": (
        PassValue("inlet_psi", "the air inlet's opening", 1.0),
        PassValue("check_1_psi", "the check valve", 1.0),
    ),
    "SVB": (
        PassValue("inlet_psi", "the air inlet's opening", 1.0),
        PassValue("check_1_psi", "the check valve", 1.0),
    ),
}
"""By kind; an AVB can't be tested in the field."""
