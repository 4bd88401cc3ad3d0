"""One line of a takeoff: so many of a thing, and how they were counted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Group = Literal["pipe", "fittings", "heads", "valves", "wire", "controller", "cement", "work"]
Unit = Literal["ft", "each", "joints"]


@dataclass(frozen=True)
class Item:
    """`count` of `what`, in `unit`; feet are exact, waste is not in them unless `how` says so.

    `what` names the thing with its size and class: a price list prices it by these words.
    """

    group: Group
    what: str
    count: float
    unit: Unit
    how: str


@dataclass(frozen=True)
class Allowances:
    """What the installer adds to what the record says.

    No public authority publishes a rate of waste, so it is 0 unless typed. A stick of rigid pipe is
    20 ft long: common practice, no source.
    """

    waste_pct: float = 0.0
    stick_ft: float = 20.0


@dataclass(frozen=True)
class Takeoff:
    """The items in the order of the work, and in words what the record doesn't say."""

    items: tuple[Item, ...]
    not_counted: tuple[str, ...] = ()
