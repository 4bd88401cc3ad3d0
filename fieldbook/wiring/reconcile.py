"""The true wire map from everything seen, or the fewest mistakes that explain what does not fit.

Ends that hang together (one conductor, one station, one test) are one group. A group in which
everything fits is linked as it stands. For any other the search tries one mistake, then two, and
so on: it takes the first thing that does not fit, tries every mistake that could explain it, and
keeps all explanations of the smallest number. What ran is taken as it was seen.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from fieldbook.wiring.evidence import Basis, Doubt, Evidence, Explanation, Link, Reconciled, Test
from fieldbook.wiring.faults import Puzzle, State, first_amiss, wire_map
from fieldbook.wiring.join import End

MOST_MISTAKES = 5
MOST_STATES = 6000
"""States looked at for one doubt before it is given up as too tangled."""
MOST_EXPLANATIONS = 12


def reconcile(evidence: Evidence) -> Reconciled:
    """Everything that can be said of the wire. The order of the ends does not matter."""
    order = {end.name: no for no, end in enumerate(evidence.controller)}
    links: list[Link] = []
    doubts: list[Doubt] = []
    fine: list[Puzzle] = []
    amiss: list[Puzzle] = []
    for group in _groups(evidence):
        puzzle = Puzzle.of(group, evidence)
        (fine if first_amiss(puzzle, puzzle.start) is None else amiss).append(puzzle)
    for puzzle in fine:
        links += _links(puzzle)
    for puzzle in _by_cable(amiss, evidence):
        doubts.append(_doubt(puzzle, order, evidence.never_live))
    links.sort(key=lambda one: order.get(one.terminal, len(order)))
    return Reconciled(tuple(links), tuple(doubts))


def _groups(evidence: Evidence) -> list[list[End]]:
    """Ends that share a conductor, a station or a test, directly or through others."""
    ends = [*evidence.box, *evidence.controller]
    keys: defaultdict[object, list[int]] = defaultdict(list)
    for no, end in enumerate(ends):
        keys["conductor", end.cable, end.colour].append(no)
        keys["station", end.station].append(no)
    for name, stations in evidence.ran.items():
        tested = [no for no, end in enumerate(ends) if end.name == name]
        for station in stations:
            keys["station", station] += tested
    return [[ends[no] for no in group] for group in _united(len(ends), keys.values())]


def _united(count: int, together: Iterable[Sequence[int]]) -> list[list[int]]:
    """Numbers in groups, each list of `together` in one group."""
    leader = list(range(count))

    def find(no: int) -> int:
        while leader[no] != no:
            leader[no] = leader[leader[no]]
            no = leader[no]
        return no

    for row in together:
        for no in row[1:]:
            leader[find(no)] = find(row[0])
    found: defaultdict[int, list[int]] = defaultdict(list)
    for no in range(count):
        found[find(no)].append(no)
    return list(found.values())


def _by_cable(amiss: list[Puzzle], evidence: Evidence) -> list[Puzzle]:
    """Doubts in which a misread colour could stand for another's, put together by cable."""
    keys: defaultdict[object, list[int]] = defaultdict(list)
    for no, puzzle in enumerate(amiss):
        for cable in puzzle.cables_with_strays():
            keys[cable].append(no)
    joined = []
    for group in _united(len(amiss), keys.values()):
        ends = [end for no in group for end in amiss[no].ends]
        joined.append(Puzzle.of(ends, evidence) if len(group) > 1 else amiss[group[0]])
    return joined


def _links(puzzle: Puzzle) -> list[Link]:
    """The links of a group in which everything fits, and what speaks for each."""
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
    found = _explain(puzzle)
    names = tuple(end.name for end in puzzle.ends)
    terminals = sorted((name for name in names if name in order), key=lambda name: order[name])
    live = [name for name in terminals if name not in never_live and name not in puzzle.ran]
    test = _best_test(found, live)
    if test is None:
        test = _best_test(found, [name for name in terminals if name in never_live])
        test = test._replace(ring_out=True) if test is not None else None
    return Doubt(names, found, test)


def _explain(puzzle: Puzzle) -> tuple[Explanation, ...]:
    """Every map that takes the fewest mistakes, each with one set of mistakes that gives it."""
    layer: dict[State, None] = {puzzle.start: None}
    seen = 0
    for _ in range(MOST_MISTAKES + 1):
        whole: dict[tuple[tuple[str, frozenset[str]], ...], Explanation] = {}
        following: dict[State, None] = {}
        for state in layer:
            seen += 1
            if seen > MOST_STATES:
                return ()
            amiss = first_amiss(puzzle, state)
            if amiss is None:
                found = wire_map(puzzle, state)
                whole.setdefault(tuple(sorted(found.items())), Explanation(found, state.mistakes))
            else:
                following.update(dict.fromkeys(puzzle.after(state, amiss)))
        if whole:
            return tuple(whole.values())
        layer = following
    return ()


def _best_test(found: Sequence[Explanation], terminals: Sequence[str]) -> Test | None:
    """Of these terminals the one whose outcome tells most explanations apart."""
    best, most = None, 1
    for name in terminals:
        outcomes = len({one.map.get(name, frozenset()) for one in found})
        if outcomes > most:
            best, most = name, outcomes
    return Test(best, most == len(found)) if best is not None else None
