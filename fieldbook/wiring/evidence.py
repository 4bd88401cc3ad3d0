"""What was seen of the wire, and what it could mean: the inputs and results of `reconcile`.

Evidence is the colours at both sides, what ran when a terminal was energised, and ohm readings.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from fieldbook.wiring.colour_join import End
from fieldbook.wiring.readings import Meaning

Conductor = tuple[str, str]
"""A cable and a colour in it."""
MistakeKind = Literal[
    "misread",
    "entries exchanged",
    "wires exchanged",
    "shared wire",
    "leads nowhere",
    "broken",
    "touching",
    "reading doubtful",
]
Basis = Literal["colours", "ran", "ohms"]


class Mistake(NamedTuple):
    """One mistake, made in an entry or in the wire, that would explain what was seen.

    `ends` are the names of the ends concerned. misread: the end has conductor `to`, None if that
    is not known, and not the one entered. entries exchanged: two ends of one side were entered
    for each other. wires exchanged: the wires under two terminals are, and the entries are right.
    shared wire: the ends are on one conductor. leads nowhere: the conductor is joined to nothing.
    broken: no current gets through. touching: the conductor touches another. reading doubtful:
    nothing that was seen explains the ohms.
    """

    kind: MistakeKind
    ends: tuple[str, ...]
    to: Conductor | None = None


WireMap = Mapping[str, frozenset[str]]
"""By a terminal's name, the stations that its conductor leads to; two where it is shared."""


@dataclass(frozen=True)
class Explanation:
    """One way in which everything seen fits: the wire map, and the mistakes it takes."""

    map: WireMap
    mistakes: tuple[Mistake, ...]
    chance: float = 1.0


class Link(NamedTuple):
    """A terminal, the stations that its conductor leads to, and the evidence for that."""

    terminal: str
    stations: frozenset[str]
    basis: tuple[Basis, ...]
    chance: float = 1.0


class DecidingTest(NamedTuple):
    """Energise this terminal, or ring its conductor out (`ring_out`) where it can't be energised.

    What runs, or where the conductor leads, rules explanations out. `settles`: all but one.
    """

    terminal: str
    settles: bool
    ring_out: bool = False


@dataclass(frozen=True)
class Doubt:
    """Ends that do not fit as entered, and every explanation that takes the fewest mistakes.

    No explanation: there are more mistakes than the search can untangle.
    """

    ends: tuple[str, ...]
    explanations: tuple[Explanation, ...]
    test: DecidingTest | None = None

    @property
    def settled(self) -> bool:
        return len(self.explanations) == 1

    def could_be(self, terminal: str) -> frozenset[frozenset[str]]:
        """The sets of stations that a terminal leads to, over all explanations."""
        return frozenset(
            explanation.map.get(terminal, frozenset()) for explanation in self.explanations
        )


@dataclass(frozen=True)
class Reconciled:
    """The result: links that no evidence speaks against, and the doubts about the others."""

    links: tuple[Link, ...]
    doubts: tuple[Doubt, ...]

    def link_of(self, terminal: str) -> Link | None:
        """The link of a terminal; None where it is in doubt or has no other end yet."""
        return next((link for link in self.links if link.terminal == terminal), None)

    def doubt_of(self, terminal: str) -> Doubt | None:
        """The doubt that a terminal is part of, if any."""
        return next((doubt for doubt in self.doubts if terminal in doubt.ends), None)


@dataclass(frozen=True)
class Evidence:
    """Everything that was seen of the wire.

    box, controller: the ends whose colour was entered. Where a splice on the way joins a
    conductor to one of another cable, the box end has the one that reaches the controller.
    ran: by terminal name, the stations that ran when it was energised; an empty set if none did.
    readings: by terminal name, what its ohms mean. never_live: terminals that can't be energised,
    such as the common.
    """

    box: tuple[End, ...]
    controller: tuple[End, ...]
    ran: Mapping[str, frozenset[str]] = field(default_factory=dict)
    readings: Mapping[str, Meaning] = field(default_factory=dict)
    never_live: frozenset[str] = frozenset()
