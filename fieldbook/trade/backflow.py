"""Backflow assemblies: their kinds, losses to allow for, and pass values of field tests.

Local code decides which kind is allowed and how high it stands; a licensed tester tests and
certifies it. The losses are common practice, without a source: enter the assembly's own curve.
Readings of a field test are in psid.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

BACKFLOW_LOSS_PSI: Mapping[str, float] = {
    "AVB": 5.0,  # ASSE 1001
    "PVB": 6.0,  # ASSE 1020
    "SVB": 8.0,  # ASSE 1056
    "DC": 7.0,  # ASSE 1015
    "RP": 15.0,  # ASSE 1013
    "anti-siphon valves": 5.0,  # ASSE 1001
}
"""By the word that is entered for a kind, the loss in psi to allow for at irrigation flows.

The high end of common practice. The standard beside each kind is the one it is made to.
"""
BACKFLOW_KINDS = tuple(BACKFLOW_LOSS_PSI)

PASS_SOURCE = "Iowa City, Backflow Prevention Assembly Test Data and Maintenance Report, 9/02."
RP_SOURCE = "Cross-connection control manual of a university foundation, 10th ed. (second-hand)."
"""Check 1 of an RP holds 5.0 psid and more than the pressure at which its relief valve opens."""
AVB_KINDS = ("AVB", "anti-siphon valves")
"""Kinds that have no field test: they are inspected."""


class PassValue(NamedTuple):
    """A reading of a field test: its column, its name in words, and the least value that passes.

    `or_tick` is the column of a tick that serves as well as the reading.
    """

    column: str
    words: str
    least_psi: float
    or_tick: str = ""


PASS_VALUES: Mapping[str, tuple[PassValue, ...]] = {
    "RP": (
        PassValue("check_1_psi", "check 1", 5.0),
        PassValue("relief_psi", "the relief valve's opening", 2.0),
        PassValue("check_2_psi", "check 2", 1.0, "check_2_tight"),
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
"""The readings of each kind; an AVB can't be tested in the field."""
TEST_TICKS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "RP": (("check_2_tight", "check 2 held against back-pressure"),),
    "DC": (
        ("check_1_tight", "check 1 held against back-pressure"),
        ("check_2_tight", "check 2 held against back-pressure"),
    ),
    "SVB": (("opened_fully", "the air inlet opened fully"),),
}
"""What a report says beside its readings, by kind: the column of the tick, and its words."""
