"""The mistakes that could explain a misfit, as the states of a puzzle they lead to.

To add a kind of mistake, give it a kind in `evidence`, a way to arise here, words in
`papers/wire_map.py`, and a fault in `tests/support/random_wires.py`, which proves that the truth is
then still among the explanations.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from fieldbook.wiring.evidence import Conductor, Mistake, MistakeKind
from fieldbook.wiring.misfits import Misfit
from fieldbook.wiring.puzzle import Entries, Puzzle, State, doubles, wire_map


def states_after(puzzle: Puzzle, state: State, misfit: Misfit) -> Iterator[State]:
    """Every state that one mistake explaining the misfit leads to."""
    if misfit.kind == "ran":
        yield from _ran_otherwise(puzzle, state, misfit.name)
    elif misfit.kind == "ran several":
        yield _accept(state, "shared wire", misfit.name, [misfit.name])
        yield _accept(state, "touching", puzzle.ran[misfit.name], [misfit.name])
    elif misfit.kind in ("double box", "double controller"):
        yield from _doubled(puzzle, state, misfit)
    elif misfit.kind in ("lone box", "lone controller"):
        yield from _alone(puzzle, state, misfit)
    elif misfit.kind == "crossed":
        yield from _crossed(puzzle, state, misfit.name)
    else:
        yield from _read_otherwise(puzzle, state, misfit)


def _misread(puzzle: Puzzle, state: State, name: str, to: Conductor) -> State:
    """One end has conductor `to`, not the one that was entered."""
    known = None if to[1].startswith("?") else to
    mistake = Mistake("misread", (name,), known)
    if name in puzzle.terminals:
        return state.after(mistake, controller=_put(state.controller, name, to))
    return state.after(mistake, box=_put(state.box, name, to))


def _exchanged(puzzle: Puzzle, state: State, left: str, right: str) -> State:
    """The entries of two ends of one side are exchanged."""
    at_controller = left in puzzle.terminals
    entries = state.controller if at_controller else state.box
    entered = dict(entries)
    swapped = _put(_put(entries, left, entered[right]), right, entered[left])
    mistake = Mistake("entries exchanged", tuple(sorted((left, right))))
    if at_controller:
        return state.after(mistake, controller=swapped)
    return state.after(mistake, box=swapped)


def _accept(state: State, kind: MistakeKind, key: object, ends: Iterable[str]) -> State:
    """The misfit stays as it was seen, and this kind of mistake explains it."""
    return state.after(Mistake(kind, tuple(sorted(ends))), accepted=[(kind, key)])


def _unknown(puzzle: Puzzle, name: str) -> Conductor:
    """A conductor in the cable of an end that is none of those seen."""
    return puzzle.cable[name], f"?{name}"


def _put(entries: Entries, name: str, conductor: Conductor) -> Entries:
    return tuple((end, conductor if end == name else entered) for end, entered in entries)


def _only_in(entries: Entries, others: Entries, cable: str) -> list[Conductor]:
    """Known conductors of a cable that are at the side of `entries` and not at the other."""
    there = {conductor for _, conductor in others}
    found = [seen for _, seen in entries if seen not in there and seen[0] == cable]
    return [seen for seen in dict.fromkeys(found) if not seen[1].startswith("?")]


def _sides(state: State, *, at_box: bool) -> tuple[Entries, Entries]:
    """The entries of one side, then those of the other."""
    return (state.box, state.controller) if at_box else (state.controller, state.box)


def _doubled(puzzle: Puzzle, state: State, misfit: Misfit) -> Iterator[State]:
    """A conductor under several ends of one side: one of them is misread, or they share it."""
    own, other = _sides(state, at_box=misfit.kind == "double box")
    names = [name for name, conductor in own if conductor == misfit.conductor]
    free = _only_in(other, own, misfit.conductor[0])
    for name in names:
        for to in (*free, _unknown(puzzle, name)):
            yield _misread(puzzle, state, name, to)
    yield _accept(state, "shared wire", (misfit.kind, misfit.conductor), names)


def _alone(puzzle: Puzzle, state: State, misfit: Misfit) -> Iterator[State]:
    """A conductor at one side only: it, or an end of the other side, is misread, or it ends."""
    own, other = _sides(state, at_box=misfit.kind == "lone box")
    cable = misfit.conductor[0]
    for to in _only_in(other, own, cable):
        yield _misread(puzzle, state, misfit.name, to)
    own_conductors, doubled = {conductor for _, conductor in own}, doubles(other)
    for name, conductor in other:
        lone = conductor not in own_conductors
        if conductor[0] == cable and (lone or conductor in doubled):
            yield _misread(puzzle, state, name, misfit.conductor)
    yield _leads_nowhere(puzzle, state, misfit.name)


def _leads_nowhere(puzzle: Puzzle, state: State, end: str) -> State:
    """A conductor joined to nothing that was seen; then so is the one meant to answer it."""
    meant = {**puzzle.station, **dict(state.meant)}
    own, other = _sides(state, at_box=end not in puzzle.terminals)
    here = {conductor for _, conductor in own}
    answers = {
        name for name, conductor in other if meant[name] == meant[end] and conductor not in here
    }
    ends = sorted({end} | answers)
    mistake = Mistake("leads nowhere", tuple(ends))
    return state.after(mistake, accepted=[("leads nowhere", name) for name in ends])


def _crossed(puzzle: Puzzle, state: State, terminal: str) -> Iterator[State]:
    """A conductor leads to another station than its terminal is meant for."""
    conductor = dict(state.controller)[terminal]
    for station in sorted(wire_map(puzzle, state)[terminal]):
        yield _rewired(state, terminal, station, _meant_for(state, station, terminal))
    for name, at_box in state.box:
        if at_box == conductor:
            yield from _crossed_entries(puzzle, state, terminal, name)


def _meant_for(state: State, station: str, but: str) -> list[str]:
    """The terminals meant for a station, without one of them."""
    return [name for name, meant in state.meant if meant == station and name != but]


def _crossed_entries(puzzle: Puzzle, state: State, terminal: str, name: str) -> Iterator[State]:
    """Entries that could be wrong where terminal and box end `name` have one conductor.

    Either the terminal's entry is wrong, exchanged or misread, or that of the box end is.
    """
    controller, box = dict(state.controller), dict(state.box)
    at_box, at_controller = set(box.values()), set(controller.values())
    others = _meant_for(state, puzzle.station[name], terminal)
    for other in others:
        if other in controller:
            yield _exchanged(puzzle, state, terminal, other)
    wanted = dict(state.meant)[terminal]
    rivals = [rival for rival in box if puzzle.station[rival] == wanted]
    if not rivals:
        yield _misread(puzzle, state, terminal, _unknown(puzzle, terminal))
    if not others:
        yield _misread(puzzle, state, name, _unknown(puzzle, name))
    for rival in rivals:
        yield _exchanged(puzzle, state, name, rival)
        if box[rival] not in at_controller:
            yield _misread(puzzle, state, terminal, box[rival])
    for other in others:
        if controller[other] not in at_box:
            yield _misread(puzzle, state, name, controller[other])


def _rewired(state: State, terminal: str, station: str, others: list[str]) -> State:
    """The wires under terminals are exchanged: each serves what the other was meant for."""
    meant = dict(state.meant)
    old, meant[terminal] = meant[terminal], station
    for other in others:
        meant[other] = old
    mistake = Mistake("wires exchanged", tuple(sorted((terminal, *others))))
    return state.after(mistake, meant=meant)


def _ran_otherwise(puzzle: Puzzle, state: State, terminal: str) -> Iterator[State]:
    """Other valves ran than the entries say, or none."""
    ran, box = puzzle.ran[terminal], dict(state.box)
    conductor = dict(state.controller)[terminal]
    if not ran:
        yield _accept(state, "broken", terminal, [terminal])
        yield _misread(puzzle, state, terminal, _unknown(puzzle, terminal))
        return
    there = {name for name, at_box in box.items() if at_box == conductor}
    wanted = {name for name in box if puzzle.station[name] in ran}
    for name in sorted(wanted - there):
        yield _misread(puzzle, state, name, conductor)
        yield _misread(puzzle, state, terminal, box[name])
        for other, seen in state.controller:
            if seen == box[name] and other != terminal:
                yield _exchanged(puzzle, state, terminal, other)
        for wrong in sorted(there - wanted):
            yield _exchanged(puzzle, state, name, wrong)
    for wrong in sorted(there - wanted):
        yield _misread(puzzle, state, wrong, _unknown(puzzle, wrong))
        for free in _only_in(state.controller, state.box, conductor[0]):
            yield _misread(puzzle, state, wrong, free)
    if not wanted:
        yield _misread(puzzle, state, terminal, _unknown(puzzle, terminal))
    if len(ran) > 1:
        yield _accept(state, "touching", ran, [terminal])


def _read_otherwise(puzzle: Puzzle, state: State, misfit: Misfit) -> Iterator[State]:
    """The ohms are not those of what the entries say."""
    terminal, conductor = misfit.name, misfit.conductor
    ran = puzzle.ran.get(terminal, frozenset())
    if misfit.kind == "reads open":
        yield _accept(state, "broken", terminal, [terminal])
    elif misfit.kind == "reads two":
        shared = ("shared wire", ("double box", conductor))
        for name, seen in state.box:
            if seen != conductor and seen[0] == conductor[0]:
                misread = _misread(puzzle, state, name, conductor)
                # One mistake, not two: sharing is what the reading itself shows.
                yield replace(misread, accepted=misread.accepted | {shared})
    elif len(ran) > 1:
        yield _accept(state, "touching", ran, [terminal])
    yield _accept(state, "reading doubtful", terminal, [terminal])
