"""How a figure carries where it comes from."""

from __future__ import annotations

from dataclasses import dataclass

COMMON_PRACTICE = "Common practice, no source."


@dataclass(frozen=True)
class Cited:
    """A figure with its unit and the published text it was read in.

    `source` is COMMON_PRACTICE, or begins with it, where no published text is known.
    """

    value: float
    unit: str
    source: str
