"""What was seen of the wire, and what it could mean: the words of `reconcile`.

Seen are the colours at both ends (`End`), what ran as a terminal was energised, and ohm readings.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from fieldbook.wiring.join import End
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
    """One thing that would have to be otherwise than entered or meant.

    `ends` are names of ends. misread: the one end's conductor is `to` (None: another, not known).
    entries exchanged: two ends of one side, each entered for the other. wires exchanged: the
    wires under two terminals trade places, the entries being right. shared wire: the ends are on
    one conductor. leads nowhere: the conductor there is joined to nothing. broken: no current gets
    through. touching: two conductors touch. reading doubtful: the ohms fit nothing else.
    """

    kind: MistakeKind
    ends: tuple[str, ...]
    to: Conductor | None = None


WireMap = Mapping[str, frozenset[str]]
"""From a terminal's name to the stations of the valves (or commons) its conductor leads to."""


@dataclass(frozen=True)
class Explanation:
    """One way in which everything seen fits: the map it gives, and the mistakes it takes."""

    map: WireMap
    mistakes: tuple[Mistake, ...]


class Link(NamedTuple):
    """A terminal, where its conductor leads, and what says so; nothing is assumed."""

    terminal: str
    stations: frozenset[str]
    basis: tuple[Basis, ...]


class Test(NamedTuple):
    """Energise this terminal, or ring its conductor out where nothing can be energised.

    What runs, or where it leads, tells the explanations apart; `settles` if all of them.
    """

    terminal: str
    settles: bool
    ring_out: bool = False


@dataclass(frozen=True)
class Doubt:
    """Ends that do not fit as entered, with every explanation that takes the fewest mistakes.

    No explanation: more mistakes than can be untangled; look at these ends again.
    """

    ends: tuple[str, ...]
    explanations: tuple[Explanation, ...]
    test: Test | None = None

    def could_be(self, terminal: str) -> frozenset[frozenset[str]]:
        """Everything that a terminal may lead to."""
        return frozenset(one.map.get(terminal, frozenset()) for one in self.explanations)


@dataclass(frozen=True)
class Reconciled:
    """What can be said of the wire: links that nothing speaks against, and the doubts."""

    links: tuple[Link, ...]
    doubts: tuple[Doubt, ...]

    def link_of(self, terminal: str) -> Link | None:
        """The link of a terminal, if there is no doubt about it."""
        return next((one for one in self.links if one.terminal == terminal), None)

    def doubt_of(self, terminal: str) -> Doubt | None:
        """The doubt that a terminal is part of."""
        return next((one for one in self.doubts if terminal in one.ends), None)


@dataclass(frozen=True)
class Evidence:
    """All that was seen.

    `box` and `controller`: the ends whose colour was entered; what a splice in between turns into
    another cable's colour is already carried through. `ran`: by terminal name, the stations that
    ran as it was energised; an empty set is nothing. `readings`: by terminal name. `never_live`:
    terminals that can't be energised, such as the common.
    """

    box: tuple[End, ...]
    controller: tuple[End, ...]
    ran: Mapping[str, frozenset[str]] = field(default_factory=dict)
    readings: Mapping[str, Meaning] = field(default_factory=dict)
    never_live: frozenset[str] = frozenset()
