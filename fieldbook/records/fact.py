"""The description of each column that can be entered: its label, unit, limits and purpose.

A `Fact` stands in the column's annotation. Sheets, the job file, its JSON Schema and the help on a
cell all read it, so a column is described once. This module needs the standard library only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fieldbook.units import Measure

Kind = Literal[
    "amount",
    "whole",
    "text",
    "day",
    "clock",
    "curve",
    "choice",
    "tick",
    "colour",
    "colours",
    "link",
    "when",
    "days",
    "times",
    "hidden",
]

LONGEST_TEXT = 400
"""Most characters in a text that a person types."""
LONGEST_HIDDEN = 40_000
"""Most characters in a column that the program fills: the digests of a sign-off are long."""


@dataclass(frozen=True)
class Fact:
    """One column as a person enters and reads it.

    `kind` says what the column holds: amount: a float in the unit of `measure`, from `low` to
    `high`. whole: an int. choice: one of `choices`. tick: True, False (seen, and not so) or None
    (not looked at). colour: a conductor colour. curve: pairs of flow and loss, as text in gpm and
    psi. days, times: days of the week or month, times of the day, as `trade.watering` writes them.
    link: the id of a row in table `links_to`. day, clock: a date, a local time. when: a time
    with its offset in ISO 8601 that an action stamps. hidden: what the program fills in.
    `wanted`: the sheet asks for it. `why` says what it is for, `source` where its figures come
    from, `good` what a tick should find. `either`: a tick for which no is as good as yes, such as
    whether a thing is outdoors.
    """

    kind: Kind
    label: str
    why: str = ""
    source: str = ""
    measure: Measure | None = None
    low: float = 0.0
    high: float = 1e6
    choices: tuple[str, ...] = ()
    links_to: str = ""
    wanted: bool = False
    good: str = ""
    either: bool = False

    @property
    def longest(self) -> int:
        """The most characters that a text of this column has."""
        return LONGEST_HIDDEN if self.kind == "hidden" else LONGEST_TEXT


def amount(
    label: str,
    measure: Measure,
    limits: tuple[float, float],
    why: str = "",
    *,
    wanted: bool = False,
    source: str = "",
) -> Fact:
    """A quantity in our unit of `measure`, within `limits` (lowest, highest)."""
    return Fact("amount", label, why, source, measure, *limits, wanted=wanted)


def whole(label: str, low: int, high: int, why: str = "", *, wanted: bool = False) -> Fact:
    """A whole number from `low` to `high`."""
    return Fact("whole", label, why, low=low, high=high, wanted=wanted)


def words(label: str, why: str = "", *, wanted: bool = False) -> Fact:
    """Free text of one line."""
    return Fact("text", label, why, wanted=wanted)


def pairs(label: str, why: str = "") -> Fact:
    """Pairs of flow and loss, kept as text in gpm and psi."""
    return Fact("curve", label, why)


def choice(
    label: str, choices: tuple[str, ...], why: str = "", *, wanted: bool = False, source: str = ""
) -> Fact:
    """One of a few trade words."""
    return Fact("choice", label, why, source, choices=choices, wanted=wanted)


def tick(
    label: str,
    why: str = "",
    *,
    wanted: bool = False,
    source: str = "",
    good: str = "",
    either: bool = False,
) -> Fact:
    """Seen and so, seen and not so, or not looked at; `good` says what should be seen."""
    return Fact("tick", label, why, source, wanted=wanted, good=good, either=either)


def conductor_colour(label: str, why: str = "", *, wanted: bool = False) -> Fact:
    """A conductor's colour with its stripe, such as "red/black"."""
    return Fact("colour", label, why, wanted=wanted)


def link(label: str, links_to: str, why: str = "", *, wanted: bool = False) -> Fact:
    """Another row of the same job."""
    return Fact("link", label, why, links_to=links_to, wanted=wanted)


def hidden(label: str, links_to: str = "") -> Fact:
    """A column that the program fills in and no cell shows."""
    return Fact("hidden", label, links_to=links_to)


def day(label: str, why: str = "", *, wanted: bool = False) -> Fact:
    """A date, in ISO 8601."""
    return Fact("day", label, why, wanted=wanted)


def clock(label: str, why: str = "", *, wanted: bool = False) -> Fact:
    """A local time on a day, in ISO 8601."""
    return Fact("clock", label, why, wanted=wanted)


def run_days(label: str, why: str = "") -> Fact:
    """Days on which something runs, kept as text such as "Mon Wed" or "odd not 31"."""
    return Fact("days", label, why)


def start_times(label: str, why: str = "") -> Fact:
    """Times of the day, kept as text such as "05:00, 08:30"."""
    return Fact("times", label, why)


def moment(label: str) -> Fact:
    """A time with its offset that an action stamps."""
    return Fact("when", label)
