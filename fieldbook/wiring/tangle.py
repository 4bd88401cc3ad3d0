"""A tangle: ends that do not fit, and the ends beside them that could be concerned.

The unknown is where each station's wire truly comes out: at which terminal, or at none. A way of
joining them is a `Ways`: by the number of a station, the number of its terminal or `NOWHERE`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from fieldbook.wiring.colour_join import End
from fieldbook.wiring.evidence import Conductor, Evidence
from fieldbook.wiring.readings import Meaning

NOWHERE = -1
Ways = tuple[int, ...]


@dataclass(frozen=True)
class Station:
    """A station, the name and conductor of its end at the box (None while not entered).

    homes: the numbers of the terminals meant for it. beside: the terminal of a station whose ends
    fit. It is here because another wire may have been joined to its own, or have pushed it away.
    """

    name: str
    end: str | None
    seen: Conductor | None
    homes: tuple[int, ...]
    common: bool = False
    beside: int | None = None


@dataclass(frozen=True)
class Terminal:
    """A terminal: its name, what it is meant for, the conductor entered under it, what was tested.

    beside: its own ends fit; it is here only because another wire may come out at it.
    """

    name: str
    meant: str
    cable: str
    seen: Conductor | None
    ran: frozenset[str] | None
    reading: Meaning | None
    common: bool
    beside: bool


@dataclass(frozen=True)
class Tangle:
    """The stations and terminals of a tangle. `ends` are the ends that do not fit.

    rows: by station, its place in the order in which the rows lie; empty where that is not known.
    more: whether there are terminals that are not entered.
    """

    ends: tuple[End, ...]
    stations: tuple[Station, ...]
    terminals: tuple[Terminal, ...]
    rows: Mapping[str, int]
    more: bool

    @cached_property
    def movable(self) -> tuple[int, ...]:
        """The stations whose terminal is to be found."""
        return tuple(no for no, one in enumerate(self.stations) if one.beside is None)

    @cached_property
    def number(self) -> Mapping[str, int]:
        """The number of a station, by its name."""
        return {one.name: no for no, one in enumerate(self.stations)}

    @cached_property
    def owners(self) -> tuple[tuple[int, ...], ...]:
        """By terminal, the numbers of the stations it is meant for."""
        found: list[list[int]] = [[] for _ in self.terminals]
        for no, one in enumerate(self.stations):
            for home in one.homes:
                found[home].append(no)
        return tuple(map(tuple, found))

    @cached_property
    def commons(self) -> tuple[tuple[int, str, tuple[int, ...]], ...]:
        """Movable commons whose terminal is entered: station, cable, and its terminals."""
        return tuple(
            (no, self.terminals[one.homes[0]].cable, one.homes)
            for no, one in enumerate(self.stations)
            if one.common and one.beside is None and one.homes
        )

    def apart(self, names: Iterable[str]) -> bool:
        """Whether rows lie further apart than neighbours do: then a slip is less likely."""
        places = [self.rows[name] for name in names if name in self.rows]
        return bool(places) and max(places) - min(places) >= max(2, len(places))

    def on(self, ways: Sequence[int]) -> list[list[int]]:
        """By terminal, the stations that come out at it."""
        found: list[list[int]] = [[] for _ in self.terminals]
        for station, terminal in enumerate(ways):
            if terminal != NOWHERE:
                found[terminal].append(station)
        return found

    def leads(self, terminal: int, stations: Iterable[int]) -> frozenset[str]:
        """Stations by name; one never entered at the box only where it was seen to run."""
        ran = self.terminals[terminal].ran or ()
        return frozenset(
            one.name
            for one in (self.stations[no] for no in stations)
            if one.end is not None or one.name in ran
        )


def tangle_of(group: Sequence[End], fitting: Sequence[Sequence[End]], evidence: Evidence) -> Tangle:
    """The tangle of a group that does not fit, beside the fitting groups of its cables."""
    at_box = {end.name for end in evidence.box}
    cables = {end.cable for end in group}
    near = [one for one in fitting if one[0].cable in cables]
    beside = {end.name for one in near for end in one}
    ends = [*sorted(group), *sorted(end for one in near for end in one)]
    terminals = [
        Terminal(
            end.name,
            end.station,
            end.cable,
            (end.cable, end.colour),
            evidence.ran.get(end.name),
            evidence.readings.get(end.name),
            end.name in evidence.never_live,
            end.name in beside,
        )
        for end in ends
        if end.name not in at_box
    ]
    box = [end for end in ends if end.name in at_box]
    commons = commons_of(evidence)
    hidden = _hidden_commons(group, [*box, *group], commons, terminals)
    terminals += [one for one in hidden if isinstance(one, Terminal)]
    stations = _stations(box, terminals, beside, commons)
    own = {name: no for no, name in enumerate(evidence.rows)}
    entered = {end.station for end in evidence.controller} | commons
    more = not entered.issuperset([*evidence.rows, *(end.station for end in evidence.box)])
    return Tangle(tuple(sorted(group)), tuple(stations), tuple(terminals), own, more)


def commons_of(evidence: Evidence) -> frozenset[str]:
    """The stations that are commons."""
    under = {end.station for end in evidence.controller if end.name in evidence.never_live}
    return evidence.commons | under


def _hidden_commons(
    group: Sequence[End], ends: Sequence[End], commons: frozenset[str], terminals: list[Terminal]
) -> list[Terminal]:
    """The common terminals that are not entered, of cables whose common the group puts in doubt."""
    return [
        Terminal(f"?{end.station}", end.station, end.cable, None, None, None, True, False)
        for end in dict.fromkeys(ends)
        if end in group
        and end.station in commons
        and not any(one.meant == end.station for one in terminals)
    ]


def _stations(
    box: Sequence[End], terminals: Sequence[Terminal], beside: set[str], commons: frozenset[str]
) -> list[Station]:
    """The stations with an end at the box, then those that only ran, then commons not entered."""
    homes: dict[str, list[int]] = {}
    for no, terminal in enumerate(terminals):
        homes.setdefault(terminal.meant, []).append(no)
    found = []
    for end in box:
        own = tuple(homes.get(end.station, ()))
        fixed = own[0] if end.name in beside and own else None
        common = end.station in commons
        found.append(Station(end.station, end.name, (end.cable, end.colour), own, common, fixed))
    entered = {one.name for one in found}
    ran = sorted({station for one in terminals for station in one.ran or ()} - entered)
    for name in ran:
        own = tuple(homes.get(name, ()))
        where = next((no for no, one in enumerate(terminals) if name in (one.ran or ())), None)
        fixed = where if where is not None and terminals[where].beside else None
        found.append(Station(name, None, None, own, False, fixed))
    for no, one in enumerate(terminals):
        if one.common and not one.beside and one.meant not in entered:
            found.append(Station(one.meant, None, None, (no,), True))
    return found
