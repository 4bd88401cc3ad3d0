"""Where current goes in a way of joining a tangle: what runs, and what the meter should show.

A valve runs when current goes out on its terminal's wire, through its coil alone, and back on what
is under the common terminal. Where common and hot are exchanged, that one valve runs all the same
(a coil has no direction), and no other valve of the cable does: two coils in a row never pull in.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass, field

from fieldbook.wiring.costs import Costs
from fieldbook.wiring.evidence import Mistake
from fieldbook.wiring.readings import Meaning
from fieldbook.wiring.tangle import NOWHERE, Tangle, Ways
from fieldbook.wiring.wire_slips import Weighed


@dataclass
class Faults:
    """Terminals that carry no current, stations that don't run, pairs of terminals that touch."""

    broken: set[int] = field(default_factory=set)
    dead: set[int] = field(default_factory=set)
    touching: set[tuple[int, int]] = field(default_factory=set)

    def partners(self, terminal: int) -> set[int]:
        """The terminals whose wires touch this one's."""
        return {a if b == terminal else b for a, b in self.touching if terminal in (a, b)}


class Currents:
    """The circuits of one way of joining a tangle."""

    def __init__(self, tangle: Tangle, ways: Ways) -> None:
        """Lay out the circuits, without any fault in them yet."""
        self.tangle, self.ways = tangle, ways
        self.on = tangle.on(ways)
        self.faults = Faults()
        self._displaced = {
            cable: (ways[no], homes[0])
            for no, cable, homes in tangle.commons
            if ways[no] not in homes
        }

    @property
    def common_displaced(self) -> bool:
        """Whether a common does not come out at its own terminal."""
        return bool(self._displaced)

    @property
    def one_hidden_moved(self) -> bool:
        """Whether a valve that is not entered had to leave its terminal to another."""
        owners = self.tangle.owners
        return any(here and not owners[no] for no, here in enumerate(self.on))

    def path(self, terminal: int) -> tuple[list[int], bool]:
        """The stations that current from a terminal goes through, and whether two in a row."""
        here = [no for no in self.on[terminal] if not self.tangle.stations[no].common]
        displaced = self._displaced.get(self.tangle.terminals[terminal].cable)
        if displaced is None:
            return here, False
        at, home = displaced
        back = [no for no in self.on[home] if not self.tangle.stations[no].common]
        if terminal == at:
            return back, False
        return here, True

    def runs(self, terminal: int) -> frozenset[str]:
        """The names of the stations that run as a terminal is energised."""
        found: set[int] = set()
        for live in (terminal, *self.faults.partners(terminal)):
            stations, in_a_row = self.path(live)
            if not in_a_row and live not in self.faults.broken:
                found.update(stations)
        return frozenset(self.tangle.stations[no].name for no in found - self.faults.dead)


def weigh_tests(currents: Currents, costs: Costs, into: Weighed, *, beside: bool) -> None:
    """What was seen to run, and the readings. `beside`: also those of ends that fit."""
    tangle = currents.tangle
    looked = [
        no
        for no, one in enumerate(tangle.terminals)
        if beside or not one.beside or len(currents.on[no]) > 1 or currents.common_displaced
    ]
    for no in looked:
        ran = tangle.terminals[no].ran
        if ran is not None:
            _ran(currents, no, ran, costs, into)
    for no in looked:
        if tangle.terminals[no].reading is not None and not tangle.terminals[no].common:
            _read(currents, no, costs, into)


def _ran(
    currents: Currents, terminal: int, ran: frozenset[str], costs: Costs, into: Weighed
) -> None:
    """Weigh one test: stations that should have run and did not, and those that ran besides."""
    tangle = currents.tangle
    stations, in_a_row = currents.path(terminal)
    expected = {tangle.stations[no].name for no in stations} if not in_a_row else set()
    if not ran and not in_a_row and (expected or _hides_one(currents, terminal)):
        one = tangle.terminals[terminal]
        alive = one.reading in ("sound", "high", "low", "two coils")
        currents.faults.broken.add(terminal)
        into.add(costs.shut if alive else costs.nothing_ran, Mistake("broken", (one.name,)))
    elif ran:
        _silent(currents, terminal, expected - ran, costs, into)
    if extra := ran - expected:
        _ran_besides(currents, terminal, extra, in_a_row, costs, into)


def _silent(
    currents: Currents, terminal: int, silent: Set[str], costs: Costs, into: Weighed
) -> None:
    """Stations on a wire that did not run, while another on it did."""
    dead = currents.faults.dead
    for no in currents.on[terminal]:
        if currents.tangle.stations[no].name in silent and no not in dead:
            dead.add(no)
            name = currents.tangle.terminals[terminal].name
            into.add(costs.nothing_ran, Mistake("broken", (name,)))


def _ran_besides(
    currents: Currents,
    terminal: int,
    extra: Set[str],
    in_a_row: bool,
    costs: Costs,
    into: Weighed,
) -> None:
    """Stations of other wires that ran: those wires touch, or the test was noted wrongly."""
    one = currents.tangle.terminals[terminal]
    others = {currents.ways[currents.tangle.number[station]] for station in extra}
    nothing_here = not currents.on[terminal] and not one.beside and NOWHERE in others
    if in_a_row or nothing_here:
        into.add(costs.noted, Mistake("test noted wrong", (one.name,)))
        return
    for other in sorted(others):
        _touch(currents, terminal, other, costs, into)


def _touch(currents: Currents, terminal: int, other: int, costs: Costs, into: Weighed) -> None:
    """Stations of another terminal's wire ran too: the two wires touch."""
    tangle = currents.tangle
    pair = (min(terminal, other), max(terminal, other))
    names = [tangle.terminals[no].name for no in pair if no != NOWHERE]
    if pair not in currents.faults.touching:
        currents.faults.touching.add(pair)
        into.add(costs.touching, Mistake("touching", tuple(sorted(names))))
    if other == NOWHERE:
        return
    # Wires that touch run together, whichever of the two is energised.
    back = tangle.terminals[other].ran
    own = {tangle.stations[no].name for no in currents.on[terminal]} - _dead(currents)
    if back is not None and not own <= back:
        into.add(costs.noted, Mistake("test noted wrong", (tangle.terminals[other].name,)))
    theirs = {tangle.stations[no].name for no in currents.on[other]} - _dead(currents)
    if not theirs <= (tangle.terminals[terminal].ran or frozenset()):
        into.add(costs.noted, Mistake("test noted wrong", (tangle.terminals[terminal].name,)))


def _dead(currents: Currents) -> set[str]:
    return {currents.tangle.stations[no].name for no in currents.faults.dead}


def _read(currents: Currents, terminal: int, costs: Costs, into: Weighed) -> None:
    """Weigh one reading by the number of coils it should show."""
    tangle, faults = currents.tangle, currents.faults
    one = tangle.terminals[terminal]
    assert one.reading is not None
    stations, in_a_row = currents.path(terminal)
    coils = _coils(currents, terminal)
    if in_a_row:
        into.add(costs.reading["series" if stations else "no_coil"][one.reading])
        return
    if one.reading == "open" and coils:
        if terminal not in faults.broken:
            faults.broken.add(terminal)
            into.add(costs.broken, Mistake("broken", (one.name,)))
        return
    # A valve that is not entered yet may share the wire with one that is.
    hidden = not tangle.owners[terminal] or currents.one_hidden_moved
    counts = [coils, coils + 1] if hidden else [coils]
    shown = min(costs.reading[_row(count)][one.reading] for count in counts)
    wrong = shown > costs.reading["one_coil"]["high"] + 0.5 and one.reading != "low"
    into.add(shown, Mistake("reading doubtful", (one.name,)) if wrong else None)


def _coils(currents: Currents, terminal: int) -> int:
    """The coils that a meter should show on a terminal's wire, side by side."""
    stations, _ = currents.path(terminal)
    others = [other for other in currents.faults.partners(terminal) if other != NOWHERE]
    beside = sum(len(currents.on[other]) for other in others)
    return len(stations) + beside + _hides_one(currents, terminal)


def _row(coils: int) -> str:
    return "no_coil" if coils == 0 else "one_coil" if coils == 1 else "two_coils"


def _hides_one(currents: Currents, terminal: int) -> bool:
    """Whether a terminal's own valve is not entered yet, and so is taken to be on its wire."""
    empty = not currents.on[terminal] and not currents.tangle.owners[terminal]
    return empty and not currents.common_displaced


def expected_runs(currents: Currents, terminals: Sequence[int]) -> dict[str, frozenset[str]]:
    """By terminal, what should run if it is energised."""
    return {currents.tangle.terminals[no].name: currents.runs(no) for no in terminals}


def expected_reads(currents: Currents, terminals: Sequence[int]) -> dict[str, Meaning]:
    """By terminal, what a meter should show between the lifted common and its wire."""
    return {
        currents.tangle.terminals[no].name: _expected_read(currents, no)
        for no in terminals
        if not currents.tangle.terminals[no].common
    }


def _expected_read(currents: Currents, terminal: int) -> Meaning:
    stations, in_a_row = currents.path(terminal)
    if in_a_row:
        return "high" if stations else "open"
    if terminal in currents.faults.broken:
        return "open"
    coils = _coils(currents, terminal)
    return "open" if coils == 0 else "sound" if coils == 1 else "two coils"
