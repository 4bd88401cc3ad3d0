"""What was seen of the wire, and what it could mean: the inputs and results of `reconcile`.

Evidence is the colours at both sides, what ran when a terminal was energised, and ohm readings.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from fieldbook.wiring.colour_join import End
from fieldbook.wiring.readings import Meaning

LIKELY = 0.06
"""From this chance up an explanation is worth a line."""
Conductor = tuple[str, str]
"""A cable and a colour in it."""
MistakeKind = Literal[
    "misread",
    "entries exchanged",
    "two cables",
    "wires exchanged",
    "common exchanged",
    "shared wire",
    "leads nowhere",
    "broken",
    "touching",
    "reading doubtful",
    "test noted wrong",
]
Basis = Literal["colours", "ran", "ohms"]


class Mistake(NamedTuple):
    """One mistake, made in an entry or in the wire, that would explain what was seen.

    `ends` are the names of the ends concerned. misread: the end has conductor `to`, None if that
    is not known, and not the one entered. entries exchanged: two ends of one side were entered
    for each other. two cables: the ends are of a second cable that was entered as this one.
    wires exchanged: the wires under two terminals are, and the entries are right.
    common exchanged: the wires under these terminals and the common terminal are.
    shared wire: the ends are on one conductor. leads nowhere: the conductor is joined to nothing.
    broken: no current gets through. touching: the conductor touches another. reading doubtful:
    nothing that was seen explains the ohms. test noted wrong: what ran was noted for another
    terminal or zone.
    """

    kind: MistakeKind
    ends: tuple[str, ...]
    to: Conductor | None = None


WireMap = Mapping[str, frozenset[str]]
"""By a terminal's name, the stations that its conductor leads to; two where it is shared."""


@dataclass(frozen=True)
class Explanation:
    """One way in which everything seen fits: the wire map, and the likeliest mistakes that give it.

    chance: how likely it is beside the others, from 0 to 1. runs: by terminal, what should run as
    it is energised, which differs from the map where wires are broken, touch or have no common.
    reads: by terminal, what a meter should show: one coil (sound), two, none (open), or high.
    """

    map: WireMap
    mistakes: tuple[Mistake, ...]
    chance: float = 1.0
    runs: WireMap = field(default_factory=dict)
    reads: Mapping[str, Meaning] = field(default_factory=dict)


class Link(NamedTuple):
    """A terminal, the stations that its conductor leads to, the evidence, and how sure it is."""

    terminal: str
    stations: frozenset[str]
    basis: tuple[Basis, ...]
    chance: float = 1.0


TestKind = Literal["energise", "meter", "ring out"]


class DecidingTest(NamedTuple):
    """What to do next: energise this terminal, read it, or ring its conductor out.

    energise: see what runs. meter: power off, read the ohms from the lifted common to the wire.
    ring out: find where the conductor leads, where it can't be energised. What is seen rules
    explanations out. `settles`: all but one.
    """

    terminal: str
    settles: bool
    kind: TestKind = "energise"


@dataclass(frozen=True)
class Doubt:
    """Ends that do not fit as entered, and what could explain them, likeliest first.

    What is far less likely than the likeliest is left out. proven: what ran shows the
    likeliest map. An explanation's map also
    has terminals outside `ends` where it says something else of them than others do.
    """

    ends: tuple[str, ...]
    explanations: tuple[Explanation, ...]
    test: DecidingTest | None = None
    proven: bool = False

    @property
    def settled(self) -> bool:
        """Whether tests exclude every wire map but one."""
        return self.proven and len(self.explanations) == 1

    def likely(self, least: float = LIKELY) -> tuple[Explanation, ...]:
        """The explanations that are at least so likely; the likeliest in any case."""
        kept = tuple(one for one in self.explanations if one.chance >= least)
        return kept or self.explanations[:1]

    def could_be(self, terminal: str, least: float = 0.0) -> frozenset[frozenset[str]]:
        """The sets of stations that a terminal leads to, over explanations at least so likely."""
        return frozenset(one.map.get(terminal, frozenset()) for one in self.likely(least))


class Cause(NamedTuple):
    """What several terminals share and that alone explains why nothing runs, or reads, there.

    common: the common of `cable`. supply: the controller, its transformer or the water.
    metered: the meter showed it too, so it is the wire.
    """

    kind: Literal["common", "supply"]
    terminals: tuple[str, ...]
    cable: str
    metered: bool = False


@dataclass(frozen=True)
class Reconciled:
    """Links that no evidence speaks against, doubts about the others, and shared causes."""

    links: tuple[Link, ...]
    doubts: tuple[Doubt, ...]
    causes: tuple[Cause, ...] = ()

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
    such as the common. commons: stations that are commons (those of `never_live` are known to be).
    rows: stations in the order in which they lie at the controller; a slip to a neighbour is
    likelier than one to a row far off. Empty: not known. controllers: by terminal name, the
    controller it is on, where there are several.
    """

    box: tuple[End, ...]
    controller: tuple[End, ...]
    ran: Mapping[str, frozenset[str]] = field(default_factory=dict)
    readings: Mapping[str, Meaning] = field(default_factory=dict)
    never_live: frozenset[str] = frozenset()
    commons: frozenset[str] = frozenset()
    rows: tuple[str, ...] = ()
    controllers: Mapping[str, str] = field(default_factory=dict)
