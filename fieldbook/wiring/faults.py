"""One group of wire ends: what does not fit in it, and the mistakes that could explain that.

A `State` is the group as it would be with some mistakes put right. `first_amiss` names the first
thing that does not fit, and `Puzzle.after` gives every state one mistake on that could mend it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple

from fieldbook.wiring.evidence import Conductor, Evidence, Mistake, MistakeKind
from fieldbook.wiring.join import End
from fieldbook.wiring.readings import Meaning

Entries = tuple[tuple[str, Conductor], ...]
"""From an end's name to its conductor."""
Accepted = frozenset[tuple[str, object]]


class Amiss(NamedTuple):
    """What does not fit, at which end (or on which conductor)."""

    what: Literal["ran", "double box", "double controller", "lone box", "lone controller"] | str
    name: str = ""
    conductor: Conductor = ("", "")


@dataclass(frozen=True)
class State:
    """Entries as they would be, the station each terminal is meant for, and what is accepted.

    Two states that differ only in the order of their mistakes are one.
    """

    box: Entries
    controller: Entries
    meant: tuple[tuple[str, str], ...]
    accepted: Accepted = frozenset()
    mistakes: tuple[Mistake, ...] = field(default=(), compare=False)

    def holding(self, mistake: Mistake, **changes: object) -> State:
        """This state with one mistake more."""
        return replace(self, mistakes=(*self.mistakes, mistake), **changes)  # type: ignore[arg-type]


def wire_map(puzzle: Puzzle, state: State) -> dict[str, frozenset[str]]:
    """Where each terminal's conductor leads: by the entries, and by what ran where none is."""
    at: defaultdict[Conductor, set[str]] = defaultdict(set)
    for name, conductor in state.box:
        at[conductor].add(puzzle.station[name])
    entered = {puzzle.station[name] for name, _ in state.box}
    meant = dict(state.meant)
    found = {}
    for name, conductor in state.controller:
        stations = set(at.get(conductor, ()))
        ran = {one for one in puzzle.ran.get(name, ()) if one not in entered}
        if ("touching", puzzle.ran.get(name)) in state.accepted:
            # Of what a touching wire makes run, its own is what it is meant for, if anything.
            ran = set() if stations else ran & {meant[name]} or ran
        found[name] = frozenset(stations | ran)
    return found


@dataclass(frozen=True)
class Puzzle:
    """The ends of a group and what was seen of them. `station`: what each end is meant for."""

    ends: tuple[End, ...]
    start: State
    station: Mapping[str, str]
    cable: Mapping[str, str]
    ran: Mapping[str, frozenset[str]]
    readings: Mapping[str, Meaning]
    _terminals: frozenset[str]

    @classmethod
    def of(cls, ends: Sequence[End], evidence: Evidence) -> Puzzle:
        """The puzzle of these ends, in an order of its own, so that entry's does not matter."""
        ends = sorted(ends)
        terminals = {end.name for end in evidence.controller}
        box = [end for end in ends if end.name not in terminals]
        controller = [end for end in ends if end.name in terminals]
        start = State(
            tuple((end.name, (end.cable, end.colour)) for end in box),
            tuple((end.name, (end.cable, end.colour)) for end in controller),
            tuple((end.name, end.station) for end in controller),
        )
        names = {end.name for end in ends}
        return cls(
            (*box, *controller),
            start,
            {end.name: end.station for end in ends},
            {end.name: end.cable for end in ends},
            {name: ran for name, ran in evidence.ran.items() if name in names},
            {name: one for name, one in evidence.readings.items() if name in names},
            frozenset(terminals & names),
        )

    def joined_by_colour(self, terminal: str) -> bool:
        """Whether a terminal's conductor was entered at the box too."""
        conductor = dict(self.start.controller)[terminal]
        return any(one == conductor for _, one in self.start.box)

    def cables_with_strays(self) -> set[str]:
        """Cables of conductors that are at one end only, or twice at one."""
        at_box = [conductor for _, conductor in self.start.box]
        at_controller = [conductor for _, conductor in self.start.controller]
        strays = {*at_box} ^ {*at_controller}
        for side in (at_box, at_controller):
            strays |= {one for one in side if side.count(one) > 1}
        return {cable for cable, _ in strays}

    # what could explain it

    def after(self, state: State, amiss: Amiss) -> Iterator[State]:
        """Every state that one mistake explaining `amiss` leads to."""
        if amiss.what == "ran":
            yield from self._ran_otherwise(state, amiss.name)
        elif amiss.what == "ran several":
            yield self._accept(state, "shared wire", amiss.name, amiss.name)
            yield self._accept(state, "touching", self.ran[amiss.name], amiss.name)
        elif amiss.what.startswith("double"):
            yield from self._doubled(state, amiss)
        elif amiss.what.startswith("lone"):
            yield from self._alone(state, amiss)
        elif amiss.what == "crossed":
            yield from self._crossed(state, amiss.name)
        else:
            yield from self._read_otherwise(state, amiss)

    def _misread(self, state: State, name: str, to: Conductor) -> State:
        """One entry put right."""
        known = None if to[1].startswith("?") else to
        mistake = Mistake("misread", (name,), known)
        if name in self._terminals:
            return state.holding(mistake, controller=_put(state.controller, name, to))
        return state.holding(mistake, box=_put(state.box, name, to))

    def _exchanged(self, state: State, one: str, other: str) -> State:
        """The entries of two ends of one side exchanged."""
        side = "controller" if one in self._terminals else "box"
        entries: Entries = getattr(state, side)
        held = dict(entries)
        swapped = _put(_put(entries, one, held[other]), other, held[one])
        mistake = Mistake("entries exchanged", tuple(sorted((one, other))))
        return state.holding(mistake, **{side: swapped})

    def _accept(self, state: State, kind: MistakeKind, key: object, *ends: str) -> State:
        mistake = Mistake(kind, tuple(sorted(ends)))
        return state.holding(mistake, accepted=state.accepted | {(kind, key)})

    def _unknown(self, name: str) -> Conductor:
        """A conductor that is none of those seen."""
        return self.cable[name], f"?{name}"

    def _strays(self, entries: Entries, others: Entries, cable: str) -> list[Conductor]:
        """Conductors of a cable that only `entries` have."""
        there = {conductor for _, conductor in others}
        found = [one for _, one in entries if one not in there and one[0] == cable]
        return [one for one in dict.fromkeys(found) if not one[1].startswith("?")]

    def _doubled(self, state: State, amiss: Amiss) -> Iterator[State]:
        at_box = amiss.what == "double box"
        own, other = (state.box, state.controller) if at_box else (state.controller, state.box)
        names = [name for name, conductor in own if conductor == amiss.conductor]
        free = self._strays(other, own, amiss.conductor[0])
        for name in names:
            for to in (*free, self._unknown(name)):
                yield self._misread(state, name, to)
        yield self._accept(state, "shared wire", (amiss.what, amiss.conductor), *names)

    def _alone(self, state: State, amiss: Amiss) -> Iterator[State]:
        at_box = amiss.what == "lone box"
        own, other = (state.box, state.controller) if at_box else (state.controller, state.box)
        cable = amiss.conductor[0]
        for to in self._strays(other, own, cable):
            yield self._misread(state, amiss.name, to)
        doubled = _doubles(other)
        for name, conductor in other:
            lone = all(conductor != one for _, one in own)
            if conductor[0] == cable and (lone or conductor in doubled):
                yield self._misread(state, name, amiss.conductor)
        yield self._leads_nowhere(state, amiss)

    def _leads_nowhere(self, state: State, amiss: Amiss) -> State:
        """A conductor joined to nothing that was seen, and so the one meant to answer it."""
        meant, ends = dict(state.meant), {amiss.name}
        at_box = {conductor for _, conductor in state.box}
        at_controller = {conductor for _, conductor in state.controller}
        station = meant.get(amiss.name, self.station[amiss.name])
        if amiss.name not in self._terminals:
            ends |= {
                name
                for name, conductor in state.controller
                if meant[name] == station and conductor not in at_box
            }
        else:
            ends |= {
                name
                for name, conductor in state.box
                if self.station[name] == station and conductor not in at_controller
            }
        mistake = Mistake("leads nowhere", tuple(sorted(ends)))
        accepted = {("leads nowhere", name) for name in ends}
        return state.holding(mistake, accepted=state.accepted | accepted)

    def _crossed(self, state: State, terminal: str) -> Iterator[State]:
        """A conductor that leads to another station than its terminal is meant for."""
        controller, meant = dict(state.controller), dict(state.meant)
        conductor = controller[terminal]
        for station in sorted(wire_map(self, state)[terminal]):
            others = [one for one, what in state.meant if what == station and one != terminal]
            yield self._rewired(state, terminal, station, others)
        for name in [name for name, one in state.box if one == conductor]:
            station = self.station[name]
            others = [one for one, what in state.meant if what == station and one != terminal]
            for other in others:
                if other in controller:
                    yield self._exchanged(state, terminal, other)
            rivals = [one for one, _ in state.box if self.station[one] == meant[terminal]]
            if not rivals:
                yield self._misread(state, terminal, self._unknown(terminal))
            if not others:
                yield self._misread(state, name, self._unknown(name))
            for rival in rivals:
                yield self._exchanged(state, name, rival)
                own = dict(state.box)[rival]
                if all(own != one for one in controller.values()):
                    yield self._misread(state, terminal, own)
            for other in others:
                own = controller[other]
                if all(own != one for _, one in state.box):
                    yield self._misread(state, name, own)

    def _rewired(self, state: State, terminal: str, station: str, others: list[str]) -> State:
        """The wires under two terminals exchanged: each serves what the other was meant for."""
        meant = dict(state.meant)
        old, meant[terminal] = meant[terminal], station
        for other in others:
            meant[other] = old
        mistake = Mistake("wires exchanged", tuple(sorted((terminal, *others))))
        return state.holding(mistake, meant=tuple(meant.items()))

    def _ran_otherwise(self, state: State, terminal: str) -> Iterator[State]:
        """What ran is not what the entries say."""
        ran, box = self.ran[terminal], dict(state.box)
        controller = dict(state.controller)
        conductor = controller[terminal]
        if not ran:
            yield self._accept(state, "broken", terminal, terminal)
            yield self._misread(state, terminal, self._unknown(terminal))
            return
        there = {name for name, one in box.items() if one == conductor}
        wanted = {name for name in box if self.station[name] in ran}
        for name in sorted(wanted - there):
            yield self._misread(state, name, conductor)
            yield self._misread(state, terminal, box[name])
            for other, one in state.controller:
                if one == box[name] and other != terminal:
                    yield self._exchanged(state, terminal, other)
            for wrong in sorted(there - wanted):
                yield self._exchanged(state, name, wrong)
        for wrong in sorted(there - wanted):
            yield self._misread(state, wrong, self._unknown(wrong))
            for free in self._strays(state.controller, state.box, conductor[0]):
                yield self._misread(state, wrong, free)
        if not wanted:
            yield self._misread(state, terminal, self._unknown(terminal))
        if len(ran) > 1:
            yield self._accept(state, "touching", ran, terminal)

    def _read_otherwise(self, state: State, amiss: Amiss) -> Iterator[State]:
        """The ohms are not those of what the entries say."""
        conductor = amiss.conductor
        if amiss.what == "reads open":
            yield self._accept(state, "broken", amiss.name, amiss.name)
        elif amiss.what == "reads two":
            for name, one in state.box:
                if one != conductor and one[0] == conductor[0]:
                    shared = self._misread(state, name, conductor)
                    yield replace(
                        shared,
                        accepted=shared.accepted | {("shared wire", ("double box", conductor))},
                    )
        elif len(self.ran.get(amiss.name, ())) > 1:
            yield self._accept(state, "touching", self.ran[amiss.name], amiss.name)
        yield self._accept(state, "reading doubtful", amiss.name, amiss.name)


def _put(entries: Entries, name: str, conductor: Conductor) -> Entries:
    return tuple((one, conductor if one == name else had) for one, had in entries)


def _doubles(entries: Entries) -> set[Conductor]:
    seen: set[Conductor] = set()
    return {one for _, one in entries if one in seen or seen.add(one)}  # type: ignore[func-returns-value]


def first_amiss(puzzle: Puzzle, state: State) -> Amiss | None:
    """The first thing that does not fit; None when everything does."""
    for kind in (_amiss_ran, _amiss_doubles, _amiss_readings, _amiss_alone, _amiss_crossed):
        for found in kind(puzzle, state):
            return found
    return None


def _amiss_ran(puzzle: Puzzle, state: State) -> Iterator[Amiss]:
    found = wire_map(puzzle, state)
    for name, ran in puzzle.ran.items():
        if name not in found or ("touching", puzzle.ran[name]) in state.accepted:
            continue
        if ran != found[name] and not (not ran and ("broken", name) in state.accepted):
            yield Amiss("ran", name)
        several = len(ran) > 1 and len(_on_one(puzzle, state, name)) < len(ran)
        if several and ("shared wire", name) not in state.accepted:
            yield Amiss("ran several", name)


def _on_one(puzzle: Puzzle, state: State, terminal: str) -> set[str]:
    """The stations whose entries are a terminal's own conductor."""
    conductor = dict(state.controller)[terminal]
    return {puzzle.station[name] for name, one in state.box if one == conductor}


def _amiss_doubles(puzzle: Puzzle, state: State) -> Iterator[Amiss]:
    seen_to_share = {
        conductor
        for name, conductor in state.controller
        if len(puzzle.ran.get(name, ())) > 1
        and ("touching", puzzle.ran.get(name)) not in state.accepted
    }
    for what, entries in (("double box", state.box), ("double controller", state.controller)):
        for conductor in sorted(_doubles(entries)):
            shared = ("shared wire", (what, conductor)) in state.accepted
            if not shared and not (what == "double box" and conductor in seen_to_share):
                yield Amiss(what, "", conductor)


def _amiss_readings(puzzle: Puzzle, state: State) -> Iterator[Amiss]:
    found, meant = wire_map(puzzle, state), dict(state.meant)
    entered = {puzzle.station[name] for name, _ in state.box}
    for name, conductor in state.controller:
        meaning = puzzle.readings.get(name)
        if meaning is None or ("reading doubtful", name) in state.accepted:
            continue
        coils, broken = len(found[name]), ("broken", name) in state.accepted
        if meaning == "open" and coils and not broken:
            yield Amiss("reads open", name, conductor)
        elif (
            meaning == "two coils" and coils < 2 and {meant[name], puzzle.station[name]} <= entered
        ):
            yield Amiss("reads two", name, conductor)
        elif meaning in ("sound", "high") and (coils > 1 or broken):
            yield Amiss("reads one", name, conductor)


def _amiss_alone(puzzle: Puzzle, state: State) -> Iterator[Amiss]:
    """A conductor at one end whose station has an entry at the other, and not this one."""
    found = wire_map(puzzle, state)
    meant = dict(state.meant)
    at_box = {conductor for _, conductor in state.box}
    at_controller = {conductor for _, conductor in state.controller}
    doubled = _doubles(state.controller)
    sharing = {meant[name] for name, conductor in state.controller if conductor in doubled}
    on_one = _doubles(state.box)
    shared = {puzzle.station[name] for name, conductor in state.box if conductor in on_one}
    shared |= {one for stations in found.values() if len(stations) > 1 for one in stations}
    box_has = {puzzle.station[name] for name, _ in state.box}
    for name, conductor in state.box:
        station = puzzle.station[name]
        waits = station not in meant.values() or station in sharing or station in shared
        if conductor not in at_controller and not waits and not _settled(state, name, conductor):
            yield Amiss("lone box", name, conductor)
    for name, conductor in state.controller:
        waits = conductor in at_box or meant[name] not in box_has or meant[name] in shared
        if not waits and not found[name] and not _settled(state, name, conductor):
            yield Amiss("lone controller", name, conductor)


def _settled(state: State, name: str, conductor: Conductor) -> bool:
    """Whether nothing more need be said of a lone end."""
    return conductor[1].startswith("?") or ("leads nowhere", name) in state.accepted


def _amiss_crossed(puzzle: Puzzle, state: State) -> Iterator[Amiss]:
    meant = dict(state.meant)
    for name, stations in wire_map(puzzle, state).items():
        if stations and meant[name] not in stations:
            yield Amiss("crossed", name)
