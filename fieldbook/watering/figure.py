"""A figure with where it comes from, and the steps that lead from figures to an answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Origin = Literal["measured", "entered", "solved", "worked out", "stated default"]


@dataclass(frozen=True)
class Figure:
    """One number: where it comes from and, for a default, whose it is.

    A stated default was not seen on the property: it is shown as such, never as a fact.
    """

    value: float
    origin: Origin = "entered"
    source: str = ""

    @property
    def is_default(self) -> bool:
        """Whether nobody measured or entered it."""
        return self.origin == "stated default"

    @property
    def words(self) -> str:
        """Where it comes from, such as "stated default: common practice, no source"."""
        return f"{self.origin}: {self.source}" if self.source else self.origin


@dataclass(frozen=True)
class Step:
    """One step of a calculation: what it gives, how, and with which figures."""

    name: str
    value: float
    unit: str
    how: str = ""

    @property
    def words(self) -> str:
        """The step on one line, such as "Rate 1.54 in/h: 96.25 x 16 gpm / 1000 ft2"."""
        given = f"{self.name} {self.value:.4g} {self.unit}".rstrip()
        return f"{given}: {self.how}" if self.how else given
