"""Field-test pass values of backflow assemblies: readings in psid.

Iowa City, Backflow Prevention Assembly Test Data and Maintenance Report, 9/02. Only a certified
tester tests and signs.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

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
