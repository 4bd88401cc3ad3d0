"""A tangle: ends that do not fit, and the ends beside them that could be concerned.

The unknown is where each station's wire truly comes out: at which terminal, or at none. A way of
joining them is a `Ways`: by the number of a station, the number of its terminal or `NOWHERE`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
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
    def station_at(self) -> Mapping[str, str]:
        """The station of an end at the box, by the end's name."""
        return {one.end: one.name for one in self.stations if one.end is not None}

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
    near = [end for one in fitting if one[0].cable in cables for end in one]
    ends = [*sorted(group), *sorted(near)]
    beside = {end.name for end in near}
    commons = commons_of(evidence)
    terminals = [_terminal(end, beside, evidence) for end in ends if end.name not in at_box]
    terminals += _hidden_commons(group, commons, terminals)
    box = [end for end in ends if end.name in at_box]
    rows = {name: no for no, name in enumerate(evidence.rows)}
    entered = {end.station for end in evidence.controller} | commons
    more = not entered.issuperset([*evidence.rows, *(end.station for end in evidence.box)])
    stations = (*_entered(box, terminals, beside, commons), *_only_ran(box, terminals))
    stations += _commons_not_entered({one.name for one in stations}, terminals)
    return Tangle(tuple(sorted(group)), stations, tuple(terminals), rows, more)


def commons_of(evidence: Evidence) -> frozenset[str]:
    """The stations that are commons."""
    under = {end.station for end in evidence.controller if end.name in evidence.never_live}
    return evidence.commons | under


def _terminal(end: End, beside: set[str], evidence: Evidence) -> Terminal:
    return Terminal(
        end.name,
        end.station,
        end.cable,
        (end.cable, end.colour),
        evidence.ran.get(end.name),
        evidence.readings.get(end.name),
        end.name in evidence.never_live,
        end.name in beside,
    )


def _hidden_commons(
    group: Sequence[End], commons: frozenset[str], terminals: Sequence[Terminal]
) -> list[Terminal]:
    """The common terminals that are not entered, of cables whose common the group puts in doubt."""
    meant = {one.meant for one in terminals}
    lost = [end for end in sorted(group) if end.station in commons and end.station not in meant]
    return [
        Terminal(f"?{end.station}", end.station, end.cable, None, None, None, True, False)
        for end in {end.station: end for end in lost}.values()
    ]


def _homes(name: str, terminals: Sequence[Terminal]) -> tuple[int, ...]:
    return tuple(no for no, one in enumerate(terminals) if one.meant == name)


def _entered(
    box: Sequence[End], terminals: Sequence[Terminal], beside: set[str], commons: frozenset[str]
) -> Iterator[Station]:
    """The stations with an end at the box."""
    for end in box:
        homes = _homes(end.station, terminals)
        own = homes[0] if end.name in beside and homes else None
        common = end.station in commons
        yield Station(end.station, end.name, (end.cable, end.colour), homes, common, own)


def _only_ran(box: Sequence[End], terminals: Sequence[Terminal]) -> Iterator[Station]:
    """The stations that ran and have no end at the box."""
    entered = {end.station for end in box}
    for name in sorted({name for one in terminals for name in one.ran or ()} - entered):
        at = next(no for no, one in enumerate(terminals) if name in (one.ran or ()))
        own = at if terminals[at].beside else None
        yield Station(name, None, None, _homes(name, terminals), False, own)


def _commons_not_entered(entered: set[str], terminals: Sequence[Terminal]) -> tuple[Station, ...]:
    """The commons in doubt whose end at the box is not entered."""
    return tuple(
        Station(one.meant, None, None, (no,), True)
        for no, one in enumerate(terminals)
        if one.common and not one.beside and one.meant not in entered
    )
