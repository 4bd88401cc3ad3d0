"""How grave a flag is, and counted flags in words.

Light to import: the first frame of the board needs it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

Severity = Literal["stop", "fix", "note"]

SEVERITIES: tuple[Severity, ...] = ("stop", "fix", "note")
"""The gravest first."""


def tally(counted: Mapping[Severity, int]) -> str:
    """Counted flags in words, worst first: "1 stop, 2 fixes"; nothing for none."""
    many = {"stop": "stops", "fix": "fixes", "note": "notes"}
    numbers = [(counted[kind], kind) for kind in SEVERITIES if counted[kind]]
    return ", ".join(f"{count} {kind if count == 1 else many[kind]}" for count, kind in numbers)
