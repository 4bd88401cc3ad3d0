"""What does not fit in a state of a puzzle: the first misfit, which the search explains next."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from fieldbook.wiring.evidence import Conductor
from fieldbook.wiring.puzzle import Puzzle, State, doubles, wire_map

MisfitKind = Literal[
    "ran",
    "ran several",
    "double box",
    "double controller",
    "reads open",
    "reads two",
    "reads one",
    "lone box",
    "lone controller",
    "crossed",
]


class Misfit(NamedTuple):
    """One thing that does not fit: at which end, or on which conductor.

    ran: other valves ran than the entries say. ran several: valves ran together whose entries are
    not on one conductor. double: a conductor under more than one end of a side. reads: the ohms
    are not those of the coils there. lone: an end whose station has an entry at the other side,
    but on another conductor. crossed: a conductor leads elsewhere than its terminal is meant for.
    """

    kind: MisfitKind
    name: str = ""
    conductor: Conductor = ("", "")


def first_misfit(puzzle: Puzzle, state: State) -> Misfit | None:
    """The first thing that does not fit; None when everything does.

    What was seen to run comes first, since it is taken as certain and cuts the search most.
    """
    for kind in (_ran, _doubled, _readings, _lone, _crossed):
        for found in kind(puzzle, state):
            return found
    return None


def _ran(puzzle: Puzzle, state: State) -> Iterator[Misfit]:
    leads_to = wire_map(puzzle, state)
    for name, ran in puzzle.ran.items():
        if name not in leads_to or ("touching", ran) in state.accepted:
            continue
        if ran != leads_to[name] and not (not ran and ("broken", name) in state.accepted):
            yield Misfit("ran", name)
        several = len(ran) > 1 and len(_on_one_conductor(puzzle, state, name)) < len(ran)
        if several and ("shared wire", name) not in state.accepted:
            yield Misfit("ran several", name)


def _on_one_conductor(puzzle: Puzzle, state: State, terminal: str) -> set[str]:
    """The stations that are entered on a terminal's own conductor."""
    own = dict(state.controller)[terminal]
    return {puzzle.station[name] for name, conductor in state.box if conductor == own}


def _doubled(puzzle: Puzzle, state: State) -> Iterator[Misfit]:
    seen_to_share = {
        conductor
        for name, conductor in state.controller
        if len(puzzle.ran.get(name, ())) > 1
        and ("touching", puzzle.ran.get(name)) not in state.accepted
    }
    for conductor in sorted(doubles(state.box) - seen_to_share):
        if ("shared wire", ("double box", conductor)) not in state.accepted:
            yield Misfit("double box", "", conductor)
    for conductor in sorted(doubles(state.controller)):
        if ("shared wire", ("double controller", conductor)) not in state.accepted:
            yield Misfit("double controller", "", conductor)


def _readings(puzzle: Puzzle, state: State) -> Iterator[Misfit]:
    leads_to, meant = wire_map(puzzle, state), dict(state.meant)
    entered = {puzzle.station[name] for name, _ in state.box}
    for name, conductor in state.controller:
        meaning = puzzle.readings.get(name)
        if meaning is None or ("reading doubtful", name) in state.accepted:
            continue
        coils, broken = len(leads_to[name]), ("broken", name) in state.accepted
        known = {meant[name], puzzle.station[name]} <= entered
        if meaning == "open" and coils and not broken:
            yield Misfit("reads open", name, conductor)
        elif meaning == "two coils" and coils < 2 and known:
            yield Misfit("reads two", name, conductor)
        elif meaning in ("sound", "high") and (coils > 1 or broken):
            yield Misfit("reads one", name, conductor)


def _lone(puzzle: Puzzle, state: State) -> Iterator[Misfit]:
    leads_to = wire_map(puzzle, state)
    shared = _sharing(puzzle, state, leads_to)
    yield from _lone_at_box(puzzle, state, shared)
    yield from _lone_at_controller(puzzle, state, leads_to, shared)


def _sharing(puzzle: Puzzle, state: State, leads_to: dict[str, frozenset[str]]) -> set[str]:
    """The stations on a conductor with another: their own end at the other side is spoken for."""
    on_one = doubles(state.box)
    found = {puzzle.station[name] for name, conductor in state.box if conductor in on_one}
    return found.union(*(stations for stations in leads_to.values() if len(stations) > 1))


def _lone_at_box(puzzle: Puzzle, state: State, shared: set[str]) -> Iterator[Misfit]:
    at_controller = {conductor for _, conductor in state.controller}
    meant, doubled = dict(state.meant), doubles(state.controller)
    sharing = {meant[name] for name, conductor in state.controller if conductor in doubled}
    # A station without a terminal yet is merely not entered at that side.
    expected = set(meant.values()) - sharing - shared
    for name, conductor in state.box:
        lone = conductor not in at_controller and puzzle.station[name] in expected
        if lone and not _is_settled(state, name, conductor):
            yield Misfit("lone box", name, conductor)


def _lone_at_controller(
    puzzle: Puzzle, state: State, leads_to: dict[str, frozenset[str]], shared: set[str]
) -> Iterator[Misfit]:
    at_box = {conductor for _, conductor in state.box}
    meant = dict(state.meant)
    expected = {puzzle.station[name] for name, _ in state.box} - shared
    for name, conductor in state.controller:
        lone = conductor not in at_box and meant[name] in expected and not leads_to[name]
        if lone and not _is_settled(state, name, conductor):
            yield Misfit("lone controller", name, conductor)


def _is_settled(state: State, name: str, conductor: Conductor) -> bool:
    """Whether a lone end is explained: its conductor is unknown, or leads nowhere."""
    return conductor[1].startswith("?") or ("leads nowhere", name) in state.accepted


def _crossed(puzzle: Puzzle, state: State) -> Iterator[Misfit]:
    meant = dict(state.meant)
    for name, stations in wire_map(puzzle, state).items():
        if stations and meant[name] not in stations:
            yield Misfit("crossed", name)
