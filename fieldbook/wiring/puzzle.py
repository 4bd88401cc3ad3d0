"""One group of wire ends as a search problem: what was seen of it, and what it could have been.

A `State` is the group as it would be with some mistakes put right. `misfits` finds what still
does not fit in a state, and `mistakes` gives every state that one mistake more leads to.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from fieldbook.wiring.colour_join import End
from fieldbook.wiring.evidence import Conductor, Evidence, Mistake
from fieldbook.wiring.readings import Meaning

Entries = tuple[tuple[str, Conductor], ...]
"""The name of an end and its conductor, in pairs."""
Accepted = frozenset[tuple[str, object]]
"""Misfits that a mistake already explains: the kind of mistake, and the end or conductor."""


@dataclass(frozen=True)
class State:
    """Entries as they would be, the station that each terminal is meant for, what is accepted.

    The mistakes do not count in a comparison, so that two states which differ only in the order
    of their mistakes are searched once.
    """

    box: Entries
    controller: Entries
    meant: tuple[tuple[str, str], ...]
    accepted: Accepted = frozenset()
    mistakes: tuple[Mistake, ...] = field(default=(), compare=False)

    def after(
        self,
        mistake: Mistake,
        *,
        box: Entries | None = None,
        controller: Entries | None = None,
        meant: Mapping[str, str] | None = None,
        accepted: Iterable[tuple[str, object]] = (),
    ) -> State:
        """This state with one mistake more, and what that mistake changes or makes acceptable."""
        return State(
            self.box if box is None else box,
            self.controller if controller is None else controller,
            self.meant if meant is None else tuple(meant.items()),
            self.accepted.union(accepted),
            (*self.mistakes, mistake),
        )


@dataclass(frozen=True)
class Puzzle:
    """The ends of a group, box first, and what was seen of them.

    By the name of an end: `station` is what it is meant for, `cable` its cable, `ran` and
    `readings` as in `Evidence`. `terminals` are the names of the ends at the controller.
    """

    ends: tuple[End, ...]
    start: State
    station: Mapping[str, str]
    cable: Mapping[str, str]
    ran: Mapping[str, frozenset[str]]
    readings: Mapping[str, Meaning]
    terminals: frozenset[str]

    @classmethod
    def of(cls, ends: Sequence[End], evidence: Evidence) -> Puzzle:
        """The puzzle of these ends. They are sorted, so that the order of entry can't matter."""
        ends = sorted(ends)
        names = {end.name for end in ends}
        terminals = names & {end.name for end in evidence.controller}
        box = [end for end in ends if end.name not in terminals]
        controller = [end for end in ends if end.name in terminals]
        meant = tuple((end.name, end.station) for end in controller)
        return cls(
            (*box, *controller),
            State(_entries(box), _entries(controller), meant),
            {end.name: end.station for end in ends},
            {end.name: end.cable for end in ends},
            {name: ran for name, ran in evidence.ran.items() if name in names},
            {name: meaning for name, meaning in evidence.readings.items() if name in names},
            frozenset(terminals),
        )

    def joined_by_colour(self, terminal: str) -> bool:
        """Whether a terminal's conductor was entered at the box too."""
        conductor = dict(self.start.controller)[terminal]
        return any(at_box == conductor for _, at_box in self.start.box)

    def unmatched_cables(self) -> set[str]:
        """Cables with a conductor that is at one end only, or twice at one end."""
        box, controller = self.start.box, self.start.controller
        unmatched = {conductor for _, conductor in box} ^ {conductor for _, conductor in controller}
        return {cable for cable, _ in unmatched | doubles(box) | doubles(controller)}


def _entries(ends: Sequence[End]) -> Entries:
    return tuple((end.name, (end.cable, end.colour)) for end in ends)


def doubles(entries: Entries) -> set[Conductor]:
    """The conductors that more than one end has."""
    seen: set[Conductor] = set()
    found: set[Conductor] = set()
    for _, conductor in entries:
        (found if conductor in seen else seen).add(conductor)
    return found


def wire_map(puzzle: Puzzle, state: State) -> dict[str, frozenset[str]]:
    """The stations that each terminal's conductor leads to in a state.

    They come from the entries, and from what ran where a station has no entry at the box.
    """
    at: defaultdict[Conductor, set[str]] = defaultdict(set)
    for name, conductor in state.box:
        at[conductor].add(puzzle.station[name])
    entered = {puzzle.station[name] for name, _ in state.box}
    meant = dict(state.meant)
    found = {}
    for name, conductor in state.controller:
        stations = set(at.get(conductor, ()))
        ran = {station for station in puzzle.ran.get(name, ()) if station not in entered}
        if ("touching", puzzle.ran.get(name)) in state.accepted:
            # Touching wires ran together; the terminal's own is the one it is meant for, if any.
            ran = set() if stations else ran & {meant[name]} or ran
        found[name] = frozenset(stations | ran)
    return found
