"""The wire map from everything seen, or the fewest mistakes that explain what does not fit.

Ends that share a conductor, a station or a test are one group. A group in which everything fits
is linked as it stands. In any other the search is breadth-first over numbers of mistakes: it
takes the first misfit of a state and tries every mistake that could explain it, so that all
explanations with the fewest mistakes are found. What was seen to run counts as certain.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from fieldbook.wiring.colour_join import End
from fieldbook.wiring.evidence import (
    Basis,
    DecidingTest,
    Doubt,
    Evidence,
    Explanation,
    Link,
    Reconciled,
)
from fieldbook.wiring.misfits import first_misfit
from fieldbook.wiring.mistakes import states_after
from fieldbook.wiring.puzzle import Puzzle, State, wire_map

MOST_MISTAKES = 5
MOST_STATES = 6000
"""States looked at for one doubt before it is given up as too tangled, in well under a second."""


def reconcile(evidence: Evidence) -> Reconciled:
    """Derive the wire map from everything that was seen; what is uncertain becomes a doubt.

    The result does not depend on the order of the ends. Links are in the order of the controller.
    Never raises, however the evidence contradicts itself.
    """
    order = {end.name: number for number, end in enumerate(evidence.controller)}
    links: list[Link] = []
    unclear: list[Puzzle] = []
    for group in _groups(evidence):
        puzzle = Puzzle.of(group, evidence)
        if first_misfit(puzzle, puzzle.start) is None:
            links += _links(puzzle)
        else:
            unclear.append(puzzle)
    doubts = [_doubt(puzzle, order, evidence.never_live) for puzzle in _by_cable(unclear, evidence)]
    links.sort(key=lambda link: order.get(link.terminal, len(order)))
    return Reconciled(tuple(links), tuple(doubts))


def _groups(evidence: Evidence) -> list[list[End]]:
    """Ends that share a conductor, a station or a test, directly or through others."""
    ends = [*evidence.box, *evidence.controller]
    keys: defaultdict[object, list[int]] = defaultdict(list)
    for number, end in enumerate(ends):
        keys["conductor", end.cable, end.colour].append(number)
        keys["station", end.station].append(number)
    for name, stations in evidence.ran.items():
        tested = [number for number, end in enumerate(ends) if end.name == name]
        for station in stations:
            keys["station", station] += tested
    return [[ends[number] for number in group] for group in _united(len(ends), keys.values())]


def _united(count: int, together: Iterable[Sequence[int]]) -> list[list[int]]:
    """The numbers below `count` in groups, so that each list of `together` is inside one group."""
    # Union-find with path halving: every number points towards the leader of its group.
    leader = list(range(count))

    def find(number: int) -> int:
        while leader[number] != number:
            leader[number] = leader[leader[number]]
            number = leader[number]
        return number

    for members in together:
        for number in members[1:]:
            leader[find(number)] = find(members[0])
    found: defaultdict[int, list[int]] = defaultdict(list)
    for number in range(count):
        found[find(number)].append(number)
    return list(found.values())


def _by_cable(unclear: list[Puzzle], evidence: Evidence) -> list[Puzzle]:
    """Join puzzles with unmatched conductors of one cable into one puzzle.

    A colour misread in one group may be the very colour that is missing in the other.
    """
    keys: defaultdict[object, list[int]] = defaultdict(list)
    for number, puzzle in enumerate(unclear):
        for cable in puzzle.unmatched_cables():
            keys[cable].append(number)
    joined = []
    for group in _united(len(unclear), keys.values()):
        ends = [end for number in group for end in unclear[number].ends]
        joined.append(Puzzle.of(ends, evidence) if len(group) > 1 else unclear[group[0]])
    return joined


def _links(puzzle: Puzzle) -> list[Link]:
    """The links of a group in which everything fits, and the evidence for each."""
    found = []
    for terminal, stations in wire_map(puzzle, puzzle.start).items():
        basis: list[Basis] = []
        if puzzle.joined_by_colour(terminal):
            basis.append("colours")
        if puzzle.ran.get(terminal):
            basis.append("ran")
        if puzzle.readings.get(terminal) in ("sound", "two coils"):
            basis.append("ohms")
        if stations:
            found.append(Link(terminal, stations, tuple(basis)))
    return found


def _doubt(puzzle: Puzzle, order: Mapping[str, int], never_live: frozenset[str]) -> Doubt:
    explanations = _explain(puzzle)
    names = tuple(end.name for end in puzzle.ends)
    terminals = sorted((name for name in names if name in order), key=lambda name: order[name])
    # Energising a terminal a second time would tell nothing new.
    live = [name for name in terminals if name not in never_live and name not in puzzle.ran]
    test = _best_test(explanations, live)
    if test is None:
        test = _best_test(explanations, [name for name in terminals if name in never_live])
        test = test._replace(ring_out=True) if test is not None else None
    return Doubt(names, explanations, test)


def _explain(puzzle: Puzzle) -> tuple[Explanation, ...]:
    """Every wire map that takes the fewest mistakes, each with one set of mistakes that gives it.

    Empty where the search gives up.
    """
    layer: dict[State, None] = {puzzle.start: None}
    seen = 0
    for _ in range(MOST_MISTAKES + 1):
        whole: dict[tuple[tuple[str, frozenset[str]], ...], Explanation] = {}
        # A dict, because a set would not keep the order in which the mistakes are tried.
        following: dict[State, None] = {}
        for state in layer:
            seen += 1
            if seen > MOST_STATES:
                return ()
            misfit = first_misfit(puzzle, state)
            if misfit is None:
                found = wire_map(puzzle, state)
                whole.setdefault(tuple(sorted(found.items())), Explanation(found, state.mistakes))
            else:
                following.update(dict.fromkeys(states_after(puzzle, state, misfit)))
        if whole:
            return tuple(whole.values())
        layer = following
    return ()


def _best_test(
    explanations: Sequence[Explanation], terminals: Sequence[str]
) -> DecidingTest | None:
    """The terminal whose outcome tells most explanations apart; None if no outcome differs."""
    best, most = None, 1
    for name in terminals:
        outcomes = len({one.map.get(name, frozenset()) for one in explanations})
        if outcomes > most:
            best, most = name, outcomes
    return DecidingTest(best, most == len(explanations)) if best is not None else None
